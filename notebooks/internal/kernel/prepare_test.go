package kernel

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Two programs may want the kernel at the same time when none is built yet.
func TestTwoFirstStartsAtOnce(t *testing.T) {
	ownTemp(t)
	// A new home has no kernel, but the go command shall keep its own caches.
	for _, name := range []string{"GOCACHE", "GOMODCACHE", "GOPATH", "GOENV"} {
		value, err := exec.Command("go", "env", name).Output()
		if err != nil {
			t.Fatal(err)
		}
		t.Setenv(name, strings.TrimSpace(string(value)))
	}
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(home, "cache"))

	const starts = 2
	builds, errs := make(chan int, starts), make(chan error, starts)
	for range starts {
		go func() {
			n := 0
			k, err := start(context.Background(), absolute(t, root), nil, func(what string) {
				if strings.HasPrefix(what, "building the Go kernel") {
					n++
				}
			})
			if err == nil {
				err = k.close()
			}
			builds <- n
			errs <- err
		}()
	}
	built := 0
	for range starts {
		if err := <-errs; err != nil {
			t.Error(err)
		}
		built += <-builds
	}
	if built == 0 {
		t.Error("nothing was built, so this test shows nothing")
	}
	var kernels []string
	for _, pattern := range []string{"cache/landfall/kernels/*", "Library/Caches/landfall/kernels/*"} {
		found, err := filepath.Glob(filepath.Join(home, pattern))
		if err != nil {
			t.Fatal(err)
		}
		kernels = append(kernels, found...)
	}
	if len(kernels) != 1 {
		t.Errorf("the cache holds %q, want one kernel and no remains of a build", kernels)
	}
}

// What the kernel's own script says is all a user has to go by.
func TestStartErrorIsReadable(t *testing.T) {
	ownTemp(t)
	t.Setenv("PATH", t.TempDir())
	t.Setenv("GOROOT", "")
	for _, tool := range []string{"dirname", "uname", "ps", "rm"} {
		path, err := exec.LookPath("/bin/" + tool)
		if err != nil {
			path = "/usr/bin/" + tool
		}
		if err := os.Symlink(path, filepath.Join(os.Getenv("PATH"), tool)); err != nil {
			t.Fatal(err)
		}
	}
	_, err := start(context.Background(), absolute(t, root), nil, func(string) {})
	if err == nil || !strings.Contains(err.Error(), "there is no go command on the PATH") {
		t.Errorf("error %v", err)
	}
}

// The user may stop the run while the kernel is still being prepared.
func TestCancelWhileStarting(t *testing.T) {
	ownTemp(t)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	within(t, 5*time.Second, func() {
		_, err := start(ctx, absolute(t, root), []string{"net/http"}, func(string) { cancel() })
		if !errors.Is(err, context.Canceled) {
			t.Errorf("error %v, want context.Canceled", err)
		}
	})
}

// Settings of the user's that would break the kernel's workspace don't reach it.
func TestForeignGoSettings(t *testing.T) {
	ownTemp(t)
	for name, value := range map[string]string{"CGO_ENABLED": "0", "GOWORK": "off", "GOFLAGS": "-mod=vendor", "GOTMPDIR": "/nowhere"} {
		t.Setenv(name, value)
	}
	nb := notebook("import \"gonum.org/v1/gonum/stat\"\n%%\nfmt.Println(stat.Mean([]float64{1, 2}, nil))")
	if err := Run(context.Background(), nb, Options{Root: root}); err != nil {
		t.Fatal(err)
	}
	if got := nb.Cells[1].Outputs; len(got) != 1 || got[0].Text != "1.5\n" {
		t.Errorf("outputs %+v, want 1.5", got)
	}
}

func absolute(t *testing.T, path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return abs
}

package kernel

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// markEnv names a file that a cell makes when it runs.
const markEnv = "LANDFALL_TEST_MARK"

const (
	loop     = "%%\nos.WriteFile(os.Getenv(\"LANDFALL_TEST_MARK\"), nil, 0o600)\nfmt.Println(\"looping\")\nfor {\n}"
	stubborn = "%%\nsignal.Ignore(os.Interrupt)\nos.WriteFile(os.Getenv(\"LANDFALL_TEST_MARK\"), nil, 0o600)\ntime.Sleep(time.Hour)"
)

func TestTimeout(t *testing.T) {
	ownTemp(t)
	nb := notebook(loop)
	within(t, 20*time.Second, func() {
		err := Run(context.Background(), nb, Options{Root: root, CellTimeout: 2 * time.Second})
		if want := `cell 2 (under "How far?"): the cell took too long: it was stopped after 2s`; err == nil || err.Error() != want {
			t.Errorf("error %v, want %s", err, want)
		}
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("error %v does not wrap context.DeadlineExceeded", err)
		}
	})
	if got := nb.Cells[1].Outputs; len(got) == 0 || got[0].Text != "looping\n" {
		t.Errorf("outputs %+v, want what was printed in time", got)
	}
}

// The cell's program does not react to the interrupt, so it has to be killed.
func TestCancel(t *testing.T) {
	ownTemp(t)
	mark := markFile(t)
	ctx, cancel := context.WithCancelCause(context.Background())
	closed := errors.New("the shop is closed")
	var canceled time.Time
	go func() {
		waitFor(t, mark)
		canceled = time.Now()
		cancel(closed)
	}()
	err := Run(ctx, notebook(stubborn), Options{Root: root})
	if took := time.Since(canceled); took > 4*time.Second { // the kernel itself takes 5
		t.Errorf("stopping took %v", took)
	}
	if !errors.Is(err, closed) || !strings.Contains(err.Error(), "the notebook was stopped") {
		t.Errorf("error %v, want one that wraps the cause", err)
	}
	within(t, time.Second, func() {
		if err := Run(ctx, notebook("%%\n"), Options{Root: root}); !errors.Is(err, closed) {
			t.Errorf("stopped before the start: error %v", err)
		}
	})
}

// Whether the program that runs a notebook is asked to end or is killed, the
// kernel and its files go too; ownTemp looks.
func TestEndOfTheRunner(t *testing.T) {
	for _, c := range []struct {
		signal  syscall.Signal
		message string
	}{
		{syscall.SIGTERM, "the notebook was stopped: terminated signal received"},
		{syscall.SIGKILL, ""},
	} {
		t.Run(c.signal.String(), func(t *testing.T) {
			ownTemp(t)
			mark := markFile(t)
			runner := exec.Command(os.Args[0])
			runner.Env = append(os.Environ(), runnerEnv+"="+stubborn)
			var stderr bytes.Buffer
			runner.Stderr = &stderr
			if err := runner.Start(); err != nil {
				t.Fatal(err)
			}
			waitFor(t, mark)
			if len(leftIn(t, os.Getenv("TMPDIR"))) < 4 { // directory, kernel, cell, watchdog
				t.Error("the kernel can't be seen while it runs, so its end can't either")
			}
			within(t, 5*time.Second, func() {
				if err := runner.Process.Signal(c.signal); err != nil {
					t.Fatal(err)
				}
				if err := runner.Wait(); err == nil {
					t.Error("the runner reports success")
				}
			})
			if got := strings.TrimSpace(stderr.String()); got != c.message {
				t.Errorf("the runner said %q, want %q", got, c.message)
			}
		})
	}
}

func markFile(t *testing.T) string {
	mark := filepath.Join(t.TempDir(), "mark")
	t.Setenv(markEnv, mark)
	return mark
}

func waitFor(t *testing.T, file string) {
	for range 3000 { // 5 minutes, for the kernel may have to be built first
		if _, err := os.Stat(file); err == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Errorf("the cell did not make %s", file)
}

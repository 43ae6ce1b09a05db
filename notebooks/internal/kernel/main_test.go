package kernel

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

const root = "../../.."

// runnerEnv makes the test binary execute the one cell that it holds, as a
// program does that uses this package.
const runnerEnv = "LANDFALL_TEST_CELL"

func TestMain(m *testing.M) {
	if source, ok := os.LookupEnv(runnerEnv); ok {
		ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM)
		defer stop()
		if err := Run(ctx, notebook(source), Options{Root: root}); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// ownTemp gives the test a temporary directory, and makes sure at its end that
// neither a file in it nor a process that uses it is left. Every process of a
// kernel has a path in that directory on its command line.
func ownTemp(t *testing.T) {
	t.Helper()
	dir, err := os.MkdirTemp("", "lf") // t.TempDir is too long for a socket
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", dir)
	t.Cleanup(func() {
		var left []string
		for range 100 { // 5 s: after SIGKILL the watchdog needs a moment
			if left = leftIn(t, dir); left == nil {
				break
			}
			time.Sleep(50 * time.Millisecond)
		}
		if left != nil {
			t.Errorf("left behind:\n%s", strings.Join(left, "\n"))
		}
		os.RemoveAll(dir)
	})
}

func leftIn(t *testing.T, dir string) (left []string) {
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		left = append(left, "file "+f.Name())
	}
	processes, err := exec.Command("ps", "-A", "-ww", "-o", "stat=", "-o", "args=").Output()
	if err != nil {
		t.Fatalf("ps is needed to see what is left: %v", err)
	}
	for line := range bytes.Lines(processes) {
		// A zombie is dead; whoever adopted it has not noticed yet.
		if line := strings.TrimSpace(string(line)); strings.Contains(line, dir) && !strings.HasPrefix(line, "Z") {
			left = append(left, "process "+line)
		}
	}
	return left
}

// notebook returns a notebook of code cells below one heading.
func notebook(sources ...string) *nbformat.Notebook {
	nb := &nbformat.Notebook{Minor: 5, Metadata: map[string]any{}, Cells: []nbformat.Cell{
		{Type: nbformat.Markdown, ID: "text", Source: "# How far?\n\nWords."},
	}}
	for i, source := range sources {
		nb.Cells = append(nb.Cells, nbformat.Cell{Type: nbformat.Code, ID: fmt.Sprint("code-", i), Source: source,
			Metadata: map[string]any{}})
	}
	return nb
}

// within fails the test if f takes longer than the limit.
func within(t *testing.T, limit time.Duration, f func()) {
	t.Helper()
	begin := time.Now()
	f()
	if took := time.Since(begin); took > limit {
		t.Errorf("it took %v, more than %v", took, limit)
	}
}

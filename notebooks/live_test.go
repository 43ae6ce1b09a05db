//go:build unix

package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	lessons "github.com/landfall-golf/landfall/notebooks/course"
	"github.com/landfall-golf/landfall/notebooks/internal/kernel"
	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// notebookServer starts Debian's Jupyter on the loopback, with notebooks to open,
// and returns its address and the word that lets a browser in. It and all it started are gone when the test ends.
func notebookServer(t *testing.T, notebooks ...string) (address, token string) {
	t.Helper()
	if out, err := exec.Command("jupyter", "notebook", "--version").CombinedOutput(); err != nil {
		if os.Getenv("LANDFALL_REQUIRE_JUPYTER") != "" {
			t.Fatalf("LANDFALL_REQUIRE_JUPYTER is set, but jupyter notebook can't be run: %v\n%s", err, out)
		}
		t.Skipf("the notebooks are not tried live: jupyter notebook can't be run (%v); in Debian it is the package jupyter-notebook", err)
	}
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	// The server waits a minute for a kernel, and building it may take longer.
	first := &nbformat.Notebook{Minor: 5, Cells: []nbformat.Cell{{Type: nbformat.Code, ID: "first", Source: "%%\nprintln()"}}}
	if err := kernel.Run(t.Context(), first, kernel.Options{Root: root}); err != nil {
		t.Fatal(err)
	}
	home, folder := t.TempDir(), t.TempDir()
	for _, name := range notebooks {
		content, err := os.ReadFile(filepath.Join(root, "notebooks", name))
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name), content, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	port := free.Addr().(*net.TCPAddr).Port
	if err := free.Close(); err != nil {
		t.Fatal(err)
	}
	token = rand.Text()
	server := exec.Command("jupyter", "notebook", "--no-browser", "--ip=127.0.0.1", fmt.Sprintf("--port=%d", port), "--port-retries=0", "--allow-root",
		"--NotebookApp.token="+token, "--notebook-dir="+folder)
	server.Env = append(os.Environ(), "JUPYTER_PATH="+filepath.Join(root, "notebooks"),
		"JUPYTER_CONFIG_DIR="+home, "JUPYTER_DATA_DIR="+home, "JUPYTER_RUNTIME_DIR="+home)
	server.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	log, err := os.Create(filepath.Join(home, "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	server.Stdout, server.Stderr = log, log
	if err := server.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		// Asked to, it shuts its kernels down; they have groups of their own.
		_ = server.Process.Signal(syscall.SIGTERM)
		ended := make(chan error, 1)
		go func() { ended <- server.Wait() }()
		select {
		case <-ended:
		case <-time.After(20 * time.Second):
			_ = syscall.Kill(-server.Process.Pid, syscall.SIGKILL)
			t.Error("the notebook server did not end when asked to")
		}
	})
	deadline := time.Now().Add(browserLimit)
	for time.Now().Before(deadline) {
		if answer, err := http.Get(fmt.Sprintf("http://127.0.0.1:%d/api", port)); err == nil {
			_ = answer.Body.Close()
			return fmt.Sprintf("http://127.0.0.1:%d/", port), token
		}
		time.Sleep(100 * time.Millisecond)
	}
	said, _ := os.ReadFile(filepath.Join(home, "log"))
	t.Fatalf("the notebook server did not start:\n%s", said)
	return "", ""
}

// until waits for an expression of the page to be true.
func until(t *testing.T, ctx context.Context, limit time.Duration, expression, what string) {
	t.Helper()
	ctx, stop := context.WithTimeout(ctx, limit)
	defer stop()
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool]("Boolean("+expression+")", chromedp.WithPollingInterval(100*time.Millisecond), chromedp.WithPollingTimeout(0))); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
}

// trouble lists the cells that failed or show nothing though they should, the
// pictures that are no pictures, and formulas that are not typeset.
const trouble = `(() => {
  const found = [];
  Jupyter.notebook.get_cells().forEach((cell, i) => {
    const shown = cell.element[0];
    if (cell.cell_type === 'code') {
      for (const o of cell.output_area.outputs)
        if (o.output_type === 'error' || o.output_type === 'stream') found.push('cell ' + i + ': ' + JSON.stringify(o).slice(0, 300));
      if (cell.get_text().includes('%%') && cell.output_area.outputs.length === 0) found.push('cell ' + i + ' shows nothing');
    } else if (/\$/.test(shown.querySelector('.rendered_html').innerText.replace(/\\\$/g, ''))) {
      found.push('cell ' + i + ': a formula as it was typed');
    }
  });
  for (const img of document.querySelectorAll('.output img'))
    if (!img.complete || img.naturalWidth < 100 || !img.alt) found.push('a picture that does not show: ' + img.alt);
  return found;
})()`

// openLive opens a notebook in the browser and runs all of its cells.
func openLive(t *testing.T, tab context.Context, address, name string) {
	t.Helper()
	ask[bool](t, tab, `(window.onbeforeunload = null, true)`) // else it asks whether to leave
	do(t, tab, chromedp.Navigate(address+"notebooks/"+name))
	until(t, tab, browserLimit, `globalThis.Jupyter?.notebook?._fully_loaded && Jupyter.notebook.kernel?.is_connected()`, name+" does not open")
	ask[bool](t, tab, `(Jupyter.notebook.set_autosave_interval(0), Jupyter.notebook.execute_all_cells(), true)`)
}

// The notebooks in Debian's Jupyter, driven by a browser: all cells run, every
// figure and formula shows, and the controls react.
func TestLiveNotebooks(t *testing.T) {
	address, token := notebookServer(t, "review.ipynb", "explore.ipynb")
	tab, seen := browser(t, address+"tree?token="+token)
	do(t, tab, chromedp.EmulateViewport(1100, 900))
	t.Run("review", func(t *testing.T) {
		openLive(t, tab, address, "review.ipynb")
		until(t, tab, 3*time.Minute, `Jupyter.notebook.get_cells().filter(c => c.cell_type === 'code').every(c => c.input_prompt_number > 0)`, "the review does not end")
		if found := ask[[]string](t, tab, trouble); len(found) > 0 {
			t.Errorf("%q", found)
		}
		if n := ask[int](t, tab, `document.querySelectorAll('.output figure img').length`); n != 5 {
			t.Errorf("%d figures, want 5", n)
		}
	})
	t.Run("explore", func(t *testing.T) { exploreLive(t, tab, address) })
	for _, complaint := range seen.all() {
		if url, ok := strings.CutPrefix(complaint, "asked for "); ok && !strings.HasPrefix(url, address) && !strings.HasPrefix(url, "blob:") && url != "about:blank" {
			t.Error(complaint)
		}
	}
}

const says = `[...document.querySelectorAll('.output_subarea figure + p')].map(p => p.textContent).join()`

func exploreLive(t *testing.T, tab context.Context, address string) {
	openLive(t, tab, address, "explore.ipynb")
	draw := lessons.ExploreCentres(30, 5, 60, 2) // as its parameters are
	shows := func(n int, name string) {          // the first time after compiling
		t.Helper()
		picture, want, err := draw(n, name)
		if err != nil {
			t.Fatal(err)
		}
		until(t, tab, 3*time.Minute, fmt.Sprintf(`%s === %q`, says, want), fmt.Sprintf("%d balls, %s", n, name))
		if alt := ask[string](t, tab, `document.querySelector('.output_subarea figure img').alt`); alt != picture.Alt() {
			t.Errorf("%d balls, %s: the picture says %q, want %q", n, name, alt, picture.Alt())
		}
	}
	shows(12, "mean")
	if n := ask[int](t, tab, `document.querySelectorAll('.rendered_html .MathJax').length`); n < 4 {
		t.Errorf("%d formulas are typeset", n)
	}
	if found := ask[[]string](t, tab, trouble); len(found) > 0 {
		t.Errorf("%q", found)
	}
	// With the mouse, as far as a script can tell.
	ask[bool](t, tab, `(() => { const s = document.querySelector('.output_subarea input[type=range]'); s.value = 24; s.dispatchEvent(new Event('input')); return true; })()`)
	shows(24, "mean")
	// With the keyboard.
	ask[bool](t, tab, `(document.querySelector('.output_subarea input[type=range]').focus(), true)`)
	do(t, tab, chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft))
	shows(22, "mean")
	ask[bool](t, tab, `(document.querySelector('.output_subarea select').focus(), true)`)
	do(t, tab, chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.ArrowDown))
	shows(22, "geometric median")
	if number := ask[string](t, tab, `document.querySelector('.output_subarea output').textContent`); number != "22" {
		t.Errorf("the number beside the slider is %s", number)
	}
	// Many moves at once: the last one counts.
	ask[bool](t, tab, `(() => { const s = document.querySelector('.output_subarea input[type=range]'); for (let n = 4; n <= 30; n++) { s.value = n; s.dispatchEvent(new Event('input')); } return true; })()`)
	shows(30, "geometric median")
	// Stopped, it says so, and the kernel is free for other cells.
	ask[bool](t, tab, `(Jupyter.notebook.kernel.interrupt(), true)`)
	until(t, tab, browserLimit, `document.querySelector('.output_subarea input[type=range]') === null && document.body.innerText.includes('run this cell to move the slider again')`, "it does not stop")
	shows(30, "geometric median")
	if found := ask[[]string](t, tab, trouble); len(found) > 0 {
		t.Errorf("stopped: %q", found)
	}
	openAgain := `(Jupyter.notebook.execute_all_cells(), true)`
	ask[bool](t, tab, openAgain)
	shows(12, "mean")
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/notebooks/internal/wall"
	"github.com/landfall-golf/landfall/notebooks/review"
)

// A browserLog collects what a page must not do: complain, or ask for anything
// but itself.
type browserLog struct {
	mu         sync.Mutex
	complaints []string
}

func (l *browserLog) add(format string, args ...any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.complaints = append(l.complaints, fmt.Sprintf(format, args...))
}

func (l *browserLog) all() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.complaints)
}

// browser starts a browser without a window and watches what its page does. It
// skips the test where there is none, which CI forbids.
func browser(t *testing.T, address string) (context.Context, *browserLog) {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		if os.Getenv("LANDFALL_REQUIRE_BROWSER") != "" {
			t.Fatal("there is no Chromium on the PATH")
		}
		t.Skip("there is no Chromium on the PATH: the pages are not looked at in a browser")
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.WSURLReadTimeout(time.Minute))
	ctx, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	folder := address[:strings.LastIndexByte(address, '/')+1]
	seen := &browserLog{}
	err := chromedp.Listen(ctx, func(event any) {
		switch e := event.(type) {
		case *runtime.EventExceptionThrown:
			seen.add("exception: %s", e.ExceptionDetails.Text)
		case *runtime.EventConsoleAPICalled:
			seen.add("console: %s", e.Type)
		case *log.EventEntryAdded:
			seen.add("%s: %s", e.Entry.Level, e.Entry.Text)
		case *network.EventRequestWillBeSent:
			if url := e.Request.URL; !strings.HasPrefix(url, folder) && !strings.HasPrefix(url, "data:") {
				seen.add("asked for %s", url)
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, enable := range []cdp.Command[cdp.Empty, cdp.Empty]{log.Enable, runtime.Enable} {
		if _, err := chromedp.Call(ctx, enable, cdp.Empty{}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	do(t, ctx, chromedp.Navigate(address))
	return ctx, seen
}

const browserLimit = time.Minute // for one action

func do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	ctx, stop := context.WithTimeout(ctx, browserLimit)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// ask returns the value of an expression of the page.
func ask[T any](t *testing.T, ctx context.Context, expression string, options ...chromedp.EvaluateOption) T {
	t.Helper()
	ctx, stop := context.WithTimeout(ctx, browserLimit)
	defer stop()
	answer, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, options...))
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

// reviewPage writes the demo review and returns its address.
func reviewPage(t *testing.T) string {
	t.Helper()
	out := t.TempDir()
	if code, _, stderr := command(t, "-o", out); code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	return "file://" + filepath.Join(out, "review.html")
}

// tooWide lists what sticks out of the page to the right; what scrolls in a box
// of its own does not.
const tooWide = `(() => {
  const wide = [];
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('.scroll') && !e.matches('.scroll') || e.closest('pre') || e.matches('.spoken, .skip')) continue;
    const r = e.getBoundingClientRect();
    if (r.width > 0 && (r.right > innerWidth + 1 || r.left < -1)) wide.push(e.tagName + '.' + e.className + ' to ' + r.right);
  }
  if (document.scrollingElement.scrollWidth > innerWidth + 1) wide.push('the page scrolls sideways to ' + document.scrollingElement.scrollWidth);
  return wide;
})()`

// overlaps lists pieces of text in the page's figures that lie on each other,
// and blocks of the page that do.
const overlaps = `(() => {
  const found = [];
  const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2;
  for (const img of document.querySelectorAll('img')) {
    const box = document.createElement('div');
    box.innerHTML = new TextDecoder().decode(Uint8Array.from(atob(img.src.split(',')[1]), c => c.charCodeAt(0)));
    document.body.append(box);
    const texts = [...box.querySelectorAll('text')].map(e => [e.textContent, e.getBoundingClientRect()]);
    if (texts.length < 3) found.push('a figure with ' + texts.length + ' pieces of text');
    for (let i = 0; i < texts.length; i++) for (let j = 0; j < i; j++)
      if (meet(texts[i][1], texts[j][1])) found.push(texts[j][0] + ' on ' + texts[i][0]);
    box.remove();
  }
  const blocks = [...document.querySelectorAll('h1, h2, p, li, figure, summary, .scroll')].filter(e => e.checkVisibility() && !e.querySelector('p, li, figure'));
  const rects = blocks.map(e => e.getBoundingClientRect());
  for (let i = 0; i < rects.length; i++) for (let j = 0; j < i; j++)
    if (!blocks[i].contains(blocks[j]) && !blocks[j].contains(blocks[i]) && meet(rects[i], rects[j]))
      found.push(blocks[j].textContent.slice(0, 40) + ' on ' + blocks[i].textContent.slice(0, 40));
  return found;
})()`

const (
	unfold = `document.querySelectorAll('details').forEach(d => d.open = true), true`
	fold   = `document.querySelectorAll('details').forEach(d => d.open = false), true`
)

// The page of the demo lesson as a browser shows it.
//
// Source: axe-core 4, its rules for WCAG 2.2 and good practice.
func TestReviewInABrowser(t *testing.T) {
	address := reviewPage(t)
	t.Run("screens", func(t *testing.T) { onScreens(t, address) })
	t.Run("paper", func(t *testing.T) { onPaper(t, address) })
	t.Run("access", func(t *testing.T) { accessible(t, address) })
}

// The pages of the course: nothing sticks out on a phone, and axe-core finds
// nothing.
//
// Source: axe-core 4, its rules for WCAG 2.2 and good practice.
func TestSiteInABrowser(t *testing.T) {
	out := t.TempDir()
	if code, _, stderr := command(t, "site", "-o", out); code != exitDone {
		t.Fatal(stderr)
	}
	files, err1 := filepath.Glob(filepath.Join(out, "*.html"))
	solutions, err2 := filepath.Glob(filepath.Join(out, "solutions", "*.html"))
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	files = append(files, solutions...)
	if len(files) < 31 {
		t.Errorf("%d pages, want the list, fifteen notebooks and as many solutions", len(files))
	}
	rules := axeRules(t)
	tab, seen := browser(t, "file://"+filepath.Join(out, "index.html"))
	do(t, tab, chromedp.EmulateViewport(360, 740))
	for _, file := range files {
		do(t, tab, chromedp.Navigate("file://"+file))
		ask[bool](t, tab, unfold)
		if wide := ask[[]string](t, tab, tooWide); len(wide) > 0 {
			t.Errorf("%s: %q", filepath.Base(file), wide)
		}
		if violations := violations(t, tab, rules); len(violations) > 0 {
			t.Errorf("%s: %q", filepath.Base(file), violations)
		}
	}
	if complaints := seen.all(); len(complaints) > 0 {
		t.Errorf("%q", complaints)
	}
}

// axeRules returns axe.min.js; "" where it is not asked for.
func axeRules(t *testing.T) string {
	t.Helper()
	axe := os.Getenv("LANDFALL_AXE")
	if axe == "" {
		if os.Getenv("LANDFALL_REQUIRE_BROWSER") != "" {
			t.Fatal("LANDFALL_AXE does not say where axe.min.js is")
		}
		t.Log("LANDFALL_AXE does not say where axe.min.js is: its rules are not checked")
		return ""
	}
	rules, err := os.ReadFile(axe)
	if err != nil {
		t.Fatal(err)
	}
	return string(rules)
}

// violations lists what axe-core finds on the page; nothing without its rules.
func violations(t *testing.T, ctx context.Context, rules string) []string {
	t.Helper()
	if rules == "" {
		return nil
	}
	ask[bool](t, ctx, rules+"; true")
	return ask[[]string](t, ctx,
		`axe.run().then(r => r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html.slice(0, 80)).join(' | ')))`, chromedp.EvalAwaitPromise)
}

// On a phone and on a desk the front fits on one screen, nothing sticks out,
// nothing lies on anything, and the page asks for nothing.
func onScreens(t *testing.T, address string) {
	for _, screen := range []struct{ width, height int64 }{{360, 740}, {1280, 800}} {
		ctx, seen := browser(t, address)
		do(t, ctx, chromedp.EmulateViewport(screen.width, screen.height))
		front := ask[float64](t, ctx, `document.querySelector('.front').getBoundingClientRect().bottom`)
		hidden := ask[bool](t, ctx, `!document.querySelector('main h2').checkVisibility()`)
		folded := ask[[]string](t, ctx, tooWide)
		ask[bool](t, ctx, unfold)
		unfolded, on := ask[[]string](t, ctx, tooWide), ask[[]string](t, ctx, overlaps)
		if front <= 100 || front > float64(screen.height) {
			t.Errorf("%d wide: the front ends at %g of %d", screen.width, front, screen.height)
		}
		if !hidden {
			t.Errorf("%d wide: the rest is not folded", screen.width)
		}
		if len(folded)+len(unfolded) > 0 {
			t.Errorf("%d wide, too wide: %q, unfolded: %q", screen.width, folded, unfolded)
		}
		if len(on) > 0 {
			t.Errorf("%d wide, on each other: %q", screen.width, on)
		}
		if complaints := seen.all(); len(complaints) > 0 {
			t.Errorf("%d wide: %q", screen.width, complaints)
		}
	}
}

var a4, letter = chromedp.PaperSize{Width: 8.27, Height: 11.69}, chromedp.PaperSize{Width: 8.5, Height: 11} // inches

// sheets returns how many sheets of paper the page takes.
func sheets(t *testing.T, ctx context.Context, paper chromedp.PaperSize) int {
	t.Helper()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
	if err != nil {
		t.Fatal(err)
	}
	return len(regexp.MustCompile(`/Type\s*/Page\b[^s]`).FindAll(pdf, -1))
}

// On paper the front alone is one sheet, A4 or Letter; unfolded, the rest follows.
func onPaper(t *testing.T, address string) {
	ctx, _ := browser(t, address)
	onA4, onLetter := sheets(t, ctx, a4), sheets(t, ctx, letter)
	ask[bool](t, ctx, unfold)
	if all := sheets(t, ctx, a4); onA4 != 1 || onLetter != 1 || all < 3 {
		t.Errorf("the front on %d sheets A4, %d Letter; unfolded on %d", onA4, onLetter, all)
	}
}

// Nobody is shut out: axe-core finds no violation, in light and dark, folded and
// unfolded, and the keyboard alone reaches whatever can be used.
func accessible(t *testing.T, address string) {
	rules := axeRules(t)
	ctx, _ := browser(t, address)
	for _, scheme := range []string{"light", "dark"} {
		dress := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}
		if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, dress); err != nil {
			t.Fatal(err)
		}
		for _, state := range []string{fold, unfold} {
			ask[bool](t, ctx, state)
			if violations := violations(t, ctx, rules); len(violations) > 0 {
				t.Errorf("%s: %q", scheme, violations)
			}
		}
	}
	const usable = `a[href], summary, [tabindex="0"]`
	wanted := ask[int](t, ctx, `(() => {
	  window.reached = new Set();
	  document.addEventListener('focusin', e => window.reached.add(e.target));
	  document.activeElement.blur();
	  return [...document.querySelectorAll('`+usable+`')].filter(e => e.checkVisibility()).length;
	})()`)
	for range wanted + 2 {
		do(t, ctx, chromedp.KeyEvent(kb.Tab))
	}
	reached := ask[int](t, ctx, `[...window.reached].filter(e => e.matches('`+usable+`')).length`)
	if wanted < 20 || reached != wanted {
		t.Errorf("the keyboard reaches %d of %d", reached, wanted)
	}
}

// The wall shows the file that it follows: all of it on one screen, and each new
// row without anybody's doing.
func TestWallInABrowser(t *testing.T) {
	rows := bytes.SplitAfter(bytes.TrimSpace(datasets.DemoFile()), []byte("\n"))
	file := filepath.Join(t.TempDir(), "lesson.csv")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	write := func(rows [][]byte) {
		if _, err := f.Write(bytes.Join(rows, nil)); err != nil {
			t.Fatal(err)
		}
	}
	ctx, stop := context.WithCancel(t.Context())
	address, ended := make(chan string, 1), make(chan error, 1)
	go func() { ended <- wall.Watch(ctx, review.Source{File: file}, func(a string) { address <- a }) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	tab, seen := browser(t, <-address)
	for _, step := range []struct {
		rows          [][]byte
		balls         int
		width, height int64
		says          string
	}{
		{rows[:5], 4, 1920, 1080, "“as she came”, 4 balls"},
		{rows[5:20], 19, 1280, 720, "“slow takeaway”"},
		{rows[20:40], 39, 1024, 768, "That holds however often you look."},
		{nil, 39, 360, 740, "That holds however often you look."},
	} {
		write(step.rows)
		do(t, tab, chromedp.EmulateViewport(step.width, step.height))
		if _, err := chromedp.Run(tab, chromedp.Poll[bool](fmt.Sprintf(`document.body.dataset.balls === "%d" && document.getElementById('picture').complete`, step.balls))); err != nil {
			t.Fatalf("%d balls: %v", step.balls, err)
		}
		says := ask[string](t, tab, `document.getElementById('says').textContent`)
		if !strings.Contains(says, step.says) {
			t.Errorf("%d balls: %q", step.balls, says)
		}
		wide := ask[[]string](t, tab, tooWide)
		low := ask[float64](t, tab, `Math.max(...[...document.querySelectorAll('main > *')].map(e => e.getBoundingClientRect().bottom))`)
		picture := ask[float64](t, tab, `document.getElementById('picture').getBoundingClientRect().height`)
		if len(wide) > 0 || low > float64(step.height)+1 || picture < float64(step.height)/4 {
			t.Errorf("%d by %d: %q; down to %g, picture %g high", step.width, step.height, wide, low, picture)
		}
	}
	if complaints := seen.all(); len(complaints) > 0 {
		t.Errorf("%q", complaints)
	}
}

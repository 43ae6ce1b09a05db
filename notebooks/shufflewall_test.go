package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"github.com/landfall-golf/landfall/notebooks/review"
)

func shuffleWall(t *testing.T, s review.Source) []byte {
	t.Helper()
	r, err := review.Open(s)
	if err != nil {
		t.Fatal(err)
	}
	page, err := shuffleWallPage(r)
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// The page gives the answer away in its key and nowhere before.
func TestShuffleWallKeepsItsKey(t *testing.T) {
	page := shuffleWall(t, review.Source{})
	above, key, ok := strings.Cut(string(page), `<div class="key">`)
	if !ok || strings.Contains(above, "The real before and after is") || strings.Contains(above, "is picture") {
		t.Error("the key is not apart from the pictures")
	}
	r, err := review.Open(review.Source{})
	if err != nil {
		t.Fatal(err)
	}
	walls, err := r.Walls()
	if err != nil || len(walls) != 1 {
		t.Fatalf("%d walls, %v", len(walls), err)
	}
	if want := fmt.Sprintf("is picture %d of 12", walls[0].Wall.Real+1); !strings.Contains(key, want) {
		t.Errorf("the key lacks %q: %s", want, key)
	}
	if !bytes.Equal(page, shuffleWall(t, review.Source{})) {
		t.Error("the same lesson gives another page")
	}
}

// A lesson without a pair, or with too few balls, gets a page that says so: an
// old one may lie there from another lesson.
func TestShuffleWallWithoutAPair(t *testing.T) {
	for content, want := range map[string]string{
		"carry_yd,side_yd,stage\n150,1,a\n151,2,a\n152,1,a\n":                            "nothing to hide",
		"carry_yd,side_yd,stage\n150,1,a\n151,2,a\n152,1,a\n150,1,b\n151,2,b\n":          "no wall",
		"carry_yd,side_yd,stage\n150,1,a\n150,1,a\n150,1,a\n150,1,b\n150,1,b\n150,1,b\n": "The key",
	} {
		file := filepath.Join(t.TempDir(), "lesson.csv")
		if err := os.WriteFile(file, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		if page := string(shuffleWall(t, review.Source{File: file})); !strings.Contains(page, want) {
			t.Errorf("%q: the page lacks %q:\n%s", content, want, page[strings.Index(page, "<main"):])
		}
	}
}

// Another lesson hides its picture elsewhere; the same one in the same place.
func TestShuffleWallHidesByTheBalls(t *testing.T) {
	places := map[int]bool{}
	for i := range 20 {
		var rows strings.Builder
		rows.WriteString("carry_yd,side_yd,stage\n")
		for ball := range 12 {
			fmt.Fprintf(&rows, "%d,%d,%c\n", 140+(i*7+ball*5)%13, (i+ball*ball)%9-4, 'a'+ball/6)
		}
		file := filepath.Join(t.TempDir(), "lesson.csv")
		if err := os.WriteFile(file, []byte(rows.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		r, err := review.Open(review.Source{File: file})
		if err != nil {
			t.Fatal(err)
		}
		walls, err := r.Walls()
		if err != nil || len(walls) != 1 || walls[0].Wall == nil {
			t.Fatalf("%v, %v", walls, err)
		}
		places[walls[0].Wall.Real] = true
	}
	if len(places) < 6 { // of 12 places, 20 draws fill 9.9 on average; below 6 has a chance of 2e-5
		t.Errorf("20 lessons hide it in %d places", len(places))
	}
}

// Source: axe-core 4, its rules for WCAG 2.2 and good practice.
func TestShuffleWallInABrowser(t *testing.T) {
	file := filepath.Join(t.TempDir(), shuffleWallFile)
	if err := os.WriteFile(file, shuffleWall(t, review.Source{}), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, seen := browser(t, "file://"+file)
	rules := axeRules(t)
	for _, screen := range []struct{ width, height int64 }{{360, 740}, {1280, 800}} {
		do(t, ctx, chromedp.EmulateViewport(screen.width, screen.height))
		wide, on := ask[[]string](t, ctx, tooWide), ask[[]string](t, ctx, overlaps)
		if len(wide)+len(on) > 0 {
			t.Errorf("%d wide: %q, %q", screen.width, wide, on)
		}
		gap := ask[float64](t, ctx, `document.querySelector('.key h2').getBoundingClientRect().top - document.querySelector('figure').getBoundingClientRect().bottom`)
		if gap < float64(screen.height) {
			t.Errorf("%d wide: the key is %g below the pictures, so both can be on one screen", screen.width, gap)
		}
	}
	if found := violations(t, ctx, rules); len(found) > 0 {
		t.Errorf("%q", found)
	}
	for _, paper := range []chromedp.PaperSize{a4, letter} {
		if n := sheets(t, ctx, paper); n != 2 {
			t.Errorf("%d sheets of %v, want one of pictures and one with the key", n, paper)
		}
	}
	if complaints := seen.all(); len(complaints) > 0 {
		t.Errorf("%q", complaints)
	}
}

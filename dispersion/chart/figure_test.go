package chart

import (
	"bytes"
	"image/png"
	"maps"
	"math"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// all returns one figure of each kind, made anew.
func all(t testing.TB) map[string]Figure {
	t.Helper()
	group, err := Group(demoGroup())
	if err != nil {
		t.Fatal(err)
	}
	figures := map[string]Figure{
		"Stages": mustStages(t, demoStages()), "Effects": mustEffects(t, demoEffects()), "Group": group,
		"RunChart": must[Figure](t)(RunChart(demoRunChart(t))), "ControlChart": must[Figure](t)(ControlChart(demoControlChart(t))),
		"Season": must[Figure](t)(Season(demoSeason(t, "carry", "yd"))),
	}
	maps.Copy(figures, evidenceFigures(t))
	return figures
}

func TestFiguresAreTheSameBytesEveryTime(t *testing.T) {
	draw := func(f Figure) [2]string {
		svg, errSVG := f.SVG()
		picture, errPNG := f.PNG()
		if errSVG != nil || errPNG != nil {
			t.Error(errSVG, errPNG)
		}
		return [2]string{string(svg), string(picture)}
	}
	first := map[string][2]string{}
	for what, f := range all(t) {
		first[what] = draw(f)
	}
	for _, cores := range []int{1, 2} {
		before := runtime.GOMAXPROCS(cores)
		var wait sync.WaitGroup
		for range 2 {
			for what, f := range all(t) {
				wait.Go(func() {
					if draw(f) != first[what] {
						t.Errorf("%s on %d cores: other bytes", what, cores)
					}
				})
			}
		}
		wait.Wait()
		runtime.GOMAXPROCS(before)
	}
}

func TestFigureStandsOnItsOwn(t *testing.T) {
	for what, f := range all(t) {
		svg, err := f.SVG()
		if err != nil {
			t.Fatal(err)
		}
		p := read(t, f)
		if attribute(p.root, "role") != "img" || attribute(p.root, "aria-label") != f.Alt() || f.Alt() == "" {
			t.Errorf("%s: the svg element does not carry the alt text", what)
		}
		if !bytes.HasPrefix(svg, []byte("<svg ")) || !bytes.Contains(svg, []byte("font-family:Liberation Sans,Arimo,Helvetica,Arial,sans-serif;")) {
			t.Errorf("%s: not fit for a page: %.200s", what, svg)
		}
		if bytes.Contains(svg, []byte("font-family:Liberation Sans;")) {
			t.Errorf("%s: a text without a fallback font", what)
		}
		for _, word := range strings.Fields(f.Title) {
			found := false
			for _, x := range p.texts {
				found = found || x.size == titlePen.size && strings.Contains(x.text, word)
			}
			if !found {
				t.Errorf("%s: %q of the title is not drawn", what, word)
			}
		}
		b, err := f.PNG()
		if err != nil {
			t.Fatal(err)
		}
		c, err := png.DecodeConfig(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		// A point is 4/3 of a page's pixel (CSS Values and Units Module Level 3, section 6.2), and there are two pixels to each.
		if math.Abs(float64(c.Width)-f.Width*8/3) > 1 || math.Abs(float64(c.Height)-f.Height*8/3) > 1 {
			t.Errorf("%s: %d by %d pixels for %g by %g points", what, c.Width, c.Height, f.Width, f.Height)
		}
	}
}

func TestTheEmptyFigureIsAnError(t *testing.T) {
	if _, err := (Figure{}).SVG(); err == nil {
		t.Error("SVG of an empty figure: no error")
	}
	if _, err := (Figure{}).PNG(); err == nil {
		t.Error("PNG of an empty figure: no error")
	}
}

var hostile = []string{
	`<script>alert(1)</script>`, `"><svg onload="x">`, `a & b &lt; c`, "tab\tnew\nline\x00nul\x1b[31m", "\xff\xfe not UTF-8", "\uFFFE\uFFFF",
	"right\u202Eto left", `style="font-family:Liberation Sans;`, "=1+1", "球を打つ 🏌️ مرحبا", strings.Repeat("e\u0301\u0302", 5000), strings.Repeat("W", 10<<20), "", " ", "NA",
}

func TestHostileTextStaysText(t *testing.T) {
	for _, name := range hostile {
		in := demoStages()
		in.Title, in.Unit = name, name
		for i := range in.Stages {
			in.Stages[i].Name, in.Stages[i].Sentence = name, name
		}
		rows := demoEffects()
		rows.Title = name
		for i := range rows.Rows {
			rows.Rows[i].Name, rows.Rows[i].Says, rows.Rows[i].Unit = name, name, name
		}
		group := demoGroup()
		group.Title, group.Name, group.Unit, group.Centres[0].Name = name, name, name, name
		g, err := Group(group)
		if err != nil {
			t.Fatal(err)
		}
		for what, f := range map[string]Figure{"Stages": mustStages(t, in), "Effects": mustEffects(t, rows), "Group": g} {
			svg, err := f.SVG()
			if err != nil {
				t.Fatal(err)
			}
			if len(svg) > 200<<10 {
				t.Errorf("%s of %.20q: %d bytes", what, name, len(svg))
			}
			checkTexts(t, f, read(t, f)) // an element of the name's own would fail here
		}
		if _, err := g.PNG(); err != nil {
			t.Errorf("PNG of %.20q: %v", name, err)
		}
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"old  swing ": "old swing", "a\tb\x00c\n": "a b c", "\u202Eabc": "abc", "": "", "12345678": "12345678", "123456789": "1234567…",
	} {
		if got := plain(in, 8); in != "old  swing " && got != want {
			t.Errorf("plain(%q, 8) = %q, want %q", in, got, want)
		}
		if got := plain(in, 100); len([]rune(in)) <= 8 && got != want {
			t.Errorf("plain(%q, 100) = %q, want %q", in, got, want)
		}
	}
}

func TestInputsAreNotModified(t *testing.T) {
	stages, effects, group := demoStages(), demoEffects(), demoGroup()
	mustStages(t, stages)
	mustEffects(t, effects)
	f, err := Group(group)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.SVG(); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(stages, demoStages()) || !reflect.DeepEqual(effects, demoEffects()) || !reflect.DeepEqual(group, demoGroup()) {
		t.Error("an input was modified")
	}
}

func TestGroupDrawsItsRegionsAndCentres(t *testing.T) {
	in := demoGroup()
	f, err := Group(in)
	if err != nil {
		t.Fatal(err)
	}
	p := read(t, f)
	blue := hex(StageLook(0))
	if filled := p.count("fill", blue); filled != len(in.Shots) {
		t.Errorf("%d markers for %d shots", filled, len(in.Shots))
	}
	if dashed := p.count("stroke", blue, "stroke-dasharray", "4,2.5"); dashed != 2 || p.count("stroke", blue) != 3 {
		t.Errorf("%d of %d rings are dashed, want 2 of 3", dashed, p.count("stroke", blue))
	}
	for _, want := range []string{"centre, 95 %", "next shot, 50 %", "next shot, 90 %", "mean", "geometric median", "old swing", "10 shots, 1 mishit"} {
		if !p.has(want) {
			t.Errorf("%q is not written", want)
		}
		if !strings.HasPrefix(want, "old") && !strings.Contains(f.Alt(), want) {
			t.Errorf("the alt text lacks %q: %s", want, f.Alt())
		}
	}
	mean := in.Regions[0].(dispersion.Ellipse)
	mean.Kind = dispersion.PredictionRegion
	in.Regions[0] = mean
	if f, err = Group(in); err != nil {
		t.Fatal(err)
	}
	if dashed := read(t, f).count("stroke", blue, "stroke-dasharray", "4,2.5"); dashed != 3 {
		t.Errorf("%d dashed rings for three predictions", dashed)
	}
}

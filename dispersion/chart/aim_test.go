package chart

import (
	"bytes"
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// lineBaseline is an invented one: some strokes for the lie, and one more every
// 120 m.
type lineBaseline struct{}

func (lineBaseline) Expected(lie strokes.Lie, distance float64) (float64, error) {
	return map[strokes.Lie]float64{strokes.Green: 1.5, strokes.Fairway: 2.1, strokes.Rough: 2.35, strokes.Sand: 2.6, strokes.Recovery: 2.9, strokes.Tee: 2.2}[lie] + distance/120, nil
}

func (lineBaseline) StandardError(_ strokes.Lie, distance float64) (float64, error) {
	return 0.02 + distance/4000, nil
}
func (lineBaseline) Reach(strokes.Lie) (low, high float64) { return 0.3, 600 }
func (lineBaseline) Source() string                        { return "invented" }

func demoHole(t testing.TB) *strokes.Hole {
	t.Helper()
	h, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// demoPatterns are those of the demo lesson, before and after.
func demoPatterns(t testing.TB) (before, after strokes.Pattern) {
	t.Helper()
	l, err := datasets.DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	groups := l.Groups()
	var patterns [2]strokes.Pattern
	for i, at := range []int{0, 3} {
		all, err := groups[at].All()
		if err != nil {
			t.Fatal(err)
		}
		if patterns[i], err = strokes.NewPattern(all, l.Unit, strokes.AsHit); err != nil {
			t.Fatal(err)
		}
	}
	return patterns[0], patterns[1]
}

func demoAim(t testing.TB) AimInput {
	t.Helper()
	ctx := context.Background()
	v, err := demoHole(t).Approach(120, lineBaseline{})
	if err != nil {
		t.Fatal(err)
	}
	p, _ := demoPatterns(t)
	o := strokes.AimOptions{Left: -45, Right: 30, Short: 90, Long: 160, Step: 1.5}
	aim, err := v.BestAim(ctx, p, o)
	if err != nil {
		t.Fatal(err)
	}
	doubt, err := v.AimDoubt(ctx, p, o, compare.Options{Resamples: 100})
	if err != nil {
		t.Fatal(err)
	}
	return AimInput{Unit: lesson.Yards, View: v, Pattern: p, Aim: aim, Doubt: &doubt}
}

func TestAimFigure(t *testing.T) {
	in := demoAim(t)
	f, err := Aim(in)
	if err != nil {
		t.Fatal(err)
	}
	p := read(t, f)
	checkTexts(t, f, p)
	for _, want := range []string{"flag", "best aim", "shots carried to it", "10 shots", "water", "bunker"} {
		if !p.has(want) {
			t.Errorf("%q is not written", want)
		}
	}
	// As many filled markers as shots, in the colour of the stage.
	if n := p.count("fill", hex(StageLook(0))); n != in.Pattern.N() {
		t.Errorf("%d markers, want %d", n, in.Pattern.N())
	}
	for _, want := range []string{"Best aim: carry", "Good aims", "Straight at the flag", "Resampled"} {
		if !strings.Contains(f.Alt(), want) {
			t.Errorf("the alt text lacks %q: %s", want, f.Alt())
		}
	}
}

// The lines of a bowl x²+y² are circles: every corner lies on its own, and the
// line closes.
func TestContourOfABowl(t *testing.T) {
	l := lattice{first: dispersion.Point{X: -10, Y: -10}, step: 0.5, across: 41, up: 41, values: make([]float64, 41*41)}
	for at := range l.values {
		p := l.point(float64(at%41), float64(at/41))
		l.values[at] = p.X*p.X + p.Y*p.Y
	}
	for _, radius := range []float64{1, 4.3, 9.7} {
		lines := l.contour(radius * radius)
		if len(lines) != 1 || lines[0][0] != lines[0][len(lines[0])-1] {
			t.Fatalf("radius %g: %d lines", radius, len(lines))
		}
		for _, p := range lines[0] {
			// A chord of x² over a step is off by at most step²/4.
			if got := math.Hypot(p.X, p.Y); math.Abs(got-radius) > 0.5*0.5/4/(2*radius)+1e-9 {
				t.Errorf("radius %g: a corner at %g", radius, got)
			}
		}
	}
	// Cut by the edge, the line is open and ends there.
	lines := l.contour(12 * 12)
	if len(lines) != 4 {
		t.Errorf("%d lines at the corners, want 4", len(lines))
	}
	for _, line := range lines {
		for _, end := range []dispersion.Point{line[0], line[len(line)-1]} {
			if math.Abs(end.X) != 10 && math.Abs(end.Y) != 10 {
				t.Errorf("a line ends at %v", end)
			}
		}
	}
	// A saddle keeps its two lines apart.
	saddle := lattice{step: 1, across: 2, up: 2, values: []float64{1, 0, 0, 1}}
	if lines := saddle.contour(0.6); len(lines) != 2 || len(lines[0]) != 2 {
		t.Errorf("a saddle has the lines %v", lines)
	}
}

func TestAimFiguresThatCannotBe(t *testing.T) {
	in := demoAim(t)
	oneRow, miles := in, in
	var err error
	if oneRow.Aim, err = in.View.BestAim(context.Background(), in.Pattern, strokes.AimOptions{Left: -20, Right: 20, Short: 120, Long: 120}); err != nil {
		t.Fatal(err)
	}
	miles.Unit = "mile"
	var input *InputError
	if _, err := Aim(AimInput{}); !errors.Is(err, ErrEmpty) {
		t.Errorf("nothing: %v", err)
	}
	if _, err := Aim(oneRow); !errors.As(err, &input) {
		t.Errorf("one row: %v", err)
	}
	if _, err := Aim(miles); !errors.As(err, &input) {
		t.Errorf("miles: %v", err)
	}
}

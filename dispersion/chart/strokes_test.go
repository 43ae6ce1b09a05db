package chart

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// sureBaseline states no standard error and does not reach beyond 150 m.
type sureBaseline struct{ lineBaseline }

func (sureBaseline) StandardError(strokes.Lie, float64) (float64, error) {
	return 0, strokes.ErrNoStandardError
}

func (b sureBaseline) Expected(lie strokes.Lie, distance float64) (float64, error) {
	if distance > 150 {
		return 0, &strokes.RangeError{Lie: lie, Distance: distance, Low: 0.3, High: 150}
	}
	return b.lineBaseline.Expected(lie, distance)
}

func demoCurves() BaselinesInput {
	return BaselinesInput{Unit: lesson.Yards, From: 10, To: 250, Curves: []Curve{
		{"fairway", lineBaseline{}, strokes.Fairway},
		{"rough", lineBaseline{}, strokes.Rough},
		{"sand, near", sureBaseline{}, strokes.Sand},
		{"recovery", sureBaseline{}, strokes.Recovery},
	}}
}

func demoWorth(t testing.TB) WorthInput {
	t.Helper()
	before, after := demoPatterns(t)
	var distances []float64
	for yards := 100.0; yards <= 180; yards += 20 {
		distances = append(distances, yards*lesson.Yards.Metres())
	}
	worth, err := strokes.WorthOf(context.Background(), demoHole(t), lineBaseline{}, before, after, distances, compare.Options{Resamples: 99})
	if err != nil {
		t.Fatal(err)
	}
	return WorthInput{Unit: lesson.Yards, Worth: worth}
}

func demoCard() CardInput {
	eight := func(low, high float64) *dispersion.Interval { i := interval(low, high, 0.8); return &i }
	return CardInput{Card: strokes.Card{Pupil: "Nila", Session: "2026-03-14", Unit: lesson.Yards, Clubs: []strokes.CardClub{
		{Club: "9 iron", Shots: 11, Carry: 109, EightOfTen: eight(101, 115), Next: &strokes.CardGap{Club: "7 iron", Gap: 24, Overlap: 0.03}},
		{Club: "7 iron", Shots: 12, Mishits: 1, Carry: 133, EightOfTen: eight(124, 142), Next: &strokes.CardGap{Club: "6 iron", Gap: 6, Overlap: 0.34}},
		{Club: "6 iron", Shots: 14, Mishits: 2, Carry: 139, EightOfTen: eight(128, 147)},
		{Club: "driver", Shots: 5, Mishits: 1, Carry: 181},
		{Club: "3 wood", Shots: 2, Mishits: 2},
	}}}
}

func TestBaselineFigure(t *testing.T) {
	f, err := Baselines(demoCurves())
	if err != nil {
		t.Fatal(err)
	}
	p := read(t, f)
	checkTexts(t, f, p)
	for _, want := range []string{"fairway", "rough", "sand, near", "recovery", "expected strokes", "distance to the flag, yd"} {
		if !p.has(want) {
			t.Errorf("%q is not written", want)
		}
	}
	// From 10 yd off the fairway: 2.1 + 9.144/120.
	if !strings.Contains(f.Alt(), "fairway: 2.18 strokes from 10.0 yd") || !strings.Contains(f.Alt(), "give or take") {
		t.Errorf("alt text: %s", f.Alt())
	}
	// Three dash patterns besides the unbroken line: told apart in grey.
	dashes := map[string]bool{}
	for _, path := range p.paths {
		if d := path.style["stroke-dasharray"]; d != "" {
			dashes[d] = true
		}
	}
	if len(dashes) < 3 {
		t.Errorf("dash patterns %v", dashes)
	}
}

// The upright bars in the colour of the whole change are as long as their
// intervals, all by one scale.
func TestWorthFigureStandsAtItsNumbers(t *testing.T) {
	in := demoWorth(t)
	f, err := Worth(in)
	if err != nil {
		t.Fatal(err)
	}
	p := read(t, f)
	checkTexts(t, f, p)
	var lengths []float64
	for _, path := range p.paths {
		if x, y := path.corners(); path.style["stroke"] == hex(StageLook(0)) && len(x) == 2 && x[0] == x[1] {
			lengths = append(lengths, math.Abs(y[1]-y[0]))
		}
	}
	if len(lengths) != len(in.Worth) {
		t.Fatalf("%d bars, want %d", len(lengths), len(in.Worth))
	}
	size := func(i int) float64 { v := in.Worth[i].Change.Interval; return v.High - v.Low }
	for i := range lengths {
		if want := lengths[0] * size(i) / size(0); math.Abs(lengths[i]-want) > 0.2 {
			t.Errorf("bar %d is %.1f points long, want %.1f", i, lengths[i], want)
		}
	}
	if !strings.Contains(f.Alt(), "From 120.0 yd:") {
		t.Errorf("alt text: %s", f.Alt())
	}
}

func TestCardFigure(t *testing.T) {
	f, err := Card(demoCard())
	if err != nil {
		t.Fatal(err)
	}
	p := read(t, f)
	checkTexts(t, f, p)
	for _, want := range []string{
		"Nila: how far the clubs carry, 2026-03-14", "133 yd", "8 of 10 from 124 to 142 yd; 12 shots, 1 of them mishit",
		"gap to the 6 iron: 6 yd; overlap 34 %", "the range: too few to say, 5 more clean shots; 5 shots, 1 of them mishit", "no clean shot",
	} {
		if !p.has(want) {
			t.Errorf("%q is not written", want)
		}
	}
}

func TestStrokesFiguresThatCannotBe(t *testing.T) {
	curves := func(change func(*BaselinesInput)) error {
		in := demoCurves()
		change(&in)
		_, err := Baselines(in)
		return err
	}
	worth := func(change func(*WorthInput)) error {
		in := demoWorth(t)
		change(&in)
		_, err := Worth(in)
		return err
	}
	card := func(change func(*CardInput)) error {
		in := demoCard()
		change(&in)
		_, err := Card(in)
		return err
	}
	for _, c := range []struct {
		name  string
		err   error
		where string // of an *InputError; "" for ErrEmpty
	}{
		{"no curves", curves(func(in *BaselinesInput) { in.Curves = nil }), ""},
		{"many curves", curves(func(in *BaselinesInput) { in.Curves = make([]Curve, 7) }), "7 curves"},
		{"no baseline", curves(func(in *BaselinesInput) { in.Curves[1].Baseline = nil }), `curve 2, "rough"`},
		{"no range", curves(func(in *BaselinesInput) { in.To = in.From }), "the distances"},
		{"NaN", curves(func(in *BaselinesInput) { in.From = math.NaN() }), "the distances"},
		{"no unit", curves(func(in *BaselinesInput) { in.Unit = "mile" }), "the unit"},
		{"out of reach", curves(func(in *BaselinesInput) { in.Curves, in.From, in.To = in.Curves[2:], 300, 400 }), "the distances"},
		{"no distances", worth(func(in *WorthInput) { in.Worth = nil }), ""},
		{"many distances", worth(func(in *WorthInput) { in.Worth = make([]strokes.Worth, 21) }), "21 distances"},
		{"miles", worth(func(in *WorthInput) { in.Unit = "mile" }), "the unit"},
		{"outside", worth(func(in *WorthInput) { in.Worth[1].Spread.Estimate = 9 }), "distance 2"},
		{"infinite", worth(func(in *WorthInput) { in.Worth[0].Change.Interval.High = math.Inf(1) }), "distance 1"},
		{"nowhere", worth(func(in *WorthInput) { in.Worth[0].Distance = math.NaN() }), "distance 1"},
		{"no clubs", card(func(in *CardInput) { in.Card.Clubs = nil }), ""},
		{"many clubs", card(func(in *CardInput) { in.Card.Clubs = make([]strokes.CardClub, 21) }), "21 clubs"},
		{"carry of NaN", card(func(in *CardInput) { in.Card.Clubs[0].Carry = math.NaN() }), `club 1, "9 iron"`},
	} {
		var input *InputError
		switch {
		case c.where == "" && !errors.Is(c.err, ErrEmpty):
			t.Errorf("%s: %v, want ErrEmpty", c.name, c.err)
		case c.where != "" && (!errors.As(c.err, &input) || input.Where != c.where || input.Problem == ""):
			t.Errorf("%s: %v, want an *InputError for %q", c.name, c.err, c.where)
		}
	}
}

// As many curves as a picture holds are drawn, and no two of them alike.
func TestBaselinesDrawsSixCurves(t *testing.T) {
	in := demoCurves()
	for len(in.Curves) < mostCurves {
		in.Curves = append(in.Curves, Curve{fmt.Sprintf("another, %d", len(in.Curves)), lineBaseline{}, strokes.Fairway})
	}
	f, err := Baselines(in)
	if err != nil {
		t.Fatal(err)
	}
	looks := map[string]bool{}
	for _, path := range read(t, f).paths {
		if path.style["stroke-width"] == "1.5" && path.style["fill"] == "none" {
			looks[path.style["stroke"]+path.style["stroke-dasharray"]] = true
		}
	}
	if len(looks) != mostCurves {
		t.Errorf("%d looks of %d curves: %v", len(looks), mostCurves, looks)
	}
}

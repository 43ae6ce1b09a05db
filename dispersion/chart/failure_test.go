package chart

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func TestErrorsSayWhere(t *testing.T) {
	ok := []dispersion.Point{{X: 1, Y: 150}, {X: 2, Y: 151}}
	bad := []dispersion.Point{{X: 1, Y: 150}, {X: math.NaN(), Y: 151}}
	stages := func(s ...Stage) error { _, err := Stages(StagesInput{Stages: s}); return err }
	group := func(in GroupInput) error { _, err := Group(in); return err }
	effect := func(change func(*Effect)) error {
		e := Effect{Name: "carry", Estimate: 1, Narrow: interval(0, 2, 0.8), Wide: interval(-1, 3, 0.95)}
		change(&e)
		_, err := Effects(EffectsInput{Rows: []Effect{e}})
		return err
	}
	ellipse := dispersion.Ellipse{Centre: ok[0], SemiMajor: 2, SemiMinor: 1, Level: 0.95, Kind: dispersion.MeanRegion}
	flat, loud := ellipse, ellipse
	flat.SemiMinor = 0
	loud.Level = 95
	_, noEffects := Effects(EffectsInput{})

	for _, c := range []struct {
		name  string
		err   error
		where string // of an *InputError; "" for ErrEmpty
	}{
		{"no stages", stages(), ""},
		{"a stage without shots", stages(Stage{Shots: ok}, Stage{Name: "new"}), ""},
		{"too many stages", stages(make([]Stage, 25)...), "25 stages"},
		{"NaN", stages(Stage{Shots: ok}, Stage{Name: "new", Shots: bad}), `stage 2, "new", shot 2`},
		{"infinite", stages(Stage{Shots: []dispersion.Point{{Y: math.Inf(1)}}}), `stage 1, "", shot 1`},
		{"marks", stages(Stage{Shots: ok, Mishit: []bool{true}}), `stage 1, ""`},
		{"no group", group(GroupInput{}), ""},
		{"a flat region", group(GroupInput{Shots: ok, Regions: []dispersion.Region{ellipse, flat}}), "region 2"},
		{"a level of 95", group(GroupInput{Shots: ok, Regions: []dispersion.Region{loud}}), "region 1"},
		{"a centre at NaN", group(GroupInput{Shots: ok, Centres: []Mark{{"mean", bad[1]}}}), "centre 1"},
		{"no effects", noEffects, ""},
		{"null of 2", effect(func(e *Effect) { e.Null = 2 }), `effect 1, "carry"`},
		{"estimate outside", effect(func(e *Effect) { e.Estimate = 9 }), `effect 1, "carry"`},
		{"swapped intervals", effect(func(e *Effect) { e.Narrow, e.Wide = e.Wide, e.Narrow }), `effect 1, "carry"`},
		{"a ratio through 0", effect(func(e *Effect) { e.Null = 1 }), `effect 1, "carry"`},
		{"a level of 0", effect(func(e *Effect) { e.Narrow.Level = 0 }), `effect 1, "carry"`},
		{"an infinite end", effect(func(e *Effect) { e.Wide.High = math.Inf(1) }), `effect 1, "carry"`},
	} {
		var input *InputError
		switch {
		case c.where == "" && !errors.Is(c.err, ErrEmpty):
			t.Errorf("%s: %v, want ErrEmpty", c.name, c.err)
		case c.where != "" && (!errors.As(c.err, &input) || input.Where != c.where || input.Problem == ""):
			t.Errorf("%s: %v, want an *InputError for %q", c.name, c.err, c.where)
		}
	}
	if err := effect(func(*Effect) {}); err != nil {
		t.Errorf("the effect that the others differ from: %v", err)
	}
	if err := group(GroupInput{Shots: ok, Regions: []dispersion.Region{ellipse}}); err != nil {
		t.Errorf("the group that the others differ from: %v", err)
	}
}

// Whatever the numbers, there is an error or a readable picture.
func FuzzStages(f *testing.F) {
	for _, v := range []float64{0, 1, 150, -1e9, 1e9, 1e-200, 1e200, math.NaN(), math.Inf(1)} {
		f.Add(v, 150.0, 3.0, 1.0, uint8(7))
		f.Add(4.0, v, v, v, uint8(0))
	}
	f.Fuzz(func(t *testing.T, a, b, c, d float64, marks uint8) {
		points := []dispersion.Point{{X: a, Y: b}, {X: c, Y: d}, {X: b, Y: a}, {X: a, Y: b}, {X: a + c, Y: b + d}, {X: d, Y: d}}
		mishit := make([]bool, len(points))
		for i := range mishit {
			mishit[i] = marks>>i&1 == 1
		}
		figure, err := Stages(StagesInput{Unit: "yd", Stages: []Stage{
			{Name: "old", Shots: points, Mishit: mishit}, {Name: "new", Shots: points[:1+marks%5]},
		}})
		if err != nil {
			return
		}
		checkTexts(t, figure, read(t, figure))
	})
}

// Whatever the numbers, there is an error or a readable picture.
func FuzzEffects(f *testing.F) {
	for _, v := range []float64{0, 1, 0.5, -3, 1e9, 1e-9, 1e-200, 1e200, math.NaN(), math.Inf(-1)} {
		f.Add(v, v, v, v, v, v, true)
		f.Add(v, 0.1, 0.2, 0.3, 0.4, 0.5, false)
	}
	f.Fuzz(func(t *testing.T, a, b, c, d, e, smallest float64, ratio bool) {
		row := Effect{Name: "carry", Unit: "yd", Estimate: c, Narrow: interval(b, d, 0.8), Wide: interval(a, e, 0.95), Smallest: smallest}
		if ratio {
			row.Null = 1
		}
		other := Effect{Name: "other", Unit: "yd", Estimate: 1, Null: row.Null, Narrow: interval(0.9, 1.1, 0.8), Wide: interval(0.8, 1.2, 0.95)}
		figure, err := Effects(EffectsInput{Rows: []Effect{row, other}})
		if err != nil {
			return
		}
		checkTexts(t, figure, read(t, figure))
	})
}

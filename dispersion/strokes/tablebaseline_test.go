package strokes

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
)

// By hand, on the lines between the rows and beyond their ends.
func TestTableBaselineByHand(t *testing.T) {
	b := mustRead(t, handTable)
	for _, c := range []struct {
		at           Spot
		strokes, err float64
	}{
		{Spot{Fairway, 150}, 3.25, 0.15},
		{Spot{Fairway, 100}, 3, 0.2},
		{Spot{Fairway, 5}, 3, 0.2},
		{Spot{Tee, 400}, 4.2, 0.1},
		{Spot{Tee, 300}, 4.2, 0.1},
		{Spot{Green, 10}, 2, 0.04},
		{Spot{Green, 6}, 1.7, 0.03},
		{Spot{Green, 1}, 1.2, 0.01}, // half way from 1 at the hole to 1.4
		{Spot{Green, 0}, 0, 0},
	} {
		near(t, "strokes", mustExpect(t, b, c.at.Lie, c.at.Distance), c.strokes, 1e-12)
		se, err := b.StandardError(c.at.Lie, c.at.Distance)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "standard error", se, c.err, 1e-12)
	}
	if _, err := b.StandardError(Sand, 20); !errors.Is(err, ErrNoStandardError) {
		t.Errorf("sand: %v", err)
	}
	var out *RangeError
	for _, at := range []Spot{{Rough, 10}, {Fairway, 200.1}, {Green, 11}, {Tee, -1}, {Sand, math.NaN()}} {
		if _, err := b.Expected(at.Lie, at.Distance); !errors.As(err, &out) {
			t.Errorf("%v: %v", at, err)
		}
	}
	if low, high := b.Reach(Rough); low != 0 || high != 0 {
		t.Errorf("reach from the rough: %g to %g", low, high)
	}
	if b.Source() != "by hand" || len(b.Warnings()) != 0 {
		t.Errorf("%q, %v", b.Source(), b.Warnings())
	}
}

// Rows in any order and in feet; a fall of 0.1 is shared out: 3 and 2.9 are 2.95.
func TestTableBaselineLevelsSmallFalls(t *testing.T) {
	b := mustRead(t, "lie;distance_ft;strokes\nrough;300;2,9\nrough;600;3,4\nrough;200;3\n")
	for feet, want := range map[float64]float64{200: 2.95, 300: 2.95, 600: 3.4} {
		near(t, "strokes", mustExpect(t, b, Rough, feet*foot), want, 1e-12)
	}
	var fall *FallWarning
	if len(b.Warnings()) != 1 || !errors.As(b.Warnings()[0], &fall) || fall.Lie != Rough || math.Abs(fall.Change-0.05) > 1e-12 {
		t.Errorf("warnings %v", b.Warnings())
	}
}

func TestReadBaselineNamesThePlace(t *testing.T) {
	const header = "lie,distance_m,strokes,standard_error\n"
	for file, want := range map[string]string{
		"lie,strokes\ntee,4\n":                           "line 1, column distance_yd",
		"distance_m,strokes\n1,4\n":                      "line 1, column lie",
		header + "tree,100,4,\n":                         "line 2, column lie",
		header + "tee,100,0.9,\n":                        "line 2, column strokes",
		header + "tee,100,51,\n":                         "line 2, column strokes",
		header + "tee,0,1,\n":                            "line 2: at distance 0",
		header + "tee,100,4,-1\n":                        "line 2, column standard_error",
		header + "tee,100,4,x\n":                         "line 2, column standard_error",
		header + "tee,100,4,\ntee,100,4.1,\n":            "line 3: line 2 has the tee",
		header + "tee,200,3,\nsand,1,1,\ntee,100,3.5,\n": "line 2, column strokes: 3 strokes from the tee, but 3.5",
	} {
		b, err := ReadBaseline(strings.NewReader(file), "by hand")
		var place *TableError
		if b != nil || !errors.As(err, &place) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", file, err, want)
		}
	}
	if _, err := ReadBaseline(strings.NewReader(handTable), ""); !errors.Is(err, ErrMissing) {
		t.Errorf("no source: %v", err)
	}
	if _, err := ReadBaseline(nil, "x"); !errors.Is(err, ErrMissing) {
		t.Errorf("nil: %v", err)
	}
}

// What is written is read back as it was, to the four decimals written.
func TestWriteBaseline(t *testing.T) {
	c := mustCompute(t, IllustrativePlayers()[3])
	distances := map[Lie][]float64{Tee: {100, 360.5, 600}, Green: {0.5, 2, 60}, Sand: {7}}
	var file bytes.Buffer
	if err := WriteBaseline(&file, c, distances); err != nil {
		t.Fatal(err)
	}
	b, err := ReadBaseline(&file, "written")
	if err != nil {
		t.Fatal(err)
	}
	for _, lie := range Lies() {
		for _, x := range distances[lie] {
			near(t, lie.String(), mustExpect(t, b, lie, x), mustExpect(t, c, lie, x), 0.5e-4+1e-12)
		}
		if _, high := b.Reach(lie); high > 0 && len(distances[lie]) == 0 {
			t.Errorf("%v reaches %g m", lie, high)
		}
	}
	var out *RangeError
	if err := WriteBaseline(&file, c, map[Lie][]float64{Green: {61}}); !errors.As(err, &out) {
		t.Errorf("out of reach: %v", err)
	}
	if err := WriteBaseline(&file, c, map[Lie][]float64{Green: {0}}); !errors.Is(err, ErrShot) {
		t.Errorf("in the hole: %v", err)
	}
	if err := WriteBaseline(nil, c, nil); !errors.Is(err, ErrMissing) {
		t.Errorf("nil writer: %v", err)
	}
	if err := WriteBaseline(&file, nil, nil); !errors.Is(err, ErrMissing) {
		t.Errorf("nil baseline: %v", err)
	}
}

func TestMakeMonotoneByHand(t *testing.T) {
	values := []float64{1, 3, 2, 2, 5, 4}
	// 3 2 2 pool to 7/3, 5 4 to 4.5.
	change := makeMonotone(values, nil)
	for i, want := range []float64{1, 7.0 / 3, 7.0 / 3, 7.0 / 3, 4.5, 4.5} {
		near(t, "value", values[i], want, 1e-12)
	}
	near(t, "change", change, 2.0/3, 1e-12)
	weighted := []float64{4, 1}
	makeMonotone(weighted, []float64{3, 1}) // (3·4 + 1)/4
	near(t, "weighted", weighted[0], 3.25, 1e-12)
	near(t, "weighted", weighted[1], 3.25, 1e-12)
}

package practice

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Whatever is asked within a session or over a season leaves what was given as
// it was.
func TestPracticeInputsStay(t *testing.T) {
	ctx := context.Background()
	o := compare.Options{Resamples: 20}
	x := []float64{9, 5, 2, 6, 3, 7, 4, 8, 6, 9, 1, 4, 4, 6, 8, 2, 9, 11, 3, 5}
	places := make([]float64, len(x))
	for i := range places {
		places[i] = float64(2 * i)
	}
	values, at := slices.Clone(x), slices.Clone(places)
	watched := []dispersion.Point{{X: 90, Y: 1}, {X: 1, Y: 150}}
	points := slices.Clone(watched)
	pattern := unitPattern(t)
	own := pattern.Points()
	l, err := datasets.DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	same, err := datasets.DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	season, untouched := demoSeason(t), demoSeason(t)
	sheet, plain := demoSheet(), demoSheet()
	lessons := []*lesson.Lesson{l}

	chart, err1 := RunChartOf(l, "7 iron", "carry")
	_, err2 := chart.DriftOrStages(0)
	_, err3 := SerialInterval(0, x)
	_, err4 := RankVonNeumannRatio(x)
	_, err5 := Pettitt(ctx, x, o)
	_, err6 := ColdStart(ctx, "", "", places, x, o)
	_, err7 := WarmUp(ctx, "", "", places, x, o)
	_, err8 := Tiring(ctx, "", "", places, x, o)
	_, err9 := NewControlChart(pattern, watched, 0)
	_, err10 := NewSeason(lessons, SeasonOptions{})
	_, err11 := Kept(ctx, season, Question{Club: "7 iron"}, o)
	made, err12 := NewSheet(sheet)
	_, err13 := made.HTML()
	for i, err := range []error{err1, err2, err3, err4, err5, err6, err7, err8, err9, err10, err11, err12, err13} {
		if err != nil {
			t.Errorf("call %d: %v", i+1, err)
		}
	}
	if !slices.Equal(x, values) || !slices.Equal(places, at) || !slices.Equal(watched, points) || !slices.Equal(pattern.Points(), own) ||
		!reflect.DeepEqual(l, same) || lessons[0] != l || !reflect.DeepEqual(season, untouched) || !reflect.DeepEqual(sheet, plain) {
		t.Error("an input was changed")
	}
}

// The same seed gives the same bits on one core and on several.
func TestCoresChangeNothing(t *testing.T) {
	x := []float64{9, 5, 2, 6, 3, 7, 4, 8, 6, 9, 1, 4, 4, 6, 8, 2, 9, 11, 3, 5, 7, 8}
	run := func(cores int) (a, b float64) {
		defer setCores(cores)()
		c, err1 := Pettitt(context.Background(), x, compare.Options{Resamples: 5500, Seed: 7})
		f, err2 := ColdStart(context.Background(), "", "", nil, x, compare.Options{Resamples: 2500, Seed: 7})
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		return c.P, f.Off.P
	}
	p1, q1 := run(1)
	p4, q4 := run(4)
	if p1 != p4 || q1 != q4 {
		t.Errorf("p %g and %g, %g and %g", p1, p4, q1, q4)
	}
	other, err := Pettitt(context.Background(), x, compare.Options{Resamples: 5500, Seed: 8})
	if err != nil || other.P == p1 {
		t.Errorf("another seed gives the same %g; %v", other.P, err)
	}
}

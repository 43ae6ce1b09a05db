package strokes

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Whatever is asked about an aim leaves the group, the pattern, the hole and the
// lists that it was given as they were.
func TestAimInputsStay(t *testing.T) {
	r := rand.New(resample.NewStream(14, "aim test", 0))
	g := drawnGroup(t, r, 12, dispersion.Point{X: 3, Y: 140}, dispersion.Point{X: 6, Y: 6})
	p := mustPattern(t, g, AsHit)
	h := mustHole(t, bytes.Clone(datasets.DemoPondFile()))
	v := mustApproach(t, h, 140)
	clubs := []Club{{"long", mustPattern(t, drawnGroup(t, r, 5, dispersion.Point{Y: 150}, dispersion.Point{X: 6, Y: 6}), AsHit)}, {"short", p}}
	distances := []float64{150, 120}
	shots := lesson.Group{Shots: []lesson.Shot{{Side: 3, Carry: 90}, {Side: -3, Carry: 80}, {Side: 1, Carry: 70}}}
	l := cardLesson(t, cardRows("new", "full", "7 iron", 139, 132, 133))

	points, offsets, flag := g.Points(), p.Shots(), h.Flag()
	names := []string{clubs[0].Name, clubs[1].Name}
	carries := []float64{l.Shots[0].Carry, l.Shots[1].Carry, l.Shots[2].Carry}

	o := AimOptions{Left: -20, Right: 20, Short: 120, Long: 160, Step: 2}
	_, err1 := v.BestAim(ctx, p, o)
	_, err2 := v.AimDoubt(ctx, p, o, compare.Options{Resamples: 30})
	_, err3 := v.CompareClubs(ctx, clubs, o, compare.Options{Resamples: 30})
	_, err4 := WorthOf(ctx, h, byHand, p, clubs[0].Pattern, distances, compare.Options{Resamples: 30})
	_, err5 := Relative(shots, lesson.Yards)
	_, err6 := NewCard(l)
	_, err7 := p.Scaled(100)
	p.Straightened()
	for i, err := range []error{err1, err2, err3, err4, err5, err6, err7} {
		if err != nil {
			t.Errorf("call %d: %v", i+1, err)
		}
	}
	if !slices.Equal(g.Points(), points) || !slices.Equal(p.Shots(), offsets) || h.Flag() != flag || v.Distance() != 140 ||
		!slices.Equal([]string{clubs[0].Name, clubs[1].Name}, names) || !slices.Equal(distances, []float64{150, 120}) ||
		shots.Shots[0].Carry != 90 || shots.Shots[2].Carry != 70 ||
		!slices.Equal([]float64{l.Shots[0].Carry, l.Shots[1].Carry, l.Shots[2].Carry}, carries) {
		t.Error("an input was changed")
	}
}

package course

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// ellipses returns the three rings of a group: where the centre lies, where the
// next ball lands, and what holds a share of all balls to come.
func ellipses(g *dispersion.Group, level, share float64) ([]dispersion.Ellipse, error) {
	centre, err1 := g.MeanEllipse(level)
	next, err2 := g.PredictionEllipse(share)
	most, err3 := g.ToleranceEllipse(share, level)
	return []dispersion.Ellipse{centre, next, most}, allOf(err1, err2, err3)
}

// ThreeRings draws one group of n balls with its three rings.
func ThreeRings(n int, level, share float64, seed uint64) (chart.Figure, error) {
	shots := OneSwing.Draw(random(seed, 50), n)
	g, err := dispersion.NewGroup(shots)
	if err != nil {
		return chart.Figure{}, err
	}
	rings, err := ellipses(g, level, share)
	if err != nil {
		return chart.Figure{}, err
	}
	in := chart.GroupInput{Title: fmt.Sprintf("%d balls and three rings, each the answer to another question", n), Name: "one swing", Unit: "yd", Shots: shots}
	for _, e := range rings {
		in.Regions = append(in.Regions, e)
	}
	return chart.Group(in)
}

// RingsTable says of the same group what each ring holds and how large it is.
func RingsTable(n int, level, share float64, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("The three rings of the %d balls above. Radius: of the circle with the same area.", n),
		Header:  []string{"Ring", "What it holds", "Radius, yd", "Of these balls, inside"},
	}
	g, err := dispersion.NewGroup(OneSwing.Draw(random(seed, 50), n))
	if err != nil {
		return t, err
	}
	rings, err := ellipses(g, level, share)
	if err != nil {
		return t, err
	}
	for i, e := range rings {
		inside := 0
		for _, p := range g.Points() {
			if e.Contains(p) {
				inside++
			}
		}
		t.Rows = append(t.Rows, []string{ringNames[i], e.Holds(), tenths(radiusOf(e)), fmt.Sprint(inside)})
	}
	return t, nil
}

var ringNames = []string{"mean ellipse", "prediction ellipse", "tolerance ellipse"}

func radiusOf(e dispersion.Ellipse) float64 { return math.Sqrt(e.SemiMajor * e.SemiMinor) }

// SizesTable says how large the three rings are, on average, as the balls grow
// more, beside the ring of the swing itself, which no number of balls changes.
func SizesTable(sizes []int, level, share float64, groups int, seed uint64) (show.TableData, error) {
	truth := math.Sqrt(OneSwing.SD.X * OneSwing.SD.Y * -2 * math.Log(1-share))
	t := show.TableData{
		Caption: fmt.Sprintf("Radius of the three rings in yards, the middle one of %d groups each. The ring that truly holds %.0f %% of this swing's balls has a radius of %.1f yd.", groups, 100*share, truth),
		Header:  append([]string{"Balls"}, ringNames...),
	}
	for i, n := range sizes {
		r := random(seed, 60+uint64(i))
		radii := make([][]float64, len(ringNames))
		for range groups {
			g, err := dispersion.NewGroup(OneSwing.Draw(r, n))
			if err != nil {
				return t, err
			}
			rings, err := ellipses(g, level, share)
			if err != nil {
				return t, err
			}
			for k, e := range rings {
				radii[k] = append(radii[k], radiusOf(e))
			}
		}
		row := []string{fmt.Sprint(n)}
		for _, all := range radii {
			middle, err := dispersion.Median(all)
			if err != nil {
				return t, err
			}
			row = append(row, tenths(middle))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// PromisesTable puts the three rings to the test: many groups of n balls, each
// with its rings, against the swing whose truth is known. The share of all further
// balls that a ring holds is counted on the same balls for every ring.
func PromisesTable(ctx context.Context, n int, level, share float64, groups int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("What the rings of %d groups of %d balls held. The three numbers on the right are the share of all further balls in a ring, in per cent: one group in twenty holds less than the first, half hold less than the second, one in twenty more than the third.", groups, n),
		Header:  []string{"Ring", "Held the true centre, of 100", "Held the next ball, of 100", fmt.Sprintf("Held %.0f %% of all or more, of 100", 100*share), "Low share, %", "Middle, %", "High, %"},
	}
	r := random(seed, 70)
	further := OneSwing.Draw(r, 2000)
	held := make([]struct{ centre, next, enough int }, len(ringNames))
	shares := make([][]float64, len(ringNames))
	for range groups {
		if err := ctx.Err(); err != nil {
			return t, err
		}
		g, err := dispersion.NewGroup(OneSwing.Draw(r, n))
		if err != nil {
			return t, err
		}
		next := OneSwing.Draw(r, 1)[0]
		rings, err := ellipses(g, level, share)
		if err != nil {
			return t, err
		}
		for k, e := range rings {
			inside := 0
			for _, p := range further {
				if e.Contains(p) {
					inside++
				}
			}
			of := float64(inside) / float64(len(further))
			shares[k] = append(shares[k], of)
			held[k].centre += one(e.Contains(OneSwing.Centre))
			held[k].next += one(e.Contains(next))
			held[k].enough += one(of >= share)
		}
	}
	for k, name := range ringNames {
		slices.Sort(shares[k])
		at := func(q float64) string { return fmt.Sprintf("%.0f", 100*shares[k][int(q*float64(groups))]) }
		of := func(count int) string { return tenths(100 * float64(count) / float64(groups)) }
		t.Rows = append(t.Rows, []string{name, of(held[k].centre), of(held[k].next), of(held[k].enough), at(0.05), at(0.5), at(0.95)})
	}
	return t, nil
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

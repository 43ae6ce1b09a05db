package course

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// An Aimer is an invented pupil whose direction may depend on how far a ball
// goes: the standard deviation of the angle is Angle degrees at the mean carry,
// and grows by the share Wilder of that for every 10 yards more (falls, if it is
// below 0; never below a tenth).
type Aimer struct {
	Carry, CarrySD float64 // yards
	Angle, Wilder  float64
	Mishits        float64 // share of balls that go half to three quarters of the way, three times as crooked
}

// draw returns the balls struck well and those mishit, together in the order
// hit, and which are mishits.
func (a Aimer) draw(r *rand.Rand, n int) (shots []dispersion.Point, mishit []bool) {
	for range n {
		carry := a.Carry + a.CarrySD*r.NormFloat64()
		sd := a.Angle * max(0.1, 1+a.Wilder*(carry-a.Carry)/10)
		bad := r.Float64() < a.Mishits
		if bad {
			carry *= 0.5 + 0.25*r.Float64()
			sd *= 3
		}
		shots = append(shots, dispersion.Point{X: carry * math.Tan(radians(sd)*r.NormFloat64()), Y: carry})
		mishit = append(mishit, bad)
	}
	return shots, mishit
}

// SameAngles draws two groups with the same balls as angles, the second farther
// by some yards.
func SameAngles(balls int, farther float64, seed uint64) (chart.Figure, error) {
	r := random(seed, 1)
	a := Aimer{Carry: 130, CarrySD: 4, Angle: 3}
	near, _ := a.draw(r, balls)
	far := make([]dispersion.Point, balls)
	for i, p := range near {
		carry := p.Y + farther
		far[i] = dispersion.Point{X: p.X / p.Y * carry, Y: carry}
	}
	return chart.Change(chart.ChangeInput{
		Title: fmt.Sprintf("The same %d angles, %g yd farther", balls, farther), Unit: "yd",
		Before: chart.Stage{Name: "shorter", Shots: near}, After: chart.Stage{Name: "longer", Shots: far},
	})
}

// FanTable says how far beside the line balls of one angle land at ever longer
// carries: carry·tan(angle).
func FanTable(degrees float64, yards []float64) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("The standard deviation of the direction is %.3g° at every carry. How far to the side that is, and how many of 100 balls land within 10 yards of the target line.", degrees),
		Header:  []string{"Carry, yd", "Side, yd", "Within 10 yd, of 100"},
	}
	for _, y := range yards {
		limit := math.Atan(10 / y)
		within := math.Erf(limit / radians(degrees) / math.Sqrt2)
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%g", y), fmt.Sprintf("%.1f", y*math.Tan(radians(degrees))), fmt.Sprintf("%.0f", 100*within)})
	}
	return t
}

// Accuracy draws the spread of the demo lesson's headline as a distance and as an
// angle, after over before.
func Accuracy(ctx context.Context) (chart.Figure, error) {
	wide, err1 := demoSpeed(ctx, 0.95)
	narrow, err2 := demoSpeed(ctx, 0.80)
	if err := errors.Join(err1, err2); err != nil {
		return chart.Figure{}, err
	}
	row := func(name string, wide, narrow compare.Effect) chart.Effect {
		return chart.Effect{Name: name, Null: 1, Estimate: wide.Estimate, Narrow: narrow.Interval, Wide: wide.Interval,
			Smallest: 1 - compare.SmallestSpread, N1: wide.N1, N2: wide.N2}
	}
	return chart.Effects(chart.EffectsInput{
		Title: "The new swing against the old: is it wilder?",
		Rows: []chart.Effect{
			row("Spread as a distance", wide.Distance, narrow.Distance),
			row("Spread as an angle", wide.Angle, narrow.Angle),
		},
	})
}

// Beliefs says in words which belief the demo lesson's clean shots support.
func Beliefs(ctx context.Context) ([]string, error) {
	check, err := demoSpeed(ctx, 0.95)
	if err != nil {
		return nil, err
	}
	return []string{check.Sentence(), "For the statistician: " + check.Line()}, nil
}

// demoSpeed is the check of the demo lesson's stages that were neither a drill
// nor the return to the old swing.
func demoSpeed(ctx context.Context, level float64) (compare.SpeedCheck, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return compare.SpeedCheck{}, err
	}
	var stages []*dispersion.Group
	for _, g := range l.Groups() {
		if g.Stage.Intent == lesson.Drill || g.Stage.Bookend {
			continue
		}
		clean, err := g.Clean()
		if err != nil {
			return compare.SpeedCheck{}, err
		}
		stages = append(stages, clean)
	}
	return compare.SpeedAgainstAccuracy(ctx, stages, compare.Options{Level: level})
}

// Aimers are three pupils: one is as true short as long, one gets wilder with
// the yards, and one truer.
func Aimers(wilder float64) []Aimer {
	a := Aimer{Carry: 140, CarrySD: 6, Angle: 3}
	b, c := a, a
	b.Wilder, c.Wilder = wilder, -wilder
	return []Aimer{a, b, c}
}

// BeliefTable counts in how many lessons of two stages each belief is supported.
func BeliefTable(ctx context.Context, aimers []Aimer, sizes []int, lessons int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Lessons of two stages, %d for each row: in how many of 100 the balls support a belief.", lessons),
		Header:  []string{"In truth, 10 yd more are", "Balls a stage", "“Harder is wilder”", "“Harder is truer”", "Neither"},
	}
	progress := show.Progress("Rows of lessons hit")
	for i, a := range aimers {
		name := "as true"
		switch {
		case a.Wilder > 0:
			name = fmt.Sprintf("%.0f %% wilder", 100*a.Wilder)
		case a.Wilder < 0:
			name = fmt.Sprintf("%.0f %% truer", -100*a.Wilder)
		}
		for j, n := range sizes {
			count, err := a.beliefs(ctx, n, lessons, true, random(seed, uint64(100*i+j)))
			if err != nil {
				return t, err
			}
			t.Rows = append(t.Rows, append([]string{name, fmt.Sprint(n)}, count.shares(lessons)...))
			progress(len(t.Rows), len(aimers)*len(sizes))
		}
	}
	return t, nil
}

// MishitTable does the same for a pupil who is as true short as long but mishits
// some balls: once with the mishits counted and once without.
func MishitTable(ctx context.Context, mishits float64, sizes []int, lessons int, seed uint64) (show.TableData, error) {
	a := Aimers(0)[0]
	a.Mishits = mishits
	t := show.TableData{
		Caption: fmt.Sprintf("The pupil who is as true short as long, with %.0f mishits in 100, short and crooked: in how many of 100 lessons the balls support a belief.", 100*mishits),
		Header:  []string{"Mishits", "Balls a stage", "“Harder is wilder”", "“Harder is truer”", "Neither"},
	}
	for i, clean := range []bool{false, true} {
		name := "counted"
		if clean {
			name = "left out"
		}
		for j, n := range sizes {
			count, err := a.beliefs(ctx, n, lessons, clean, random(seed, uint64(1000+100*i+j)))
			if err != nil {
				return t, err
			}
			t.Rows = append(t.Rows, append([]string{name, fmt.Sprint(n)}, count.shares(lessons)...))
		}
	}
	return t, nil
}

// supported counts the lessons that support each belief.
type supported map[compare.Belief]int

func (s supported) shares(lessons int) []string {
	var out []string
	for _, b := range []compare.Belief{compare.HarderWilder, compare.HarderTruer, compare.NeitherBelief} {
		out = append(out, fmt.Sprintf("%.0f", 100*float64(s[b])/float64(lessons)))
	}
	return out
}

// beliefs hits lessons of two stages of n balls, with or without the mishits.
func (a Aimer) beliefs(ctx context.Context, n, lessons int, clean bool, r *rand.Rand) (supported, error) {
	count := supported{}
	for range lessons {
		var stages []*dispersion.Group
		for range 2 {
			shots, mishit := a.draw(r, n)
			var kept []dispersion.Point
			for i, p := range shots {
				if !clean || !mishit[i] {
					kept = append(kept, p)
				}
			}
			g, err := dispersion.NewGroup(kept)
			if err != nil {
				return nil, err
			}
			stages = append(stages, g)
		}
		check, err := compare.SpeedAgainstAccuracy(ctx, stages, compare.Options{})
		if err != nil {
			return nil, err
		}
		count[check.Supports]++
	}
	return count, nil
}

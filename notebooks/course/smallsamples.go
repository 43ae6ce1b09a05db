package course

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A Swing is an invented player with one club: where the shots are centred and
// their standard deviations, in yards, side and carry independent and normal.
type Swing struct {
	Centre, SD dispersion.Point
}

// OneSwing is the swing of the first notebooks: a 7 iron that carries 140 yards.
var OneSwing = Swing{Centre: dispersion.Point{X: 2, Y: 140}, SD: dispersion.Point{X: 7, Y: 6}}

// Draw returns n shots of the swing.
func (s Swing) Draw(r *rand.Rand, n int) []dispersion.Point {
	shots := make([]dispersion.Point, n)
	for i := range shots {
		shots[i] = dispersion.Point{X: s.Centre.X + s.SD.X*r.NormFloat64(), Y: s.Centre.Y + s.SD.Y*r.NormFloat64()}
	}
	return shots
}

// random returns the stream of a notebook's part.
func random(seed, part uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, part)) }

// SameSwing draws groups of n balls of one swing, one below the other, as if
// they were stages of a lesson in which nothing changed.
func SameSwing(n, groups int, seed uint64) (chart.Figure, error) {
	r := random(seed, 1)
	in := chart.StagesInput{Title: fmt.Sprintf("%d groups of %d balls: one swing, and nothing changed", groups, n), Unit: "yd"}
	for i := range groups {
		shots := OneSwing.Draw(r, n)
		var m dispersion.Moments
		for _, p := range shots {
			m.Add(p)
		}
		in.Stages = append(in.Stages, chart.Stage{
			Name: fmt.Sprintf("group %d", i+1), Like: "all", Shots: shots,
			Sentence: fmt.Sprintf("Group %d: %.0f yd on average.", i+1, m.Mean.Y),
		})
	}
	return chart.Stages(in)
}

// tenth is what one in ten normal deviations exceeds, either way.
const tenth = 1.6449

// LuckTable says how far apart the means of two groups of one swing lie by luck:
// in one of ten pairs farther than 1.645·σ·√(2/n), by formula and in simulated
// pairs.
func LuckTable(sizes []int, pairs int, seed uint64) show.TableData {
	r := random(seed, 2)
	t := show.TableData{
		Caption: fmt.Sprintf("Two groups of one swing, σ = %g yd in carry. How far apart their means lie in one of ten pairs, 1.645·σ·√(2/n), and how often that was so in %d simulated pairs.", OneSwing.SD.Y, pairs),
		Header:  []string{"Balls each", "Apart by more than, yd", "Simulated, of 100"},
	}
	for _, n := range sizes {
		limit := tenth * OneSwing.SD.Y * math.Sqrt(2/float64(n))
		beyond := 0
		for range pairs {
			if math.Abs(meanCarry(OneSwing.Draw(r, n))-meanCarry(OneSwing.Draw(r, n))) > limit {
				beyond++
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), fmt.Sprintf("%.1f", limit), fmt.Sprintf("%.1f", 100*float64(beyond)/float64(pairs))})
	}
	return t
}

func meanCarry(shots []dispersion.Point) float64 {
	sum := 0.0
	for _, p := range shots {
		sum += p.Y
	}
	return sum / float64(len(shots))
}

// IntervalTable holds the same new swing, longer by a stated gain, against the
// old one with ever more balls: the interval is what the balls fit.
func IntervalTable(ctx context.Context, sizes []int, gain float64, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("A new swing that truly carries %g yd farther, against the old one.", gain),
		Header:  []string{"Balls each", "Measured gain, yd", "These balls fit from", "to", "Verdict"},
	}
	longer := OneSwing
	longer.Centre.Y += gain
	for i, n := range sizes {
		r := random(seed, 10+uint64(i))
		before, err1 := dispersion.NewGroup(OneSwing.Draw(r, n))
		after, err2 := dispersion.NewGroup(longer.Draw(r, n))
		if err1 != nil || err2 != nil {
			return t, fmt.Errorf("course: %w, %w", err1, err2)
		}
		e, err := compare.CarryGain(ctx, before, after, compare.Options{})
		if err != nil {
			return t, err
		}
		says := "none from so few"
		verdict, err := compare.Judge(e, 5)
		var few *dispersion.TooFewError
		switch {
		case err == nil:
			says = verdict.Kind.String()
		case !errors.As(err, &few):
			return t, err
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), fmt.Sprintf("%.1f", e.Estimate),
			fmt.Sprintf("%.1f", e.Interval.Low), fmt.Sprintf("%.1f", e.Interval.High), says})
	}
	return t, nil
}

package course

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A Round is the invented hole with a pond, what one of the illustrative players
// needs from everywhere on it, and a pupil's shots before and after a lesson.
type Round struct {
	Hole          *strokes.Hole
	Baseline      *strokes.Computed
	Before, After strokes.Pattern // all balls of the demo lesson's headline, as hit
}

// DemoRound returns the hole for the illustrative player of that number, from 1,
// the straightest, to 4, with the first and the last like stage of the demo
// lesson.
func DemoRound(player int) (Round, error) {
	players := strokes.IllustrativePlayers()
	if player < 1 || player > len(players) {
		return Round{}, fmt.Errorf("course: there are players 1 to %d, and not %d", len(players), player)
	}
	var r Round
	var err error
	if r.Hole, err = strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile())); err != nil {
		return r, err
	}
	if r.Baseline, err = strokes.Compute(players[player-1], strokes.CommonHole()); err != nil {
		return r, err
	}
	l, err := datasets.DemoLesson()
	if err != nil {
		return r, err
	}
	headline := l.Pairs()[0]
	for _, p := range []struct {
		group lesson.Group
		to    *strokes.Pattern
	}{{headline.Before, &r.Before}, {headline.After, &r.After}} {
		all, err := p.group.All()
		if err != nil {
			return r, err
		}
		if *p.to, err = strokes.NewPattern(all, l.Unit, strokes.AsHit); err != nil {
			return r, err
		}
	}
	return r, nil
}

// Still draws the expected strokes over the distance from three lies.
func (r Round) Still() (chart.Figure, error) {
	return chart.Baselines(chart.BaselinesInput{
		Title: "How many strokes are still to play?",
		Unit:  lesson.Yards, From: 20, To: 220,
		Curves: []chart.Curve{
			{Name: "fairway", Baseline: r.Baseline, Lie: strokes.Fairway},
			{Name: "rough", Baseline: r.Baseline, Lie: strokes.Rough},
			{Name: "sand", Baseline: r.Baseline, Lie: strokes.Sand},
		},
	})
}

// LieTable says what ten yards and what a fairway are worth.
func (r Round) LieTable(yards []float64) (show.TableData, error) {
	t := show.TableData{
		Caption: "Expected strokes, the next one counted. Player: " + r.Baseline.Player().String() + ".",
		Header:  []string{"To the flag, yd", "From the fairway", "From the rough", "10 yd nearer saves", "The fairway saves"},
	}
	for _, y := range yards {
		here, err1 := r.Baseline.Expected(strokes.Fairway, metres(y))
		rough, err2 := r.Baseline.Expected(strokes.Rough, metres(y))
		nearer, err3 := r.Baseline.Expected(strokes.Fairway, metres(y-10))
		for _, err := range []error{err1, err2, err3} {
			if err != nil {
				return t, err
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%.0f", y), twoPlaces(here), twoPlaces(rough), twoPlaces(here - nearer), twoPlaces(rough - here)})
	}
	return t, nil
}

// Worth draws what the lesson's change is worth over the distance.
func (r Round) Worth(ctx context.Context, yards []float64) (chart.Figure, error) {
	var from []float64
	for _, y := range yards {
		from = append(from, metres(y))
	}
	worth, err := strokes.WorthOf(ctx, r.Hole, r.Baseline, r.Before, r.After, from, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Worth(chart.WorthInput{Title: "What the new pattern gains on the old, a shot", Unit: lesson.Yards, Worth: worth})
}

// aims are those looked at, in metres around a flag at that distance: a good one
// costs a tenth of a stroke more than the best at most, less than a lesson tells
// apart, and every second metre is fine enough for a region so wide.
func aims(distance float64) strokes.AimOptions {
	return strokes.AimOptions{Left: -34, Right: 34, Short: distance - 34, Long: distance + 34, Step: 2, Within: 0.1}
}

// Aim draws the good aims of the lesson's old pattern from a distance.
func (r Round) Aim(ctx context.Context, yards float64) (chart.Figure, error) {
	view, err := r.Hole.Approach(metres(yards), r.Baseline)
	if err != nil {
		return chart.Figure{}, err
	}
	p, err := r.Before.Scaled(view.Distance())
	if err != nil {
		return chart.Figure{}, err
	}
	aim, err := view.BestAim(ctx, p, aims(view.Distance()))
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Aim(chart.AimInput{
		Title: fmt.Sprintf("Where to aim from %.0f yd with the old pattern", yards),
		Unit:  lesson.Yards, View: view, Pattern: p, Aim: aim,
	})
}

// AimDoubts says how sure the best aim is: that of the lesson's old pattern, and
// those of ever more balls drawn from a habit that is like it.
func (r Round) AimDoubts(ctx context.Context, h Habit, yards float64, balls []int, seed uint64) (show.TableData, error) {
	const resamples = 500
	t := show.TableData{
		Caption: fmt.Sprintf("From %.0f yd, in yards beside the flag: the best aim, where it lies in 95 of 100 when the balls are drawn again from themselves (%d times), the strokes that it seems to save over the flag, and how much of that is flattery, since it suits just these balls.", yards, resamples),
		Header:  []string{"The balls", "Best aim", "Drawn again", "Seems to save", "Flattery"},
	}
	view, err := r.Hole.Approach(metres(yards), r.Baseline)
	if err != nil {
		return t, err
	}
	old, err := r.Before.Scaled(view.Distance())
	if err != nil {
		return t, err
	}
	names := []string{fmt.Sprintf("the lesson's %d", old.N())}
	patterns := []strokes.Pattern{old}
	for _, n := range balls {
		g, err := dispersion.NewGroup(h.draw(n, view.Distance(), seed))
		if err != nil {
			return t, err
		}
		p, err := strokes.NewPattern(g, lesson.Metres, strokes.AsHit)
		if err != nil {
			return t, err
		}
		names, patterns = append(names, fmt.Sprintf("%d drawn", n)), append(patterns, p)
	}
	for i, p := range patterns {
		a, err := view.BestAim(ctx, p, aims(view.Distance()))
		if err != nil {
			return t, err
		}
		d, err := view.AimDoubt(ctx, p, aims(view.Distance()), compare.Options{Resamples: resamples, Seed: seed})
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{names[i], sideYards(a.Point.X),
			sideYards(d.Side.Low) + " to " + sideYards(d.Side.High), twoPlaces(a.AimingSaves()), twoPlaces(d.Optimism)})
	}
	return t, nil
}

// AimTable holds aims at the flag against the best ones, for patterns of which
// everything is known: the direction's bias and standard deviation in degrees,
// the carry's standard deviation 5 %.
func (r Round) AimTable(ctx context.Context, yards float64, biases, spreads []float64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("From %.0f yd on the hole with the pond. Bias and spread of the direction in degrees; the standard deviation of the carry is 5 %% of it; no mishits. Strokes when aimed at the flag; aims in yards beside it, good ones within 0.1 strokes of the best.", yards),
		Header:  []string{"Bias", "Spread", "At the flag", "Best aim", "Good aims", "The best saves"},
	}
	view, err := r.Hole.Approach(metres(yards), r.Baseline)
	if err != nil {
		return t, err
	}
	for _, b := range biases {
		for _, s := range spreads {
			p, err := knownPattern(view.Distance(), radians(b), radians(s), 0.05)
			if err != nil {
				return t, err
			}
			a, err := view.BestAim(ctx, p, aims(view.Distance()))
			if err != nil {
				return t, err
			}
			t.Rows = append(t.Rows, []string{sided(b), fmt.Sprintf("%.0f", s), twoPlaces(a.StraightExpected),
				sideYards(a.Point.X), sideYards(a.Left) + " to " + sideYards(a.Right), twoPlaces(a.AimingSaves())})
		}
	}
	return t, nil
}

// knownPattern is a normal pattern with a bias, in metres and radians. A stated
// pattern has none, so four balls are placed whose mean and covariance are those
// wanted: their law is the normal one.
func knownPattern(carry, bias, angle, share float64) (strokes.Pattern, error) {
	far := math.Sqrt(1.5) // so that far, -far, 0 and 0 have the variance 1
	side, along := far*angle*carry, far*share*carry
	x := bias * carry
	g, err := dispersion.NewGroup([]dispersion.Point{{X: x + side, Y: carry}, {X: x - side, Y: carry}, {X: x, Y: carry + along}, {X: x, Y: carry - along}})
	if err != nil {
		return strokes.Pattern{}, err
	}
	return strokes.NewPattern(g, lesson.Metres, strokes.Normal)
}

func metres(yards float64) float64    { return yards * lesson.Yards.Metres() }
func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
func twoPlaces(v float64) string      { return fmt.Sprintf("%.2f", v) }

// sideYards writes a side in metres as whole yards left or right.
func sideYards(m float64) string { return sided(math.Round(m / lesson.Yards.Metres())) }

// sided writes a signed number as left or right.
func sided(v float64) string {
	switch {
	case v < 0:
		return fmt.Sprintf("%.0f left", -v)
	case v > 0:
		return fmt.Sprintf("%.0f right", v)
	}
	return "0"
}

package course

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// BeforeAfter draws two stages of the demo lesson on one plan.
func BeforeAfter(before, after string) (chart.Figure, error) {
	a, err1 := demoGroup(before)
	b, err2 := demoGroup(after)
	if err := allOf(err1, err2); err != nil {
		return chart.Figure{}, err
	}
	stage := func(g lesson.Group) chart.Stage {
		return chart.Stage{Name: g.Stage.Name, Shots: points(g.Shots), Mishit: g.Mishit}
	}
	return chart.Change(chart.ChangeInput{Title: "The same club, before and after", Unit: "yd", Before: stage(a), After: stage(b)})
}

// ChangesTable holds what changed between two stages of the demo lesson: of the
// clean balls, and how often one was mishit.
func ChangesTable(ctx context.Context, before, after string) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("From “%s” to “%s”: what was seen, and the interval of values that these balls fit at 95 %%. A gain of 0, a ratio of 1 mean that nothing changed. The first row was declared beforehand; the others are also seen.", before, after),
		Header:  []string{"What", "Seen", "from", "to", "p"},
	}
	a, err1 := demoGroup(before)
	b, err2 := demoGroup(after)
	if err := allOf(err1, err2); err != nil {
		return t, err
	}
	old, err1 := a.Clean()
	fresh, err2 := b.Clean()
	if err := allOf(err1, err2); err != nil {
		return t, err
	}
	var o compare.Options
	carry, err1 := compare.CarryGain(ctx, old, fresh, o)
	side, err2 := compare.SideShift(ctx, old, fresh, o)
	spread, err3 := compare.SpreadRatio(ctx, old, fresh, o)
	area, err4 := compare.AreaRatio(ctx, old, fresh, o)
	mishits, err5 := compare.MishitRateChange(a.Mishits(), len(a.Shots), b.Mishits(), len(b.Shots), o)
	if err := allOf(err1, err2, err3, err4, err5); err != nil {
		return t, err
	}
	for _, row := range []struct {
		name   string
		e      compare.Effect
		format string
	}{
		{"carry, gain in yd", carry, "%.1f"}, {"side, shift to the right in yd", side, "%.1f"},
		{"spread, ratio of radii", spread, "%.2f"}, {"area, ratio", area, "%.2f"}, {"mishit rate, change", mishits, "%.2f"},
	} {
		t.Rows = append(t.Rows, []string{row.name, fmt.Sprintf(row.format, row.e.Estimate),
			fmt.Sprintf(row.format, row.e.Interval.Low), fmt.Sprintf(row.format, row.e.Interval.High), chance(row.e.P)})
	}
	return t, nil
}

// chance writes a p as a person should read it: never as none at all.
func chance(p float64) string {
	if p < 0.001 {
		return "< 0.001"
	}
	return fmt.Sprintf("%.3f", p)
}

// Verdict says what the carry gain between two stages of the demo lesson allows to
// be said: alone, and with the old swing hit again at the end.
func Verdict(ctx context.Context, before, after, bookend string) ([]string, error) {
	old, fresh, err := demoCarries(before, after)
	if err != nil {
		return nil, err
	}
	end, err := demoGroup(bookend)
	if err != nil {
		return nil, err
	}
	var o compare.Options
	gain, err1 := compare.MeanGain(ctx, compare.NameCarryGain, "yd", old, fresh, o)
	both, err2 := compare.BookendGain(ctx, compare.NameCarryGain, "yd", old, fresh, end.Values("carry"), o)
	smallest, err3 := compare.SmallestCarry(mean(old), 1)
	if err := allOf(err1, err2, err3); err != nil {
		return nil, err
	}
	alone, err1 := compare.Judge(gain, smallest)
	judged, err2 := both.Judge(smallest)
	if err := allOf(err1, err2); err != nil {
		return nil, err
	}
	return []string{
		fmt.Sprintf("The smallest gain worth having here: %.1f yd.", smallest),
		"Before and after alone, had nothing else ridden along: " + alone.Sentence(),
		"Since something may have, no more could be said without the old swing at the end than: " + alone.WithoutBookend().Kind.String() + ".",
		both.Sentence(),
		"With both ends: " + judged.Sentence(),
	}, nil
}

// deal deals the clean balls of two stages of the demo lesson anew into a before
// and an after, in every way there is, and keeps how far apart the means then lie.
func deal(ctx context.Context, before, after string) (compare.Permutation, error) {
	a, err1 := demoGroup(before)
	b, err2 := demoGroup(after)
	if err := allOf(err1, err2); err != nil {
		return compare.Permutation{}, err
	}
	old, err1 := a.Clean()
	fresh, err2 := b.Clean()
	if err := allOf(err1, err2); err != nil {
		return compare.Permutation{}, err
	}
	return compare.Permute(ctx, old, fresh, func(before, after []dispersion.Point) (float64, error) {
		return math.Abs(meanCarry(after) - meanCarry(before)), nil
	}, compare.Options{})
}

// DealFigure draws how far apart the means lie in every way to deal the balls.
func DealFigure(ctx context.Context, before, after string) (chart.Figure, error) {
	p, err := deal(ctx, before, after)
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Permutation(chart.PermutationInput{Name: "means apart in carry", Unit: "yd", Result: p})
}

// DealTable says in how many of all ways to deal the balls the means lie as far
// apart as stated; the last row is the difference seen.
func DealTable(ctx context.Context, before, after string, apart []float64) (show.TableData, error) {
	t := show.TableData{Header: []string{"Means apart by, yd, or more", "In so many deals", "Share"}}
	p, err := deal(ctx, before, after)
	if err != nil {
		return t, err
	}
	t.Caption = fmt.Sprintf("The same %d and %d balls dealt into a before and an after, in each of the %d ways there are. The last row is what was seen.", p.N1, p.N2, p.Splits)
	for _, limit := range apart {
		n := 0
		for _, v := range p.Values {
			n += one(v >= limit)
		}
		t.Rows = append(t.Rows, []string{tenths(limit), fmt.Sprint(n), chance(float64(n) / float64(p.Splits))})
	}
	t.Rows = append(t.Rows, []string{tenths(p.Statistic), fmt.Sprint(p.AtLeast), chance(p.P)})
	return t, nil
}

// AreaLawTable says within which factor two patterns of one and the same swing
// differ in area, by the exact law for normal shots, and how often the intervals
// of both ratios hold the truth: with normal shots, and with mishits among them.
func AreaLawTable(ctx context.Context, sizes []int, rate float64, pairs int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Two patterns of one swing. Its areas differ by less than the factor, either way, in 95 of 100 pairs of normal groups (F law). Then, in %d simulated pairs, how many of 100 intervals at 95 %% held the truth, which is a ratio of 1. With mishits: %.0f %% of the balls carry %.0f %% of what they would.", pairs, 100*rate, 100*mishitShare),
		Header:  []string{"Balls each", "Factor", "Normal: area", "Normal: spread", "Mishits: area", "Mishits: spread"},
	}
	for i, n := range sizes {
		df := float64(2*n - 4)
		row := []string{fmt.Sprint(n), tenths(distuv.F{D1: df, D2: df}.Quantile(0.975))}
		for k, mishits := range []float64{0, rate} {
			r := random(seed, 110+uint64(2*i+k))
			area, spread := 0, 0
			for range pairs {
				a, err1 := dispersion.NewGroup(withMishits(r, n, mishits))
				b, err2 := dispersion.NewGroup(withMishits(r, n, mishits))
				if err := allOf(err1, err2); err != nil {
					return t, err
				}
				e, err1 := compare.AreaRatio(ctx, a, b, compare.Options{})
				s, err2 := compare.SpreadRatio(ctx, a, b, compare.Options{})
				if err := allOf(err1, err2); err != nil {
					return t, err
				}
				area += one(holds(e, 1))
				spread += one(holds(s, 1))
			}
			for _, held := range []int{area, spread} {
				row = append(row, fmt.Sprintf("%.0f", 100*float64(held)/float64(pairs)))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

func holds(e compare.Effect, truth float64) bool {
	return e.Interval.Low <= truth && truth <= e.Interval.High
}

// mishitShare is what a mishit keeps of its carry.
const mishitShare = 0.65

func withMishits(r *rand.Rand, n int, rate float64) []dispersion.Point {
	shots := OneSwing.Draw(r, n)
	for i := range shots {
		if r.Float64() < rate {
			shots[i].Y *= mishitShare
		}
	}
	return shots
}

// AreaPlan puts the law of areas into radii, and says how many balls a side show a
// true ratio of areas with the given power.
func AreaPlan(n int, ratio, power float64) ([]string, error) {
	if n < 3 {
		return nil, fmt.Errorf("course: an area takes 3 balls, not %d", n)
	}
	df := float64(2*n - 4)
	factor := distuv.F{D1: df, D2: df}.Quantile(0.975)
	balls, err := compare.BallsForArea(ratio, power, 0.95)
	if err != nil {
		return nil, err
	}
	return []string{
		fmt.Sprintf("%d balls each: a factor of %.1f in area is one of %.1f in radius, its root.", n, factor, math.Sqrt(factor)),
		fmt.Sprintf("%.0f %% less area is a radius of %.0f %% of the old one; to see it in %.0f of 100 lessons takes %d balls each.", 100*(1-ratio), 100*math.Sqrt(ratio), 100*power, balls),
	}, nil
}

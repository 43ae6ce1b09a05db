package course

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// demoGroup returns the group of a stage of the demo lesson.
func demoGroup(stage string) (lesson.Group, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return lesson.Group{}, err
	}
	var names []string
	for _, g := range l.Groups() {
		if g.Stage.Name == stage {
			return g, nil
		}
		names = append(names, g.Stage.Name)
	}
	return lesson.Group{}, fmt.Errorf("course: the demo lesson has no stage %q; it has %q", stage, names)
}

// demoCarries returns the clean carries of two stages of the demo lesson.
func demoCarries(before, after string) (old, fresh []float64, err error) {
	a, err1 := demoGroup(before)
	b, err2 := demoGroup(after)
	if err := allOf(err1, err2); err != nil {
		return nil, nil, err
	}
	return a.Values("carry"), b.Values("carry"), nil
}

// ThreeBest draws all clean balls of one stage of the demo lesson, and over them
// the longest few of a later stage: the picture that goes home with the pupil.
func ThreeBest(before, after string, keep int) (chart.Figure, error) {
	a, err1 := demoGroup(before)
	b, err2 := demoGroup(after)
	if err := allOf(err1, err2); err != nil {
		return chart.Figure{}, err
	}
	old, err1 := a.Clean()
	fresh, err2 := b.Clean()
	if err := allOf(err1, err2); err != nil {
		return chart.Figure{}, err
	}
	if keep < 1 || keep > fresh.N() {
		return chart.Figure{}, fmt.Errorf("course: the best %d of %d can't be picked", keep, fresh.N())
	}
	best := fresh.Points()
	slices.SortFunc(best, byCarry)
	return chart.Change(chart.ChangeInput{
		Title:  fmt.Sprintf("All of “%s”, and the best %d of “%s”", before, keep, after),
		Unit:   "yd",
		Before: chart.Stage{Name: before, Shots: old.Points()},
		After:  chart.Stage{Name: fmt.Sprintf("the best %d", keep), Shots: best[len(best)-keep:]},
	})
}

// ThreeBestTable holds the gain that the best few show against the gain of all
// balls of the same stage, and what picking does by itself.
func ThreeBestTable(ctx context.Context, before, after string, keep int) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("From “%s” to “%s”, clean carries in yards, with the interval that these balls fit at 95 %%.", before, after),
		Header:  []string{"What is shown", "Balls", "Gain, yd", "from", "to"},
	}
	old, fresh, err := demoCarries(before, after)
	if err != nil {
		return t, err
	}
	all, err := compare.MeanGain(ctx, compare.NameCarryGain, "yd", old, fresh, compare.Options{})
	if err != nil {
		return t, err
	}
	sorted := slices.Sorted(slices.Values(fresh))
	if keep < 1 || keep > len(sorted) {
		return t, fmt.Errorf("course: the best %d of %d can't be picked", keep, len(sorted))
	}
	rule := compare.Picking{Rule: compare.BestShots, Keep: keep, Of: len(fresh)}
	p, err := compare.PickedGain(ctx, compare.NameCarryGain, "yd", old, sorted[len(sorted)-keep:], rule, compare.Options{})
	if err != nil {
		return t, err
	}
	effect := func(name string, n int, e compare.Effect) []string {
		return []string{name, fmt.Sprint(n), tenths(e.Estimate), tenths(e.Interval.Low), tenths(e.Interval.High)}
	}
	t.Rows = [][]string{
		{fmt.Sprintf("the best %d of %d", keep, len(fresh)), fmt.Sprint(keep), tenths(p.Shown), "–", "–"},
		{"of that, from picking alone", "–", tenths(p.Inflation), "–", "–"},
		effect("the best, corrected for picking", keep, p.Corrected),
		effect("all of them", len(fresh), all),
	}
	return t, nil
}

// PickTable says how much longer the best k of n look, in standard deviations and
// in yards of the swing that never changes, by the law of order statistics and in
// simulated groups.
func PickTable(picks [][2]int, groups int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("How much longer the best look than the same swing truly is, with nothing changed: σ = %g yd, and %d simulated groups.", OneSwing.SD.Y, groups),
		Header:  []string{"Shown", "By theory, σ", "By theory, yd", "Simulated, yd"},
	}
	for i, pick := range picks {
		keep, of := pick[0], pick[1]
		looks, err := compare.PickInflation(compare.Picking{Rule: compare.BestShots, Keep: keep, Of: of})
		if err != nil {
			return t, err
		}
		r, sum := random(seed, 80+uint64(i)), 0.0
		for range groups {
			c := slices.Sorted(slices.Values(carries(OneSwing.Draw(r, of))))
			sum += mean(c[of-keep:]) - OneSwing.Centre.Y
		}
		t.Rows = append(t.Rows, []string{fmt.Sprintf("best %d of %d", keep, of), fmt.Sprintf("%.3f", looks),
			tenths(looks * OneSwing.SD.Y), tenths(sum / float64(groups))})
	}
	return t, nil
}

// A Squad is a group of invented pupils: the standard deviation of their true
// carries, and that of each one's single balls, in yards.
type Squad struct{ Between, Within float64 }

// ReturnTable lets the pupils of a squad hit on two days between which nothing
// happens, picks the longest and the shortest of the first day, and says what the
// same pupils do on the second.
func ReturnTable(pupils, picked, balls int, s Squad, squads int, seed uint64) show.TableData {
	kept := s.Between * s.Between / (s.Between*s.Between + s.Within*s.Within/float64(balls))
	t := show.TableData{
		Caption: fmt.Sprintf("%d pupils hit %d balls on each of two days, and nothing changes in between: mean carry less that of the whole squad, in yards, over %d such squads. Between pupils σ = %g yd, between the balls of one σ = %g yd, so that by theory a share of %.2f of any lead is kept.", pupils, balls, squads, s.Between, s.Within, kept),
		Header:  []string{"Picked on day one", "Day one, yd", "Day two, yd", "Share kept", "Moved back toward the middle, of 100"},
	}
	short, long := make([]float64, 2), make([]float64, 2)
	back := make([]int, 2)
	r := random(seed, 90)
	days := make([][2]float64, pupils)
	for range squads {
		for i := range days {
			truth := s.Between * r.NormFloat64()
			for day := range days[i] {
				days[i][day] = truth + s.Within/math.Sqrt(float64(balls))*r.NormFloat64()
			}
		}
		slices.SortFunc(days, func(a, b [2]float64) int { return byCarry(dispersion.Point{Y: a[0]}, dispersion.Point{Y: b[0]}) })
		for i := range picked {
			low, high := days[i], days[pupils-1-i]
			for day := range 2 {
				short[day] += low[day]
				long[day] += high[day]
			}
			back[0] += one(low[1] > low[0])
			back[1] += one(high[1] < high[0])
		}
	}
	all := float64(squads * picked)
	for i, days := range [][]float64{short, long} {
		name := []string{"the shortest", "the longest"}[i]
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%s %d", name, picked), tenths(days[0] / all), tenths(days[1] / all),
			fmt.Sprintf("%.2f", days[1]/days[0]), fmt.Sprintf("%.0f", 100*float64(back[i])/all)})
	}
	return t
}

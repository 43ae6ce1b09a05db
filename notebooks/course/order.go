package course

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/montanaflynn/stats"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/practice"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A Day is what happens to a pupil in a session whatever the swing, in yards of
// carry: the first balls fall short by Cold, which fades by half every HalfLife
// balls, and from the first ball to the last the carry climbs by Climb.
type Day struct {
	Name                  string
	Cold, HalfLife, Climb float64
}

// Days are a day on which nothing happens, a cold start and a steady climb, or,
// with a climb below 0, a pupil who tires.
func Days(cold, halfLife, climb float64) []Day {
	steady := fmt.Sprintf("climbs by %g yd to the end", climb)
	if climb < 0 {
		steady = fmt.Sprintf("tires by %g yd to the end", -climb)
	}
	return []Day{
		{Name: "nothing else happens"},
		{Name: fmt.Sprintf("cold by %g yd at first", cold), Cold: cold, HalfLife: halfLife},
		{Name: steady, Climb: climb},
	}
}

// shift is what the day does to ball i, from 0, of n.
func (d Day) shift(i, n int) float64 {
	s := d.Climb * float64(i) / float64(n-1)
	if d.Cold != 0 {
		s -= d.Cold * math.Exp2(-float64(i)/d.HalfLife)
	}
	return s
}

// hit returns the carries of a session: ball i is hit with the new swing where
// fresh says so.
func (d Day) hit(r *rand.Rand, fresh []bool, sd, gain float64) (old, new []float64) {
	for i, f := range fresh {
		x := 140 + d.shift(i, len(fresh)) + sd*r.NormFloat64()
		if f {
			new = append(new, x+gain)
		} else {
			old = append(old, x)
		}
	}
	return old, new
}

// An Order is a way to spend a session's balls on two swings, and to judge them.
type Order struct {
	Name  string
	judge func(ctx context.Context, d Day, r *rand.Rand, sd, gain float64) (compare.Verdict, error)
}

// worthHaving is the smallest gain worth having, in yards: half a club.
const worthHaving = 5

// Orders are three orders of some 32 balls.
func Orders() []Order {
	return []Order{
		{"16 old, 16 new", oldThenNew},
		{"11 old, 11 new, 11 old", oldNewOld},
		{"8 pairs of blocks, by coin", byCoin},
	}
}

// swings returns which balls are hit with the new swing, in runs of one swing.
func swings(runs ...int) []bool {
	var fresh []bool
	for i, n := range runs {
		for range n {
			fresh = append(fresh, i%2 == 1)
		}
	}
	return fresh
}

func oldThenNew(ctx context.Context, d Day, r *rand.Rand, sd, gain float64) (compare.Verdict, error) {
	old, fresh := d.hit(r, swings(16, 16), sd, gain)
	e, err := compare.MeanGain(ctx, compare.NameCarryGain, "yd", old, fresh, quick(planLevel))
	if err != nil {
		return compare.Verdict{}, err
	}
	v, err := compare.Judge(e, worthHaving)
	return v.WithoutBookend(), err
}

func oldNewOld(ctx context.Context, d Day, r *rand.Rand, sd, gain float64) (compare.Verdict, error) {
	old, fresh := d.hit(r, swings(11, 11, 11), sd, gain)
	b, err := compare.BookendGain(ctx, compare.NameCarryGain, "yd", old[:11], fresh, old[11:], quick(planLevel))
	if err != nil {
		return compare.Verdict{}, err
	}
	return b.Judge(worthHaving)
}

func byCoin(ctx context.Context, d Day, r *rand.Rand, sd, gain float64) (compare.Verdict, error) {
	const pairs = 8
	newFirst, err := compare.BlockOrder(pairs, r.Uint64())
	if err != nil {
		return compare.Verdict{}, err
	}
	var fresh []bool
	for _, first := range newFirst {
		for i := range 2 * compare.BlockBalls {
			fresh = append(fresh, (i < compare.BlockBalls) == first)
		}
	}
	old, new := d.hit(r, fresh, sd, gain)
	oldMeans, newMeans := make([]float64, pairs), make([]float64, pairs)
	for i := range pairs {
		from, to := i*compare.BlockBalls, (i+1)*compare.BlockBalls
		oldMeans[i], newMeans[i] = meanOf(old[from:to]), meanOf(new[from:to])
	}
	e, err := compare.PairedGain(ctx, compare.NameCarryGain, "yd", oldMeans, newMeans, quick(planLevel))
	if err != nil {
		return compare.Verdict{}, err
	}
	return compare.Judge(e, worthHaving)
}

// OrderTable says, by the day and the order of the balls, how much a swing that
// gains nothing seems to gain, and how often a session ends with “probably” or
// “worth having”.
func OrderTable(ctx context.Context, days []Day, sd, gain float64, sessions int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Three ways to spend some 32 balls, σ = %g yd, %d sessions each: what a swing that gains nothing seems to gain on average, and how many of 100 sessions call it a gain (“probably” or “worth having”, from %d yd on), without and with a true one.", sd, sessions, worthHaving),
		Header:  []string{"The day", "The order", "None seems, yd", "None called", fmt.Sprintf("%g yd called", gain)},
	}
	for i, d := range days {
		for j, o := range Orders() {
			part := uint64(300 + 100*i + 10*j)
			none, err := o.outcome(ctx, d, sd, 0, sessions, random(seed, part))
			if err != nil {
				return t, err
			}
			some, err := o.outcome(ctx, d, sd, gain, sessions, random(seed, part+1))
			if err != nil {
				return t, err
			}
			t.Rows = append(t.Rows, []string{d.Name, o.Name, fmt.Sprintf("%.1f", none.seems), fmt.Sprintf("%.0f", none.called), fmt.Sprintf("%.0f", some.called)})
		}
	}
	return t, nil
}

// An outcome of many sessions: the mean gain measured, in yards, and how many of
// 100 call it a gain.
type outcome struct{ seems, called float64 }

func (o Order) outcome(ctx context.Context, d Day, sd, gain float64, sessions int, r *rand.Rand) (outcome, error) {
	var sum outcome
	for range sessions {
		v, err := o.judge(ctx, d, r, sd, gain)
		if err != nil {
			return sum, err
		}
		sum.seems += v.Effect.Estimate
		if v.Kind == compare.WorthHaving || v.Kind == compare.Probably {
			sum.called += 100
		}
	}
	n := float64(sessions)
	return outcome{sum.seems / n, sum.called / n}, nil
}

// ColdFigure draws a session of one swing that starts cold, and the fading start
// that fits it best.
func ColdFigure(ctx context.Context, cold, halfLife, sd float64, balls int, seed uint64) (chart.Figure, error) {
	d := Day{Cold: cold, HalfLife: halfLife}
	values, _ := d.hit(random(seed, 2), make([]bool, balls), sd, 0)
	trend, err := practice.ColdStart(ctx, "carry", "yd", nil, values, quick(planLevel))
	if err != nil {
		return chart.Figure{}, err
	}
	middle, err := stats.Median(values)
	if err != nil {
		return chart.Figure{}, err
	}
	run := practice.RunChart{Column: "carry", Unit: "yd", Stretches: []practice.Stretch{{Stage: lesson.Stage{Name: "one swing"}, To: balls, Median: middle}}}
	for i, v := range values {
		run.Points = append(run.Points, practice.RunPoint{Ball: i + 1, Value: v})
	}
	off := trend.Off
	return chart.RunChart(chart.RunChartInput{
		Title: fmt.Sprintf("In truth %g yd short at first; these %d balls fit from %s to %s", cold, balls, signed(off.Interval.Low), signed(off.Interval.High)),
		Chart: run, Trend: &trend,
	})
}

// ColdTable says what is left of a cold start in the mean of a first stage when
// some balls are hit before it that do not count.
func ColdTable(cold, halfLife float64, stage int, warmUps []int) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("A start that is cold by %g yd and fades by half every %g balls: how many yards short the mean of a first stage of %d balls is, after so many balls that do not count.", cold, halfLife, stage),
		Header:  []string{"Balls to warm up", "The first stage is short by, yd"},
	}
	for _, w := range warmUps {
		sum := 0.0
		for i := range stage {
			sum += cold * math.Exp2(-float64(w+i)/halfLife)
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(w), fmt.Sprintf("%.1f", sum/float64(stage))})
	}
	return t
}

// LessonRun draws the demo lesson's carries in the order hit.
func LessonRun() (chart.Figure, error) {
	run, err := lessonRun()
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.RunChart(chart.RunChartInput{Title: "Carry, ball by ball: steps or a slope?", Chart: run})
}

func lessonRun() (practice.RunChart, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return practice.RunChart{}, err
	}
	return practice.RunChartOf(l, "7 iron", "carry")
}

// StepsOrSlope says of the demo lesson whether one long drift explains the balls
// as well as the stages do.
func StepsOrSlope(ctx context.Context) ([]string, error) {
	run, err := lessonRun()
	if err != nil {
		return nil, err
	}
	check, err := run.DriftOrStages(planLevel)
	if err != nil {
		return nil, err
	}
	return []string{check.Sentence(), "For the statistician: " + check.Line()}, nil
}

// LessonBookend says what the old swing, hit again at the end of the demo lesson,
// leaves of the gain.
func LessonBookend(ctx context.Context) ([]string, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return nil, err
	}
	headline := l.Pairs()[0]
	b, err := compare.BookendGain(ctx, compare.NameCarryGain, "yd", headline.Before.Values("carry"), headline.After.Values("carry"), headline.Bookend.Values("carry"), compare.Options{})
	if err != nil {
		return nil, err
	}
	v, err := b.Judge(worthHaving)
	if err != nil {
		return nil, err
	}
	return []string{b.Sentence(), v.Sentence()}, nil
}

// signed writes whole yards off a level with their sign.
func signed(v float64) string {
	v = math.Round(v)
	switch {
	case v < 0:
		return fmt.Sprintf("−%.0f", -v)
	case v > 0:
		return fmt.Sprintf("+%.0f", v)
	}
	return "0"
}

package review

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// StagesFigure draws where the balls of every stage landed.
func (r *Review) StagesFigure() (chart.Figure, error) {
	in := chart.StagesInput{Title: "Where the balls landed, stage by stage", Unit: string(r.Lesson.Unit)}
	for _, s := range r.Stages {
		stage := chart.Stage{Name: label(s.Stage.Name), Sentence: s.sentence(r.Lesson.Unit), Like: s.like(), Mishit: s.Mishit}
		for _, shot := range s.Shots {
			stage.Shots = append(stage.Shots, shot.Point())
		}
		in.Stages = append(in.Stages, stage)
	}
	return chart.Stages(in)
}

// like names what the stage may be compared with.
func (s Stage) like() string {
	if s.Stage.Intent == lesson.Drill {
		return s.Club + " drill"
	}
	return s.Club
}

// sentence is what stands above the plan of a stage.
func (s Stage) sentence(unit lesson.Unit) string {
	var b strings.Builder
	if s.Club != "" {
		fmt.Fprintf(&b, "%s, ", label(s.Club))
	}
	switch {
	case s.Stage.Bookend:
		b.WriteString("the old swing hit again")
	case s.Stage.Intent == lesson.Drill:
		b.WriteString("a drill, pictured and not judged")
	case s.Stage.Intent == lesson.Baseline:
		b.WriteString("the swing as it came")
	default:
		b.WriteString("full swings")
	}
	if s.Carry.N > 0 {
		fmt.Fprintf(&b, ": %.0f %s on average", s.Carry.Mean, unit)
	}
	return upperFirst(b.String()) + "."
}

// narrow is the level of the inner interval of the effects' picture.
const narrow = 0.80

// EffectsFigure draws every effect of some pairs that can be computed. Without
// any, the error is [chart.ErrEmpty].
func (r *Review) EffectsFigure(ctx context.Context, pairs []lesson.Pair) (chart.Figure, error) {
	in := chart.EffectsInput{Title: "What changed, and how sure that is"}
	for _, p := range pairs {
		for _, name := range Names {
			row, ok, err := r.effectRow(ctx, p, name)
			if err != nil {
				return chart.Figure{}, err
			}
			if ok {
				in.Rows = append(in.Rows, row)
			}
		}
	}
	return chart.Effects(in)
}

func (r *Review) effectRow(ctx context.Context, p lesson.Pair, name string) (row chart.Effect, ok bool, err error) {
	if name == compare.NameAngleSpreadRatio && !angleMatters(p) {
		return row, false, nil
	}
	f, err := r.Find(ctx, p, name)
	if err != nil || f.Effect == nil {
		return row, false, err
	}
	o := r.options
	o.Level = narrow
	inner, err := r.effect(ctx, p.Before, p.After, name, o)
	if err != nil {
		return row, false, err
	}
	e := *f.Effect
	row = chart.Effect{
		Name: title(name), Unit: e.Unit, Null: e.Null, Estimate: e.Estimate,
		Narrow: inner.Interval, Wide: e.Interval, Smallest: e.Null, N1: e.N1, N2: e.N2,
	}
	if len(r.Clubs()) > 1 {
		row.Name += ", " + label(p.Before.Club)
	}
	if name == compare.NameMishitRateChange { // of 100 balls, as people say it
		row.Unit = "of 100"
		row.Estimate *= 100
		row.Narrow, row.Wide = hundredfold(row.Narrow), hundredfold(row.Wide)
	}
	if f.Verdict != nil {
		row.Says = f.Verdict.Kind.String()
		row.Smallest = smallestOnAxis(*f.Verdict, name)
	}
	return row, true, nil
}

func hundredfold(i dispersion.Interval) dispersion.Interval {
	return dispersion.Interval{Low: 100 * i.Low, High: 100 * i.High, Level: i.Level}
}

// smallestOnAxis is where on the axis of an effect a change begins to be worth
// having.
func smallestOnAxis(v compare.Verdict, name string) float64 {
	switch name {
	case compare.NameMishitRateChange:
		return -100 * v.Smallest
	case compare.NameAreaRatio: // judged by the radius
		return (1 - v.Smallest) * (1 - v.Smallest)
	case compare.NameSpreadRatio, compare.NameAngleSpreadRatio:
		return 1 - v.Smallest
	}
	return v.Smallest
}

// ShowEffects shows the picture of the headlines' effects in a notebook, or
// says that there is none.
func (r *Review) ShowEffects(ctx context.Context) {
	figure, err := r.EffectsFigure(ctx, r.Headlines())
	if errors.Is(err, chart.ErrEmpty) {
		show.Text("There is no effect to draw.")
		return
	}
	show.Figure(show.Must(figure, err))
}

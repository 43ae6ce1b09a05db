package review

import (
	"context"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// narrow is the level of the inner interval of the effects' picture.
const narrow = 0.80

// An EffectRow is an effect as a picture shows it.
type EffectRow struct {
	Name     string
	Says     string // the verdict; "" for none
	Unit     string
	Null     float64
	Estimate float64
	Narrow   dispersion.Interval // at 80 %
	Wide     dispersion.Interval // at the level of the review
	Smallest float64             // where a change begins to be worth having; Null for none
	N1, N2   int
}

// EffectRows returns every effect of some pairs that can be computed; that of
// the angles only where the carry moved by more than 5 %.
func (r *Review) EffectRows(ctx context.Context, pairs []lesson.Pair) ([]EffectRow, error) {
	var rows []EffectRow
	for _, p := range pairs {
		for _, name := range Names {
			row, ok, err := r.effectRow(ctx, p, name)
			if err != nil {
				return nil, err
			}
			if ok {
				rows = append(rows, row)
			}
		}
	}
	return rows, nil
}

func (r *Review) effectRow(ctx context.Context, p lesson.Pair, name string) (row EffectRow, ok bool, err error) {
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
	e, called := *f.Effect, title(name)
	if f.Ends != nil { // what the verdict is about
		e, inner.Interval = f.Ends.Gain, narrowed(f.Ends.Gain)
		called += ", both ends"
	}
	row = EffectRow{
		Name: called, Unit: e.Unit, Null: e.Null, Estimate: e.Estimate,
		Narrow: inner.Interval, Wide: e.Interval, Smallest: e.Null, N1: e.N1, N2: e.N2,
	}
	if len(r.Clubs()) > 1 {
		row.Name += ", " + Label(p.Before.Club)
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

// narrowed is the interval of a gain that came from t, at the narrow level.
func narrowed(e compare.Effect) dispersion.Interval {
	t := distuv.StudentsT{Sigma: 1, Nu: e.DF}
	times := t.Quantile((1+narrow)/2) / t.Quantile((1+e.Interval.Level)/2)
	return dispersion.Interval{
		Low:  e.Estimate - times*(e.Estimate-e.Interval.Low),
		High: e.Estimate + times*(e.Interval.High-e.Estimate), Level: narrow,
	}
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

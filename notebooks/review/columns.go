package review

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// ColumnTable lists how the means of the other measured columns changed, for
// the clean shots of the pairs: did the thing that was worked on change? It has
// no rows, and its caption says so, where nothing else was measured.
func (r *Review) ColumnTable(ctx context.Context, pairs []lesson.Pair) (show.TableData, error) {
	t := show.TableData{
		Caption: r.caption(fmt.Sprintf("Means of the clean shots; after minus before with the %s interval (Welch). Not judged: how much of it matters is for coach and pupil to say.", level(r.options.Level))),
		Header:  []string{"Measured", "Before", "After", "Shots", "Mean before", "Mean after", "Change", "from", "to"},
	}
	for _, p := range pairs {
		for _, c := range r.Lesson.Columns {
			if !c.Numeric {
				continue
			}
			before, after := p.Before.Values(c.Name), p.After.Values(c.Name)
			if len(before) == 0 && len(after) == 0 {
				continue
			}
			row := []string{Label(c.Name), Label(p.Before.Stage.Name), Label(p.After.Stage.Name), fmt.Sprintf("%d, %d", len(before), len(after))}
			e, err := compare.MeanGain(ctx, c.Name, c.Unit, before, after, r.options)
			switch {
			case ctx.Err() != nil:
				return t, ctx.Err()
			case err != nil: // one ball, or the same value on both sides: shown without an interval
				row = append(row, summary(before).cells()[0], summary(after).cells()[0], dash, dash, dash)
			default:
				row = append(row, tenths(e.Before), tenths(e.After), tenths(e.Estimate), tenths(e.Interval.Low), tenths(e.Interval.High))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	if len(t.Rows) == 0 {
		t.Caption = "Nothing but carry and side was measured in two like stages."
		return t, nil
	}
	return samePair(t, pairs), nil
}

package review

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// StageTable lists the stages: how many balls, how many mishits, and where the
// clean ones landed.
func (r *Review) StageTable() show.TableData {
	unit := string(r.Lesson.Unit)
	t := show.TableData{
		Caption: r.caption(fmt.Sprintf("Stages in the order hit. Carry, side (right of the target line positive) and radius are of the clean shots, in %s; the radius is that of the one-sigma circle, with its %s interval.", unit, level(r.options.Level))),
		Header:  []string{"Stage", "Intent", "Club", "Balls", "Mishits", "Carry, mean", "SD", "Side, mean", "SD", "Radius", "from", "to"},
	}
	for _, s := range r.Stages {
		row := []string{Label(s.Stage.Name), string(s.Stage.Intent), Label(s.Club), fmt.Sprint(len(s.Shots)), fmt.Sprint(s.Mishits())}
		row = append(row, s.Carry.cells()...)
		row = append(row, s.Side.cells()...)
		if s.Radius == nil {
			row = append(row, dash, dash, dash)
		} else {
			row = append(row, tenths(s.Radius.Raw), tenths(s.Radius.Interval.Low), tenths(s.Radius.Interval.High))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// MishitTable lists the mishit rate of each stage with its interval.
func (r *Review) MishitTable() (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Mishits of 100 balls, with the %s interval (Wilson).", level(r.options.Level)),
		Header:  []string{"Stage", "Club", "Balls", "Mishits", "of 100", "from", "to"},
	}
	for _, s := range r.Stages {
		i, err := compare.WilsonInterval(s.Mishits(), len(s.Shots), r.options.Level)
		if err != nil {
			return t, err
		}
		share := float64(s.Mishits()) / float64(len(s.Shots))
		t.Rows = append(t.Rows, []string{
			Label(s.Stage.Name), Label(s.Club), fmt.Sprint(len(s.Shots)), fmt.Sprint(s.Mishits()),
			whole(100 * share), whole(100 * i.Low), whole(100 * i.High),
		})
	}
	return t, nil
}

// EffectTable lists the named effects of the pairs.
func (r *Review) EffectTable(ctx context.Context, pairs []lesson.Pair, names ...string) (show.TableData, error) {
	t := show.TableData{
		Caption: r.caption(fmt.Sprintf("Gains are after minus before, ratios after over before; %s intervals.", level(r.options.Level))),
		Header:  []string{"What", "Before", "After", "Shots", "Value before", "Value after", "Change", "from", "to", "p", "Verdict"},
	}
	for _, p := range pairs {
		for _, name := range names {
			f, err := r.Find(ctx, p, name)
			if err != nil {
				return t, err
			}
			t.Rows = append(t.Rows, f.rows()...)
		}
	}
	return samePair(t, pairs), nil
}

// samePair drops the columns of the two stages where there is one pair alone,
// and names it in the caption: a table has to fit on a phone.
func samePair(t show.TableData, pairs []lesson.Pair) show.TableData {
	if len(pairs) != 1 {
		return t
	}
	t.Caption = upperFirst(pairName(pairs[0])) + ". " + t.Caption
	t.Header = slices.Delete(slices.Clone(t.Header), 1, 3)
	for i, row := range t.Rows {
		t.Rows[i] = slices.Delete(row, 1, 3)
	}
	return t
}

// SpreadTable lists the spreads of the headlines, of the angles too where the
// carry moved by more than 5 %.
func (r *Review) SpreadTable(ctx context.Context) (show.TableData, error) {
	names := []string{compare.NameSpreadRatio, compare.NameAreaRatio}
	if slices.ContainsFunc(r.Headlines(), angleMatters) {
		names = append(names, compare.NameAngleSpreadRatio)
	}
	return r.EffectTable(ctx, r.Headlines(), names...)
}

// rows are those of a finding in a table: one, or two where the verdict is about
// the old swing at both ends of the lesson.
func (f Finding) rows() [][]string {
	names := []string{title(f.Name), Label(f.Pair.Before.Stage.Name), Label(f.Pair.After.Stage.Name)}
	if f.Effect == nil {
		return [][]string{append(names, dash, dash, dash, dash, dash, dash, dash, "can't be computed")}
	}
	verdict := dash
	if f.Verdict != nil {
		verdict = f.Verdict.Kind.String()
	}
	if f.Ends == nil {
		return [][]string{append(names, f.cells(*f.Effect, verdict)...)}
	}
	ends := []string{names[0] + ", against both ends", names[1], names[2]}
	return [][]string{
		append(names, f.cells(*f.Effect, dash)...),
		append(ends, f.cells(f.Ends.Gain, verdict)...),
	}
}

// cells are what a table says of an effect of the finding.
func (f Finding) cells(e compare.Effect, verdict string) []string {
	number, value := f.number(), f.value()
	return []string{
		fmt.Sprintf("%d, %d", e.N1, e.N2), value(e.Before), value(e.After),
		number(e.Estimate), number(e.Interval.Low), number(e.Interval.High), pCell(e), verdict,
	}
}

// pCell writes p, and the least that it could have been where that is no
// smaller than what is printed.
func pCell(e compare.Effect) string {
	switch {
	case !e.HasP:
		return dash
	case e.PFloor >= .0005:
		return fmt.Sprintf("%.3f, least %.3f", e.P, e.PFloor)
	case e.P < .001:
		return "< 0.001"
	}
	return fmt.Sprintf("%.3f", e.P)
}

// value returns how the two values that a finding compares are printed.
func (f Finding) value() func(float64) string {
	if f.Name == compare.NameAngleSpreadRatio {
		return func(v float64) string { return fmt.Sprintf("%.2f°", v*180/math.Pi) }
	}
	return f.number()
}

// number returns how the values of a finding are printed.
func (f Finding) number() func(float64) string {
	switch f.Name {
	case compare.NameSpreadRatio, compare.NameAreaRatio, compare.NameAngleSpreadRatio:
		return func(v float64) string { return fmt.Sprintf("%.2f", v) }
	case compare.NameMishitRateChange:
		return func(v float64) string { return fmt.Sprintf("%.2f", v) }
	}
	return tenths
}

// title is what a reader calls an effect.
func title(name string) string {
	switch name {
	case compare.NameMishitRateChange:
		return "Mishit rate"
	case compare.NameCarryGain:
		return "Carry, clean shots"
	case NameCarryGainAll:
		return "Carry, all shots"
	case compare.NameSideShift:
		return "Side"
	case compare.NameSpreadRatio:
		return "Spread"
	case compare.NameAreaRatio:
		return "Area, if shots were normal"
	case compare.NameAngleSpreadRatio:
		return "Spread of angles"
	}
	return name
}

const dash = "–"

func (s Summary) cells() []string {
	switch s.N {
	case 0:
		return []string{dash, dash}
	case 1:
		return []string{tenths(s.Mean), dash}
	}
	return []string{tenths(s.Mean), tenths(s.SD)}
}

func tenths(v float64) string { return fmt.Sprintf("%.1f", zeroed(v, .05)) }

func whole(v float64) string { return fmt.Sprintf("%.0f", zeroed(v, .5)) }

// zeroed keeps a small negative number from being printed as -0.
func zeroed(v, half float64) float64 {
	if math.Abs(v) < half {
		return 0
	}
	return v
}

func level(l float64) string { return fmt.Sprintf("%.4g %%", 100*l) }

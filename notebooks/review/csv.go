package review

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"strings"
)

// CSV returns every effect of every pair, headlines first, as a table for
// spreadsheets: what [Review.JSON] says of them, one row each. What can't be
// computed is an empty cell. A name that a spreadsheet would take for a formula
// has an apostrophe before it.
func (r *Review) CSV(ctx context.Context) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"name", "unit", "club", "before", "after", "headline", "before_value", "after_value",
		"n_before", "n_after", "estimate", "low", "high", "level", "p", "verdict", "warnings",
		"both_ends_estimate", "both_ends_low", "both_ends_high"}}
	for _, p := range r.Pairs {
		for _, name := range Names {
			f, err := r.Find(ctx, p, name)
			if err != nil {
				return nil, err
			}
			rows = append(rows, f.json(r.options.Level).row())
		}
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

func (e jsonEffect) row() []string {
	number := func(v *float64) string {
		if v == nil {
			return ""
		}
		return strconv.FormatFloat(*v, 'g', -1, 64)
	}
	whole := func(v *int) string {
		if v == nil {
			return ""
		}
		return strconv.Itoa(*v)
	}
	var ends [3]*float64
	if e.BothEnds != nil {
		ends = [3]*float64{&e.BothEnds.Estimate, &e.BothEnds.Low, &e.BothEnds.High}
	}
	verdict := ""
	if e.Verdict != nil {
		verdict = *e.Verdict
	}
	return []string{
		e.Name, e.Unit, noFormula(e.Club), noFormula(e.Before), noFormula(e.After), strconv.FormatBool(e.Headline),
		number(e.BeforeValue), number(e.AfterValue), whole(e.NBefore), whole(e.NAfter),
		number(e.Estimate), number(e.Low), number(e.High), number(&e.Level), number(e.P), verdict,
		noFormula(strings.Join(e.Warnings, "; ")), number(ends[0]), number(ends[1]), number(ends[2]),
	}
}

// noFormula keeps a spreadsheet from taking text for a formula.
func noFormula(s string) string {
	if strings.IndexAny(s, "=+-@\t\r\n＝＋－＠") == 0 {
		return "'" + s
	}
	return s
}

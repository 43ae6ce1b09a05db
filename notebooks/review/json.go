package review

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// The shape of review.json. What can't be computed is null, with a warning.
type (
	jsonReview struct {
		Pupil    string          `json:"pupil,omitempty"`
		Session  string          `json:"session,omitempty"`
		Unit     string          `json:"unit"`
		Mirrored bool            `json:"mirrored,omitempty"`
		Level    float64         `json:"level"`
		Rows     int             `json:"rows"`
		Shots    int             `json:"shots"`
		Rejected []jsonRejection `json:"rejected"`
		Warnings []string        `json:"warnings"`
		Stages   []jsonStage     `json:"stages"`
		Effects  []jsonEffect    `json:"effects"`
		Drift    []jsonEffect    `json:"drift"`

		// What was expected of the headlines beforehand, where it can be read.
		Expectations []jsonScore `json:"expectations,omitempty"`

		// What moved along with the headlines, where the columns for it are there.
		MovedAlong []jsonMoved `json:"moved_along,omitempty"`
	}
	jsonScore struct {
		Club     string  `json:"club"`
		Before   string  `json:"before"`
		After    string  `json:"after"`
		Expected float64 `json:"expected"`
		Measured float64 `json:"measured"`
		Off      float64 `json:"off"`
		Held     bool    `json:"held"`
	}
	jsonRejection struct {
		Line   int    `json:"line"`
		Column string `json:"column"`
		Reason string `json:"reason"`
	}
	jsonStage struct {
		Name           string               `json:"name"`
		Intent         string               `json:"intent"`
		Club           string               `json:"club"`
		Bookend        bool                 `json:"bookend"`
		N              int                  `json:"n"`
		Mishits        int                  `json:"mishits"`
		Carry          jsonSummary          `json:"carry"`
		Side           jsonSummary          `json:"side"`
		Radius         *float64             `json:"radius"`
		RadiusInterval *dispersion.Interval `json:"radius_interval"`
		Warnings       []string             `json:"warnings"`
	}
	jsonSummary struct {
		Mean *float64 `json:"mean"`
		SD   *float64 `json:"sd"`
	}
	jsonEffect struct {
		Name        string   `json:"name"`
		Unit        string   `json:"unit"`
		Club        string   `json:"club"`
		Before      string   `json:"before"`
		After       string   `json:"after"`
		Headline    bool     `json:"headline"`
		BeforeValue *float64 `json:"before_value"`
		AfterValue  *float64 `json:"after_value"`
		NBefore     *int     `json:"n_before"`
		NAfter      *int     `json:"n_after"`
		Estimate    *float64 `json:"estimate"`
		Low         *float64 `json:"low"`
		High        *float64 `json:"high"`
		Level       float64  `json:"level"`
		P           *float64 `json:"p"`
		PFloor      *float64 `json:"p_floor"`
		Method      *string  `json:"method"`
		Verdict     *string  `json:"verdict"`

		// BothEnds is the gain against the old swing at both ends of the lesson, where
		// there is one: then it is what the verdict is about.
		BothEnds *jsonGain `json:"both_ends,omitempty"`

		Warnings []string `json:"warnings"`
	}
	jsonGain struct {
		Estimate float64 `json:"estimate"`
		Low      float64 `json:"low"`
		High     float64 `json:"high"`
	}
)

// JSON returns the review as the content of review.json: counts, stages, every
// effect of every pair, headlines first, and how far the old swing drifted from
// its first balls to those at the end. progress, if not nil, is told
// how many pairs are done.
func (r *Review) JSON(ctx context.Context, progress func(done, total int)) ([]byte, error) {
	out := jsonReview{
		Pupil: r.Lesson.Pupil, Session: r.Lesson.Session,
		Unit: string(r.Lesson.Unit), Mirrored: r.Lesson.Mirrored, Level: r.options.Level,
		Rows: r.Lesson.Rows, Shots: len(r.Lesson.Shots),
		Rejected: []jsonRejection{}, Warnings: texts(r.Lesson.Warnings),
		Stages: []jsonStage{}, Effects: []jsonEffect{}, Drift: []jsonEffect{},
	}
	for _, x := range r.Lesson.Rejected {
		out.Rejected = append(out.Rejected, jsonRejection(x))
	}
	for _, s := range r.Stages {
		out.Stages = append(out.Stages, s.json())
	}
	for i, p := range r.Pairs {
		if progress != nil {
			progress(i, len(r.Pairs))
		}
		for _, name := range Names {
			f, err := r.Find(ctx, p, name)
			if err != nil {
				return nil, err
			}
			out.Effects = append(out.Effects, f.json(r.options.Level))
		}
	}
	for _, p := range r.Headlines() {
		f, _, err := r.headline(ctx, p)
		if err != nil {
			return nil, err
		}
		if f.Ends != nil {
			out.Drift = append(out.Drift, drift(f, p).json(r.options.Level))
		}
		if s, ok := r.score(p, f); ok {
			out.Expectations = append(out.Expectations, jsonScore{
				p.Before.Club, p.Before.Stage.Name, p.After.Stage.Name, s.Expected, s.Effect.Estimate, s.Off, s.Held,
			})
		}
	}
	moved, err := r.MovedAlong(ctx)
	if err != nil {
		return nil, err
	}
	for _, m := range moved {
		out.MovedAlong = append(out.MovedAlong, r.movedJSON(m)...)
	}
	text, err := json.MarshalIndent(out, "", " ")
	return append(text, '\n'), err
}

func (s Stage) json() jsonStage {
	j := jsonStage{
		Name: s.Stage.Name, Intent: string(s.Stage.Intent), Club: s.Club, Bookend: s.Stage.Bookend,
		N: len(s.Shots), Mishits: s.Mishits(), Carry: s.Carry.json(), Side: s.Side.json(),
		Warnings: append([]string{}, s.Notes...),
	}
	if s.Radius != nil {
		// As it stands, like the standard deviations beside it.
		j.Radius, j.RadiusInterval = &s.Radius.Raw, &s.Radius.Interval
	}
	return j
}

func (s Summary) json() jsonSummary {
	var j jsonSummary
	if s.N > 0 {
		j.Mean = &s.Mean
	}
	if s.N > 1 {
		j.SD = &s.SD
	}
	return j
}

func (f Finding) json(level float64) jsonEffect {
	j := jsonEffect{
		Name: f.Name, Club: f.Pair.Before.Club, Before: f.Pair.Before.Stage.Name, After: f.Pair.After.Stage.Name,
		Headline: f.Pair.Headline, Level: level, Warnings: texts(f.Warnings),
	}
	if e := f.Effect; e != nil {
		j.Unit = e.Unit
		j.BeforeValue, j.AfterValue = &e.Before, &e.After
		j.NBefore, j.NAfter = &e.N1, &e.N2
		j.Estimate, j.Low, j.High = &e.Estimate, &e.Interval.Low, &e.Interval.High
		j.Method = &e.Method
		if e.HasP {
			j.P = &e.P
			if e.PFloor > 0 {
				j.PFloor = &e.PFloor
			}
		}
	}
	if f.Ends != nil {
		g := f.Ends.Gain
		j.BothEnds = &jsonGain{g.Estimate, g.Interval.Low, g.Interval.High}
	}
	if f.Verdict != nil {
		kind := f.Verdict.Kind.String()
		j.Verdict = &kind
	}
	return j
}

// drift is how far the old swing moved between the ends of a headline's lesson.
func drift(f Finding, p lesson.Pair) Finding {
	return Finding{
		Name: compare.NameDrift, Pair: lesson.Pair{Before: p.Before, After: *p.Bookend},
		Effect:   &f.Ends.Drift,
		Warnings: append(slices.Clone(f.Ends.Drift.Warnings), fmt.Errorf("no verdict: %w", compare.ErrNoBetter)),
	}
}

func texts(warnings []error) []string {
	out := make([]string, len(warnings))
	for i, w := range warnings {
		out[i] = plain(w)
	}
	return out
}

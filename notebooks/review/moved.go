package review

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A MovedAlong is what moved along with the change of one headline. It says what
// went together, and not what did it.
type MovedAlong struct {
	Pair          lesson.Pair
	Before, After []flight.Shot // the clean ones whose flight can be reckoned
	Fit           *flight.Fitted
	Splits        *flight.Splits // nil where there is none, Says says why
	Says          []string
}

// MovedAlong takes the change of each headline apart by ball speed, launch, spin
// and direction, through flights fitted to all shots with the club. It is empty
// where the lesson lacks the columns for that. What can't be computed is said and
// is no error.
func (r *Review) MovedAlong(ctx context.Context) ([]MovedAlong, error) {
	var all []MovedAlong
	for _, p := range r.Headlines() {
		m := MovedAlong{Pair: p}
		err := r.movedAlong(ctx, &m)
		var columns *flight.ColumnError
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case errors.As(err, &columns):
			return nil, nil
		case err != nil:
			m.Splits = nil
			m.Says = []string{fmt.Sprintf("%s: what moved along with it can't be told: %s.", pairName(p), plain(err))}
		}
		all = append(all, m)
	}
	return all, nil
}

func (r *Review) movedAlong(ctx context.Context, m *MovedAlong) error {
	var hit []lesson.Shot // all with the club, mishits and drills too: any flight tells how the ball flies
	for _, s := range r.Stages {
		if s.Club == m.Pair.Before.Club {
			hit = append(hit, s.Shots...)
		}
	}
	all, err := flight.ShotsOf(r.Lesson, hit)
	if err != nil {
		return err
	}
	for _, side := range []struct {
		group lesson.Group
		into  *[]flight.Shot
	}{{m.Pair.Before, &m.Before}, {m.Pair.After, &m.After}} {
		clean, err := flight.ShotsOf(r.Lesson, cleanShots(side.group))
		if err != nil {
			return err
		}
		*side.into = clean.Shots
	}
	fit, err := flight.FitCoefficients(all.Shots, flight.Conditions{}, flight.DragAndLift)
	if err != nil {
		return err
	}
	o := r.options
	o.Resamples = 0 // as many as a split takes by itself
	splits, err := flight.SplitGain(ctx, m.Before, m.After, fit, o)
	if err != nil {
		return err
	}
	m.Fit, m.Splits = &fit, &splits
	m.Says = []string{fmt.Sprintf("What moved along with it, not what did it. %s: %s", pairName(m.Pair), r.splitSentence(splits.Carry))}
	if strike, err := flight.SplitStrike(ctx, m.Before, m.After, o); err == nil {
		m.Says = append(m.Says, strikeSentence(strike))
	}
	shapes, err := r.shapeSentence(ctx, *m)
	switch {
	case err == nil:
		m.Says = append(m.Says, shapes)
	case !errors.Is(err, flight.ErrNoStartLine) && !errors.Is(err, flight.ErrNoSide): // of those there is nothing to say
		return err
	}
	worth, err := r.worthOfMore(ctx, *m)
	if err != nil {
		return err
	}
	m.Says = append(m.Says, worth)
	return nil
}

func cleanShots(g lesson.Group) (shots []lesson.Shot) {
	for i, s := range g.Shots {
		if !g.Mishit[i] {
			shots = append(shots, s)
		}
	}
	return shots
}

// splitSentence names the largest part and what the others come to.
func (r *Review) splitSentence(s flight.Split) string {
	parts := s.Parts[:len(s.Parts)-1]
	most := parts[0]
	for _, p := range parts {
		if size(p) > size(most) {
			most = p
		}
	}
	var others []string
	for _, p := range s.Parts {
		if p.Name != most.Name {
			others = append(others, fmt.Sprintf("%s %s", partName(p.Name), r.more(p.Flight.Estimate)))
		}
	}
	i := most.Flight.Interval
	return fmt.Sprintf("of a change of %s %s in carry, %s moved along with %s (these balls fit %s to %s), with %s. %s",
		r.more(s.Gain), r.Lesson.Unit, r.more(most.Flight.Estimate), most.Name, r.more(i.Low), r.more(i.High), strings.Join(others, ", "), agreementSentence(s.Agreement))
}

func size(p flight.Part) float64 { return max(p.Flight.Estimate, -p.Flight.Estimate) }

func partName(name string) string {
	if name == flight.PartRest {
		return "the rest"
	}
	return name
}

func agreementSentence(a flight.Agreement) string {
	switch a {
	case flight.Agree:
		return "The measured columns asked without physics, by regression, agree."
	case flight.Disagree:
		return "The measured columns asked without physics, by regression, disagree: trust neither before more balls are hit."
	}
	return "The measured columns asked without physics, by regression, are too few to confirm it."
}

// strikeSentence says whether the club was swung faster or the ball hit better.
func strikeSentence(s flight.StrikeSplit) string {
	mph := func(v float64) string { return signedTenths(v / flight.MPH) }
	return fmt.Sprintf("Ball speed changed by %s mph: %s moved along with club speed (swung faster), %s (%s to %s) with the share of it that the ball took on, %.2f before and %.2f after (hit it better).",
		mph(s.BallSpeed.Estimate), mph(s.Swing.Estimate), mph(s.Strike.Estimate), mph(s.Strike.Interval.Low), mph(s.Strike.Interval.High), s.RatioBefore, s.RatioAfter)
}

// shapeSentence says what of the side error was start line and what curve.
func (r *Review) shapeSentence(ctx context.Context, m MovedAlong) (string, error) {
	o := r.options
	o.Resamples = 0
	var says []string
	for _, stage := range []struct {
		name  string
		shots []flight.Shot
	}{{m.Pair.Before.Stage.Name, m.Before}, {m.Pair.After.Stage.Name, m.After}} {
		s, err := flight.ShapesOf(ctx, stage.shots, flight.RightHanded, 0, o)
		if err != nil {
			return "", err
		}
		says = append(says, fmt.Sprintf("in %s %.0f %% was start line and %.0f %% curve, with %d of %d straight, %d curved left and %d right",
			quoted(stage.name), zeroed(100*s.FromStart.Estimate, .5), zeroed(100*s.FromCurve.Estimate, .5), s.Words[flight.Straight], s.N, s.Words[flight.Draw], s.Words[flight.Fade]))
	}
	return fmt.Sprintf("Of the side error, %s. Straight is up to %.1f degrees of curve, common practice.", strings.Join(says, "; "), flight.StraightWithin/flight.Degree), nil
}

// worthOfMore says what a little more of each is worth around the shots of now.
func (r *Review) worthOfMore(ctx context.Context, m MovedAlong) (string, error) {
	o := r.options
	o.Resamples = 0
	all, err := flight.Sensitivities(ctx, m.After, *m.Fit, o)
	if err != nil {
		return "", err
	}
	little := map[string]string{flight.PartSpeed: "1 mph of ball speed", flight.PartAngle: "1 degree of launch", flight.PartSpin: "100 rpm of spin"}
	var says []string
	flat := ""
	for _, s := range all {
		says = append(says, fmt.Sprintf("%s is worth %s (%s to %s)", little[s.Of], r.more(s.Carry.Estimate), r.more(s.Carry.Interval.Low), r.more(s.Carry.Interval.High)))
		flat += flatSentence(s)
	}
	return fmt.Sprintf("Around the shots of %s, the rest as it was, in %s of carry: %s.%s Nobody changes one of them alone.", quoted(m.Pair.After.Stage.Name), r.Lesson.Unit, strings.Join(says, ", "), flat), nil
}

// flatSentence says how flat the top of the carry is, where there is one in reach.
func flatSentence(s flight.Sensitivity) string {
	switch {
	case s.Top == nil || s.Top.AtEdge:
		return ""
	case s.Of == flight.PartSpin:
		return fmt.Sprintf(" Any spin from %.0f to %.0f rpm carries within a yard of the best.", 100*math.Round(s.Top.Low/flight.RPM/100), 100*math.Round(s.Top.High/flight.RPM/100))
	}
	return fmt.Sprintf(" Any launch from %.0f to %.0f degrees carries within a yard of the best.", s.Top.Low/flight.Degree, s.Top.High/flight.Degree)
}

// more writes a length in metres in the unit of the lesson, with its sign.
func (r *Review) more(metres float64) string {
	return signedTenths(metres / r.Lesson.Unit.Metres())
}

func signedTenths(v float64) string {
	if v = zeroed(v, .05); v == 0 {
		return "0.0"
	}
	return fmt.Sprintf("%+.1f", v)
}

// MovedTable lists the parts of the changes of carry, height and curve.
func (r *Review) MovedTable(m MovedAlong) show.TableData {
	t := show.TableData{
		Caption: r.caption(fmt.Sprintf("What moved along with the change of the clean shots, %d before and %d after, in %s with %s intervals: by flights fitted to the shots with this club, in standard air, averaged over all orders; and by regression on the measured columns. Curve: right of the start line positive.", len(m.Before), len(m.After), r.Lesson.Unit, level(r.options.Level))),
		Header:  []string{"Change of", "Part", "By flights", "from", "to", "By regression", "from", "to", "The two"},
	}
	for _, s := range m.splits() {
		for _, p := range s.Parts {
			row := []string{fmt.Sprintf("%s, %s", s.Of, r.more(s.Gain)), partName(p.Name), r.more(p.Flight.Estimate), r.more(p.Flight.Interval.Low), r.more(p.Flight.Interval.High)}
			if p.Regression == nil {
				row = append(row, dash, dash, dash)
			} else {
				row = append(row, r.more(p.Regression.Estimate), r.more(p.Regression.Interval.Low), r.more(p.Regression.Interval.High))
			}
			t.Rows = append(t.Rows, append(row, string(p.Agreement)))
		}
	}
	return t
}

// splits returns the changes that could be taken apart.
func (m MovedAlong) splits() (all []flight.Split) {
	if m.Splits == nil {
		return nil
	}
	all = append(all, m.Splits.Carry)
	if m.Splits.Height != nil {
		all = append(all, *m.Splits.Height)
	}
	if m.Splits.Curve != nil {
		all = append(all, *m.Splits.Curve)
	}
	return all
}

package course

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// Flown is the demo lesson with how its balls fly: fitted to every shot that was
// measured, mishits and drills too, in standard air.
type Flown struct {
	Fit           flight.Fitted
	Before, After []flight.Shot // the clean shots of the headline
	lesson        *lesson.Lesson
}

// FlyLesson fits the flights of the demo lesson.
func FlyLesson() (Flown, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return Flown{}, err
	}
	all, err := flight.ShotsOf(l, l.Shots)
	if err != nil {
		return Flown{}, err
	}
	f := Flown{lesson: l}
	if f.Fit, err = flight.FitCoefficients(all.Shots, flight.Conditions{}, flight.DragAndLift); err != nil {
		return f, err
	}
	headline := l.Pairs()[0]
	if f.Before, err = f.clean(headline.Before); err != nil {
		return f, err
	}
	f.After, err = f.clean(headline.After)
	return f, err
}

func (f Flown) clean(g lesson.Group) ([]flight.Shot, error) {
	var shots []lesson.Shot
	for i, s := range g.Shots {
		if !g.Mishit[i] {
			shots = append(shots, s)
		}
	}
	m, err := flight.ShotsOf(f.lesson, shots)
	return m.Shots, err
}

// StrikeTable lists, stage by stage in the order hit, the means of club speed, ball
// speed and their ratio over the clean shots that are no drills.
func (f Flown) StrikeTable() (show.TableData, error) {
	t := show.TableData{
		Caption: "Means of the clean shots, stage by stage in the order hit; the drills are left out. The ratio is ball speed over club speed.",
		Header:  []string{"Stage", "Shots", "Club speed, mph", "Ball speed, mph", "Ratio", "Carry, yd"},
	}
	for _, g := range f.lesson.Groups() {
		if g.Stage.Intent == lesson.Drill {
			continue
		}
		club, ball := g.Values("club_speed_mph"), g.Values("ball_speed_mph")
		if len(club) == 0 || len(ball) == 0 {
			return t, fmt.Errorf("course: no speeds in stage %q", g.Stage.Name)
		}
		t.Rows = append(t.Rows, []string{g.Stage.Name, fmt.Sprint(len(ball)), tenths(mean(club)), tenths(mean(ball)),
			fmt.Sprintf("%.2f", mean(ball)/mean(club)), tenths(mean(g.Values("carry")))})
	}
	return t, nil
}

// StrikeSentences says how far the means of club speed and ball speed moved from
// the first stage of the headline to the last, with what the clean shots fit.
func (f Flown) StrikeSentences(ctx context.Context) ([]string, error) {
	headline := f.lesson.Pairs()[0]
	var says []string
	for _, column := range []struct{ name, called string }{{"club_speed", "Club speed"}, {"ball_speed", "Ball speed"}} {
		in := column.name + "_mph"
		e, err := compare.MeanGain(ctx, column.name, "mph", headline.Before.Values(in), headline.After.Values(in), quick(planLevel))
		if err != nil {
			return nil, err
		}
		says = append(says, fmt.Sprintf("%s from “%s” to “%s”: %+.1f mph; these balls fit anything from %+.1f to %+.1f.",
			column.called, headline.Before.Stage.Name, headline.After.Stage.Name, e.Estimate, e.Interval.Low, e.Interval.High))
	}
	return says, nil
}

// substitution is one thing that an average flight before has replaced by what it
// was after.
type substitution struct {
	name string
	do   func(l *flight.Launch, after flight.Launch)
}

var substitutions = []substitution{
	{"ball speed", func(l *flight.Launch, after flight.Launch) { l.Speed = after.Speed }},
	{"launch angle", func(l *flight.Launch, after flight.Launch) { l.Angle = after.Angle }},
	{"spin", func(l *flight.Launch, after flight.Launch) { l.Spin = after.Spin }},
}

// OrdersTable flies the average launch of before and replaces ball speed, launch
// angle and spin by what they were after, one by one, in every order.
func (f Flown) OrdersTable() (show.TableData, error) {
	t := show.TableData{
		Caption: "The average launch of before, turned into that of after one thing at a time: what each adds to the carry, in yards, by the order of changing them.",
		Header:  []string{"Order", "Ball speed", "Launch angle", "Spin", "Together"},
	}
	from, to := averageLaunch(f.Before), averageLaunch(f.After)
	for _, order := range [][]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		now := from
		at, err := f.carry(now)
		if err != nil {
			return t, err
		}
		begin, name, adds := at, "", make([]float64, len(substitutions))
		for k, i := range order {
			substitutions[i].do(&now, to)
			next, err := f.carry(now)
			if err != nil {
				return t, err
			}
			adds[i], at = next-at, next
			if k > 0 {
				name += ", "
			}
			name += substitutions[i].name
		}
		row := []string{name}
		for _, a := range append(adds, at-begin) {
			row = append(row, fmt.Sprintf("%.2f", a))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// carry returns how far a launch carries by the fitted flight, in yards.
func (f Flown) carry(l flight.Launch) (float64, error) {
	flown, err := f.Fit.Model().Fly(l, f.Fit.Conditions)
	return flown.Carry / flight.Yard, err
}

func averageLaunch(shots []flight.Shot) (l flight.Launch) {
	n := float64(len(shots))
	for _, s := range shots {
		l.Speed += s.Launch.Speed / n
		l.Angle += s.Launch.Angle / n
		l.Spin += s.Launch.Spin / n
	}
	return l
}

// PartsTable takes the gain of the headline apart: averaged over all orders and all
// pairs of shots, by the fitted flights and, beside it, by regression.
func (f Flown) PartsTable(ctx context.Context) (show.TableData, error) {
	splits, err := flight.SplitGain(ctx, f.Before, f.After, f.Fit, compare.Options{})
	if err != nil {
		return show.TableData{}, err
	}
	t := show.TableData{
		Caption: fmt.Sprintf("What moved along with %s yd of carry, %d shots before and %d after, in yards, with 95 %% intervals: by flights fitted to the shots, averaged over all orders, and by regression on the measured columns, without physics.", tenths(splits.Carry.Gain/flight.Yard), len(f.Before), len(f.After)),
		Header:  []string{"Part", "By flights", "from", "to", "By regression", "from", "to", "The two"},
	}
	for _, p := range splits.Carry.Parts {
		row := []string{p.Name, yards(p.Flight.Estimate), yards(p.Flight.Interval.Low), yards(p.Flight.Interval.High), "–", "–", "–"}
		if p.Regression != nil {
			row = append(row[:4], yards(p.Regression.Estimate), yards(p.Regression.Interval.Low), yards(p.Regression.Interval.High))
		}
		t.Rows = append(t.Rows, append(row, string(p.Agreement)))
	}
	return t, nil
}

func yards(metres float64) string { return tenths(metres / flight.Yard) }

// FlightsFigure draws the mean flights of the headline.
func (f Flown) FlightsFigure() (chart.Figure, error) {
	in := chart.MeanFlightsInput{Unit: lesson.Yards}
	for i, name := range []string{"before", "after"} {
		m, err := flight.MeanFlightOf([][]flight.Shot{f.Before, f.After}[i], f.Fit.Model(), f.Fit.Conditions)
		if err != nil {
			return chart.Figure{}, err
		}
		in.Flights = append(in.Flights, chart.NamedFlight{Name: name, Flight: m})
	}
	return chart.MeanFlights(in)
}

// A Weather is the air of a day: warmth in °C, height above the sea in metres, and
// humidity as a share.
type Weather struct{ Celsius, Height, Humidity float64 }

// AirTable carries the clean shots of before to the air of other days.
func (f Flown) AirTable(days []Weather) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("The %d clean shots of before in other air, nothing else changed: how much farther they would carry than in the standard air of 15 °C at sea level, in yards, with a 95 %% interval of what the fit and the form of the flight leave open.", len(f.Before)),
		Header:  []string{"°C", "Height, m", "Humidity, %", "Density, kg/m³", "Farther by", "from", "to"},
	}
	for _, w := range days {
		standard, err := flight.StandardAtmosphere(w.Height)
		if err != nil {
			return t, err
		}
		air, err := flight.MoistAir(w.Celsius, standard.Pressure, w.Humidity)
		if err != nil {
			return t, err
		}
		c, err := flight.InAir(f.Before, f.Fit, flight.Conditions{Air: air.Air()})
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%g", w.Celsius), fmt.Sprintf("%g", w.Height), fmt.Sprintf("%g", 100*w.Humidity),
			fmt.Sprintf("%.3f", air.Density), yards(c.MeanChange), yards(c.MeanChange - twoSides*c.MeanSE), yards(c.MeanChange + twoSides*c.MeanSE)})
	}
	return t, nil
}

// twoSides is what 5 of 100 normal deviations exceed, either way.
const twoSides = 1.96

// ShapesTable says of each stage that is no drill what of its side error was start
// line and what curve.
func (f Flown) ShapesTable(ctx context.Context) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Start line and curve of the clean shots, right-handed. The side error is the root mean square from the target line. Straight is up to %.1f degrees of curve (common practice, no source).", flight.StraightWithin/flight.Degree),
		Header:  []string{"Stage", "Shots", "Side error, yd", "Start line, %", "from", "to", "Curve, %", "Straight", "Curved left", "Curved right"},
	}
	for _, g := range f.lesson.Groups() {
		if g.Stage.Intent == lesson.Drill {
			continue
		}
		shots, err := f.clean(g)
		if err != nil {
			return t, err
		}
		s, err := flight.ShapesOf(ctx, shots, flight.RightHanded, 0, compare.Options{})
		if err != nil {
			return t, err
		}
		per := func(v float64) string { return fmt.Sprintf("%.0f", math.Round(100*v)+0) }
		t.Rows = append(t.Rows, []string{g.Stage.Name, fmt.Sprint(s.N), yards(s.RootSide),
			per(s.FromStart.Estimate), per(s.FromStart.Interval.Low), per(s.FromStart.Interval.High), per(s.FromCurve.Estimate),
			fmt.Sprint(s.Words[flight.Straight]), fmt.Sprint(s.Words[flight.Draw]), fmt.Sprint(s.Words[flight.Fade])})
	}
	return t, nil
}

// MixSentence says how far the share of the start line moved from the first stage of
// the headline to the last. The interval of the difference is made from those of the
// two shares:
//
//	low = d - √((p₂-l₂)² + (u₁-p₁)²),  high = d + √((u₂-p₂)² + (p₁-l₁)²),  d = p₂ - p₁
//
// Reference: G. Y. Zou and A. Donner, "Construction of Confidence Limits about Effect
// Measures: A General Approach", Statistics in Medicine 27(10), 2008, pp. 1693-1702
// (from memory).
func (f Flown) MixSentence(ctx context.Context) (string, error) {
	headline := f.lesson.Pairs()[0]
	var shares [2]flight.Share
	for i, shots := range [][]flight.Shot{f.Before, f.After} {
		s, err := flight.ShapesOf(ctx, shots, flight.RightHanded, 0, compare.Options{})
		if err != nil {
			return "", err
		}
		shares[i] = s.FromStart
	}
	d, low, high := shareMoved(shares[0], shares[1])
	return fmt.Sprintf("The share of the start line, from “%s” to “%s”: %+.0f points of a hundred; these balls fit anything from %+.0f to %+.0f.",
		headline.Before.Stage.Name, headline.After.Stage.Name, 100*d, 100*low, 100*high), nil
}

func shareMoved(before, after flight.Share) (d, low, high float64) {
	d = after.Estimate - before.Estimate
	low = d - math.Hypot(after.Estimate-after.Interval.Low, before.Interval.High-before.Estimate)
	high = d + math.Hypot(after.Interval.High-after.Estimate, before.Estimate-before.Interval.Low)
	return d, low, high
}

package course

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/practice"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// seasonClub is the club that the demo season is about.
const seasonClub = "7 iron"

func demoSeason() (*practice.Season, error) {
	return practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
}

// SeasonTable lists the sessions of the demo season with the mean of a column in
// the first balls, before any teaching, and in the last stage that counts.
func SeasonTable(column, unit string) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("The sessions of one pupil with the %s: the mean %s in %s of the clean first balls and of the clean balls at the session's end.", seasonClub, column, unit),
		Header:  []string{"Session", "First balls", "They are", "First, mean", "End, balls", "End, mean", "End less first"},
	}
	s, err := demoSeason()
	if err != nil {
		return t, err
	}
	for _, session := range s.Sessions {
		row := []string{session.Name, "–", "–", "–", "–", "–", "–"}
		var first, end float64
		for _, stage := range session.Stages {
			if stage.Club != seasonClub {
				continue
			}
			values := stage.Values(column)
			switch {
			case stage.First:
				first = mean(values)
				row[1], row[2], row[3] = fmt.Sprint(len(values)), string(stage.Phase), tenths(first)
			case stage.Phase == practice.Immediate:
				end = mean(values)
				row[4], row[5], row[6] = fmt.Sprint(len(values)), tenths(end), tenths(end-first)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// SeasonFigure draws a column of the demo season from session to session.
func SeasonFigure(title, column, unit string) (chart.Figure, error) {
	s, err := demoSeason()
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Season(chart.SeasonInput{Title: title, Season: s, Club: seasonClub, Column: column, Unit: unit})
}

// KeptSentences says what became of the gain of the demo season's first session in
// a column, by the first balls of the named session; "" is the last. daySD is how
// much days differ by themselves; 0 leaves that out.
func KeptSentences(ctx context.Context, column, session string, daySD float64) ([]string, error) {
	s, err := demoSeason()
	if err != nil {
		return nil, err
	}
	k, err := practice.Kept(ctx, s, practice.Question{Club: seasonClub, Column: column, Session: session, DaySD: daySD}, compare.Options{})
	if err != nil {
		return nil, err
	}
	return []string{k.Sentence(), "For the statistician: " + k.Line()}, nil
}

// DaysTable fits the mixed model to the balls at the end of the demo season's
// sessions, where nothing was changed any more, and says how far a session of so
// many balls can be trusted.
func DaysTable(balls []int) (show.TableData, error) {
	t := show.TableData{Header: []string{"Balls a session", "One session is off by, yd", "Two may differ by, yd"}}
	fit, err := daysFit()
	if err != nil {
		return t, err
	}
	for _, n := range balls {
		r, err := fit.Repeatability("sessions", n)
		if err != nil {
			return t, err
		}
		t.Caption = fmt.Sprintf("From %d balls in %d sessions: single balls of one day differ by %s yd (standard deviation, 95 %%: %s to %s), days by %s (%s to %s). How far the mean of one session lies from the pupil's own long run, as a standard deviation, and by how much two sessions of a pupil who has not changed may differ, 95 times in 100.",
			fit.N, len(fit.Random[0].Levels), tenths(r.Within.SD), tenths(r.Within.Interval.Low), tenths(r.Within.Interval.High),
			tenths(r.Between.SD), tenths(r.Between.Interval.Low), tenths(r.Between.Interval.High))
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), tenths(r.Error), tenths(r.Change)})
	}
	return t, nil
}

func daysFit() (practice.MixedFit, error) {
	s, err := demoSeason()
	if err != nil {
		return practice.MixedFit{}, err
	}
	return practice.FitMixed(practice.SessionModel("carry", "yd", s.Measured(seasonClub, "carry", practice.Immediate)), practice.FitOptions{})
}

// An Intake says when pupils come: on any day, or on one on which they hit their
// first balls at least Under yards below what they usually do.
type Intake struct {
	Name  string
	Under float64
}

// Intakes are the rules by which pupils come.
func Intakes(under float64) []Intake {
	return []Intake{
		{"come on any day", math.Inf(-1)},
		{"come on a day below their usual", 0},
		{fmt.Sprintf("come on a day %g yd or more below it", under), under},
	}
}

// IntakeTable says what pupils seem to gain who are taught nothing at all: first
// balls of a later day against those of the day on which they came, and against
// those of another day before any teaching.
func IntakeTable(intakes []Intake, balls int, sd, daySD float64, pupils int, seed uint64) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("%d pupils each who are taught nothing; %d first balls a day, σ = %g yd from ball to ball and %g yd from day to day. What they seem to gain, in yards, on average.", pupils, balls, sd, daySD),
		Header:  []string{"Pupils", "Against the day they came", "Against a second day before any teaching"},
	}
	for i, in := range intakes {
		r := random(seed, uint64(60+i))
		day := func() float64 { return daySD*r.NormFloat64() + sd/math.Sqrt(float64(balls))*r.NormFloat64() }
		var came, second float64
		for range pupils {
			first := day()
			for first > -in.Under {
				first = day()
			}
			before, later := day(), day()
			came += later - first
			second += later - before
		}
		n := float64(pupils)
		t.Rows = append(t.Rows, []string{in.Name, tenths(came / n), tenths(second / n)})
	}
	return t
}

// ManyDaysTable says how far the mean of several days, each of so many balls, lies
// from the pupil's own long run.
func ManyDaysTable(balls int, days []int) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("The mean of several days of %d balls each: how far it lies from the pupil's own long run, as a standard deviation.", balls),
		Header:  []string{"Days", "It is off by, yd"},
	}
	fit, err := daysFit()
	if err != nil {
		return t, err
	}
	r, err := fit.Repeatability("sessions", balls)
	if err != nil {
		return t, err
	}
	for _, k := range days {
		t.Rows = append(t.Rows, []string{fmt.Sprint(k), fmt.Sprintf("%.1f", r.Error/math.Sqrt(float64(k)))})
	}
	return t, nil
}

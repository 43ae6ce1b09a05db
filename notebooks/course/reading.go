package course

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// DemoNotes says how many rows of the demo lesson were read, and line by line
// what kept the others from being read.
func DemoNotes() ([]string, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return nil, err
	}
	notes := []string{fmt.Sprintf("%s, %s: %d rows, %d of them read as shots, in %d stages.", l.Pupil, l.Session, l.Rows, len(l.Shots), len(l.Stages))}
	for _, r := range l.Rejected {
		notes = append(notes, fmt.Sprintf("Line %d of the file, column %s: %s.", r.Line, r.Column, r.Reason))
	}
	for _, w := range l.Warnings {
		notes = append(notes, w.Error())
	}
	return notes, nil
}

// DemoStages draws the stages of the demo lesson with the mishits crossed.
func DemoStages() (chart.Figure, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return chart.Figure{}, err
	}
	in := chart.StagesInput{Title: "One lesson, stage by stage; crossed balls are mishits", Unit: string(l.Unit)}
	for _, g := range l.Groups() {
		clean, err := g.Clean()
		if err != nil {
			return chart.Figure{}, err
		}
		like := "all swings"
		if g.Stage.Intent == lesson.Drill {
			like = "drills"
		}
		in.Stages = append(in.Stages, chart.Stage{
			Name: g.Stage.Name, Like: like, Shots: points(g.Shots), Mishit: g.Mishit,
			Sentence: fmt.Sprintf("%s (%s): %.0f yd when struck.", g.Stage.Name, g.Stage.Intent, clean.Mean().Y),
		})
	}
	return chart.Stages(in)
}

func points(shots []lesson.Shot) []dispersion.Point {
	p := make([]dispersion.Point, len(shots))
	for i, s := range shots {
		p[i] = s.Point()
	}
	return p
}

// DemoTwoAnswers gives both answers of each stage of the demo lesson: how often
// a ball was mishit, with the rates that so many balls fit, and how good the rest
// were; and beside them the one number that mixes the two.
func DemoTwoAnswers() (show.TableData, error) {
	t := show.TableData{
		Caption: "Each stage answers two questions. The rates are those that so many balls fit at 95 %. The last column mixes both answers.",
		Header:  []string{"Stage", "Balls", "Mishit", "Rate from, %", "to, %", "Carry when struck, yd", "Carry of all, yd"},
	}
	l, err := datasets.DemoLesson()
	if err != nil {
		return t, err
	}
	for _, g := range l.Groups() {
		clean, err1 := g.Clean()
		all, err2 := g.All()
		rate, err3 := compare.WilsonInterval(g.Mishits(), len(g.Shots), 0.95)
		if err := allOf(err1, err2, err3); err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{g.Stage.Name, fmt.Sprint(len(g.Shots)), fmt.Sprint(g.Mishits()),
			fmt.Sprintf("%.0f", 100*rate.Low), fmt.Sprintf("%.0f", 100*rate.High),
			tenths(clean.Mean().Y), tenths(all.Mean().Y)})
	}
	return t, nil
}

// DemoMishits lists the mishits of the demo lesson: how far short each fell of the
// middle carry of its stage, and the farthest that a ball of the same stage fell
// short without being one.
func DemoMishits() (show.TableData, error) {
	t := show.TableData{
		Caption: "Every mishit, against the middle carry of its stage, and the shortest ball of that stage that is none.",
		Header:  []string{"Stage", "Ball", "Carry, yd", "Middle carry, yd", "Short by, yd", "Side, yd", "Shortest other ball, yd"},
	}
	l, err := datasets.DemoLesson()
	if err != nil {
		return t, err
	}
	for _, g := range l.Groups() {
		middle, err := dispersion.Median(carries(points(g.Shots)))
		if err != nil {
			return t, err
		}
		for i, s := range g.Shots {
			if g.Mishit[i] {
				t.Rows = append(t.Rows, []string{g.Stage.Name, fmt.Sprint(i + 1), tenths(s.Carry), tenths(middle),
					tenths(middle - s.Carry), tenths(s.Side), tenths(slices.Min(g.Values("carry")))})
			}
		}
	}
	return t, nil
}

// DroppedTable says what it does to a group to leave out its shortest balls by
// eye, whether they were mishit or not: one swing that never changes and mishits
// nothing, hit over and over.
func DroppedTable(n int, dropped []int, groups int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("One swing without a single mishit (it carries %g yd, σ = %g yd), %d groups of %d balls, means over the groups.", OneSwing.Centre.Y, OneSwing.SD.Y, groups, n),
		Header:  []string{"Shortest balls left out", "Carry of the rest, yd", "Spread radius of the rest, yd"},
	}
	for _, k := range dropped {
		r := random(seed, 20)
		var carry, radius float64
		for range groups {
			rest, err := dispersion.NewGroup(withoutShortest(OneSwing.Draw(r, n), k))
			if err != nil {
				return t, err
			}
			size, err := rest.Radius(0.95)
			if err != nil {
				return t, err
			}
			carry += rest.Mean().Y / float64(groups)
			radius += size.Value / float64(groups)
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(k), tenths(carry), tenths(radius)})
	}
	return t, nil
}

func withoutShortest(shots []dispersion.Point, k int) []dispersion.Point {
	slices.SortFunc(shots, byCarry)
	return shots[k:]
}

func byCarry(a, b dispersion.Point) int {
	switch {
	case a.Y < b.Y:
		return -1
	case a.Y > b.Y:
		return 1
	}
	return 0
}

// RuleTable says how often the rule for mishits marks a ball of a swing that
// mishits nothing, and how often it finds one that is: a ball that carries only a
// stated share of what it would have.
func RuleTable(sizes []int, share float64, lessons int, seed uint64) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("The rule on invented stages whose truth is known, %d of each size: σ = %g yd, one true mishit in each, which keeps %.0f %% of its carry.", lessons, OneSwing.SD.Y, 100*share),
		Header:  []string{"Balls in the stage", "True mishits found, of 100", "Good balls marked, of 1000"},
	}
	for i, n := range sizes {
		r := random(seed, 30+uint64(i))
		found, wrong := 0, 0
		for range lessons {
			g := stageWithMishit(r, n, share)
			for j, mishit := range g.Mishit {
				switch {
				case mishit && j == 0:
					found++
				case mishit:
					wrong++
				}
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), tenths(100 * float64(found) / float64(lessons)),
			tenths(1000 * float64(wrong) / float64(lessons*(n-1)))})
	}
	return t
}

// stageWithMishit is a lesson's only stage: n balls, the first of which is mishit.
func stageWithMishit(r *rand.Rand, n int, share float64) lesson.Group {
	l := lesson.Lesson{Unit: lesson.Yards, Stages: []lesson.Stage{{Name: "only", Intent: lesson.Full}}}
	for i, p := range OneSwing.Draw(r, n) {
		if i == 0 {
			p.Y *= share
		}
		l.Shots = append(l.Shots, lesson.Shot{Line: i + 2, Ball: i + 1, Stage: "only", Intent: lesson.Full, Carry: p.Y, Side: p.X})
	}
	return l.Groups()[0]
}

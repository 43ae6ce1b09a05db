package practice

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Protocol returns the protocol of the study as Markdown, for the teachers who run
// it and for a pupil who asks.
//
// Errors: [ErrStudy].
func (p StudyPlan) Protocol() (string, error) {
	if err := p.check(); err != nil {
		return "", err
	}
	var b strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&b, format+"\n", values...) }
	line("# %s: the protocol", p.Title)
	line("")
	line("Each of %d pupils practises with two drills, *%s* and *%s*, one after the other. Which comes first is drawn. So every pupil is", p.Pupils, p.Drills[0], p.Drills[1])
	line("compared with himself or herself, and being talented, keen or new to the game favours neither drill.")
	line("")
	line("## Who can take part")
	line("")
	line("- Anyone who agrees after reading this page; for a minor a parent agrees too. Leaving is possible at any time, without a reason.")
	line("- No one who is in pain. Who gets pain stops; a statistic is no advice on a body.")
	line("- The list of orders comes from a seed fixed beforehand and is kept by someone who doesn't teach. A teacher enrols pupils two by two and sees")
	line("  their draws afterwards: of each two the second follows from the first, and must not be known when the second is enrolled.")
	line("")
	line("## What is done, twice")
	line("")
	line("1. **Test before.** The first %d balls of the day, with one club and at one target, before any teaching. Only warm up without balls.", p.TestBalls)
	line("2. **Drill.** %d balls in all within %d days, in the order drawn for the pupil:", p.PracticeBalls, p.PracticeDays)
	line("   *blocked* means all balls of one task and then the next task; *random* means that the task changes from ball to ball, from a shuffled list.")
	line("3. **Test after.** %d days after the test before, again the first %d balls of the day, before any teaching, with the same club, ball, mat and target.", p.PracticeDays, p.TestBalls)
	line("4. **Pause.** At least %d days of ordinary play before the other drill begins with its own test before.", p.WashoutDays)
	line("")
	line("The schedule, blocked or random, stays the same for a pupil. The test after comes on a later day because what goes well while a drill is hit")
	line("may be gone by then.")
	line("")
	line("## Every ball counts")
	line("")
	line("All balls of a test are written down, mishits too. None is hit again. A ball is left out only if something from outside spoiled it (a door, a")
	line("stray ball), and the reason is noted before the next one is hit.")
	line("")
	line("## The data")
	line("")
	line("The pooled file has one row for each ball of a test: %s. A pupil and a teacher stand there as a", strings.Join(p.poolHeader(), ", "))
	line("keyed hash: turns of one pupil can be joined, and a name can't be found without the key. The key is drawn at random, kept by one person and")
	line("deleted when the study ends. The file has no names, days, places or remarks. While the key exists it is personal data; treat it so.")
	return b.String(), nil
}

// Preregistration returns what is to be fixed and published before the first ball,
// as Markdown: the question, the one headline, the analysis, and what would change
// the mind. Fields that only people can fill in are left as lines to write on.
//
// Errors: [ErrStudy].
func (p StudyPlan) Preregistration() (string, error) {
	width, err := p.HalfWidth(0)
	if err != nil {
		return "", err
	}
	gain, reach := "mean carry", fmt.Sprintf("about %.1f %s", width, p.Unit)
	if p.Measure == MeasureRadius {
		gain, reach = "logarithm of the radius √(area/π)", fmt.Sprintf("a factor of about %.2f", math.Exp(width))
	}
	var b strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&b, format+"\n", values...) }
	line("# %s: settled before the first ball", p.Title)
	line("")
	line("| | |")
	line("| --- | --- |")
	line("| question | Does *%s* teach more than *%s*? |", p.Drills[1], p.Drills[0])
	line("| headline | the difference between the drills in %s, test after minus test before |", gain)
	line("| smallest difference worth having | %s |", p.smallestText())
	line("| also looked at | blocked against random schedule; second turn against first; which pupils gained more than expected |")
	line("| design | randomised crossover, two drills in two periods; order and schedule drawn in fours within each teacher, seed %d |", p.Seed)
	line("| pupils | %d, each with two turns; the study ends with the last of them, not when the answer looks good |", p.Pupils)
	line("| test | the first %d balls of a day, %d days apart; every ball counts |", p.TestBalls, p.PracticeDays)
	line("| analysis | mixed model of the gains: drill, schedule, period fixed; pupils and teachers random; restricted maximum likelihood, 95 %% intervals with Satterthwaite's t |")
	line("| width | thought beforehand: %s, so the interval of the headline will reach %s to either side |", p.spreadText(), reach)
	line("| left out | a pupil without any whole turn; a pupil with one turn stays in, and says nothing of the drills |")
	line("| verdict | by the interval against the smallest difference worth having: worth having, probably, no gain worth having, worse, or can't tell |")
	line("")
	line("Written by ______________  on ______________  published at ______________")
	return b.String(), nil
}

// Report returns the answer of the study as Markdown: the headline with its verdict,
// then what was also looked at.
//
// Errors: those of [compare.Judge].
func (r CrossoverResult) Report() (string, error) {
	v, err := compare.Judge(r.Drill, r.Plan.Smallest)
	if err != nil {
		return "", err
	}
	p := r.Plan
	var b strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&b, format+"\n", values...) }
	line("# %s: what came out", p.Title)
	line("")
	line("%d pupils of %d teachers, %d turns.", r.Pupils, r.Teachers, r.Trials)
	line("")
	more := "of carry"
	if p.Measure == MeasureRadius {
		more = "of the radius"
	}
	line("**%s against %s: %s.** %s %s, with anything from %s to %s fitting what was measured; %s was settled as the smallest difference worth having.",
		p.Drills[1], p.Drills[0], v.Kind, r.number(r.Drill.Estimate), more, r.number(r.Drill.Interval.Low), r.number(r.Drill.Interval.High), p.smallestText())
	line("")
	line("| | estimate | interval at %g %% |", 100*r.Fit.Level)
	line("| --- | ---: | ---: |")
	row := func(name string, e compare.Effect) {
		line("| %s | %s | %s to %s |", name, r.number(e.Estimate), r.number(e.Interval.Low), r.number(e.Interval.High))
	}
	row(p.Drills[1]+" against "+p.Drills[0]+" (headline)", r.Drill)
	row("random against blocked order (also seen)", r.Schedule)
	row("second turn against first (also seen)", r.Period)
	line("")
	line("## Who gained more than expected")
	line("")
	line("Beyond drill, order, turn and teacher, after allowing for chance. The best of many look good by chance, which the shrinking towards 0 already takes off.")
	line("")
	gains := r.PupilGains
	if p.Measure == MeasureRadius { // the tightest first
		gains = slices.Clone(gains)
		slices.Reverse(gains)
		line("| pupil | radius against the one expected | interval |")
	} else {
		line("| pupil | more than expected | interval |")
	}
	line("| --- | ---: | ---: |")
	for _, d := range gains {
		line("| %s | %s | %s to %s |", d.Of, r.deviation(d.Estimate), r.deviation(d.Interval.Low), r.deviation(d.Interval.High))
	}
	for _, w := range r.Warnings {
		line("")
		line("Note: %s.", w)
	}
	return b.String(), nil
}

func (p StudyPlan) spreadText() string {
	if p.Measure == MeasureRadius {
		return fmt.Sprintf("the radius differs from day to day by %g %%, and %d balls know it so far", 100*p.DaySD, p.TestBalls)
	}
	return fmt.Sprintf("balls of one day differ by %g %s and days by %g", p.ShotSD, p.Unit, p.DaySD)
}

func (p StudyPlan) smallestText() string {
	if p.Measure == MeasureRadius {
		return fmt.Sprintf("a radius %g %% smaller", 100*p.Smallest)
	}
	return fmt.Sprintf("%g %s more", p.Smallest, p.Unit)
}

// number words an effect: a distance with its unit, or a ratio.
func (r CrossoverResult) number(v float64) string {
	if r.Plan.Measure == MeasureRadius {
		return fmt.Sprintf("× %.2f", v)
	}
	return fmt.Sprintf("%+.1f %s", tenths(v), r.Plan.Unit)
}

// deviation words a pupil's gain, in per cent of the radius for a spread.
func (r CrossoverResult) deviation(v float64) string {
	if r.Plan.Measure == MeasureRadius {
		return fmt.Sprintf("%+.0f %%", 100*math.Expm1(v))
	}
	return fmt.Sprintf("%+.1f %s", tenths(v), r.Plan.Unit)
}

// tenths rounds, and never to -0.
func tenths(v float64) float64 { return math.Round(10*v)/10 + 0 }

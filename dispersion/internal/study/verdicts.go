package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The verdicts in the order of the columns.
var kinds = []compare.VerdictKind{compare.WorthHaving, compare.Probably, compare.CantTell, compare.NoGainWorth, compare.Worse}

// A verdictRow counts the verdicts on one question.
type verdictRow struct {
	asks  string
	count map[compare.VerdictKind]int
}

func (v verdictRow) text(lessons int) string {
	var b strings.Builder
	for _, k := range kinds {
		fmt.Fprintf(&b, " %.1f |", 100*float64(v.count[k])/float64(lessons))
	}
	return b.String()
}

// verdictPart tells what is said of lessons of four like stages in which nothing
// has changed, and of those on the line.
func verdictPart(seed uint64) (string, error) {
	const lessons = 1000
	var b strings.Builder
	fmt.Fprintf(&b, `
## Verdicts, per lesson of four stages

Four like stages of n balls; the headline is the last against the first, judged by Judge, for the spread by JudgeSpread, with the smallest change
worth having at 5.25 yards, a fifth of the radius and one mishit in ten. %d lessons for each row: the standard error is 0.7 at 5 %%, 0.5 at 2.5. Each
cell: the share of lessons in which it is said, in per cent. "On the line": the true change is just the smallest worth having, where "worth having" is
promised in 2.5 %% at most, and where nothing has changed "worse" in 2.5. The mishit rate is 10 %% before and after. What was also seen: the carry from
stage to stage, and spread and mishits first to last, after AlsoSeen; a row counts the lesson once, by its boldest verdict: a gain, else a loss, else
"probably". Without a bookend "worth having" becomes "probably" on the page.

| shape | n | question | worth having | probably | can't tell | no gain worth having | worse |
| --- | ---: | --- | ---: | ---: | ---: | ---: | ---: |
`, lessons)
	for si, s := range shapes {
		for _, n := range []int{5, 11, 20} {
			r := rand.New(rand.NewPCG(seed, uint64(4e9+1e6*si+n)))
			rows, err := judgeLessons(s, n, lessons, r)
			if err != nil {
				return "", err
			}
			for _, row := range rows {
				fmt.Fprintf(&b, "| %s | %d | %s |%s\n", s.name, n, row.asks, row.text(lessons))
			}
		}
	}
	return b.String(), nil
}

// The smallest gain in carry worth having at 150 yards.
const smallestCarry = 5.25

func judgeLessons(s shape, n, lessons int, r *rand.Rand) ([]verdictRow, error) {
	rows := []verdictRow{{"carry, nothing changed", map[compare.VerdictKind]int{}}, {"carry, on the line", map[compare.VerdictKind]int{}},
		{"spread, nothing changed", map[compare.VerdictKind]int{}}, {"spread, on the line", map[compare.VerdictKind]int{}},
		{"mishits, nothing changed", map[compare.VerdictKind]int{}}, {"also seen, nothing changed", map[compare.VerdictKind]int{}}}
	for range lessons {
		var stages [4]*dispersion.Group
		for i := range stages {
			points := make([]dispersion.Point, n)
			for j := range points {
				points[j] = s.draw(r)
			}
			var err error
			if stages[i], err = dispersion.NewGroup(points); err != nil {
				return nil, err
			}
		}
		mishits := func() (k int) {
			for range n {
				if r.Float64() < .1 {
					k++
				}
			}
			return k
		}
		said, err := judgeLesson(stages, mishits(), mishits())
		if err != nil {
			return nil, err
		}
		for i, kind := range said {
			rows[i].count[kind]++
		}
	}
	return rows, nil
}

// judgeLesson returns a verdict for each row.
func judgeLesson(stages [4]*dispersion.Group, k1, k2 int) ([]compare.VerdictKind, error) {
	ctx, o := context.Background(), compare.Options{Resamples: 1} // no p is read
	carry := func(before, after *dispersion.Group) (compare.Verdict, error) {
		e, err := compare.CarryGain(ctx, before, after, o)
		if err != nil {
			return compare.Verdict{}, err
		}
		return compare.Judge(e, smallestCarry)
	}
	spread := func(before, after *dispersion.Group) (compare.Verdict, error) {
		ratio, err := compare.SpreadRatio(ctx, before, after, o)
		if err != nil {
			return compare.Verdict{}, err
		}
		area, err := compare.AreaRatio(ctx, before, after, o)
		if err != nil {
			return compare.Verdict{}, err
		}
		return compare.JudgeSpread(ratio, area, compare.SmallestSpread)
	}
	first, last := stages[0], stages[3]
	longer, err := each(last, func(p dispersion.Point) dispersion.Point {
		return dispersion.Point{X: p.X, Y: p.Y + smallestCarry}
	})
	if err != nil {
		return nil, err
	}
	tighter, err := each(last, func(p dispersion.Point) dispersion.Point {
		return dispersion.Point{X: p.X * (1 - compare.SmallestSpread), Y: p.Y * (1 - compare.SmallestSpread)}
	})
	if err != nil {
		return nil, err
	}
	rate, err := compare.MishitRateChange(k1, first.N(), k2, last.N(), o)
	if err != nil {
		return nil, err
	}
	var said []compare.VerdictKind
	var also []compare.Verdict
	for i, ask := range []func() (compare.Verdict, error){
		func() (compare.Verdict, error) { return carry(first, last) },
		func() (compare.Verdict, error) { return carry(first, longer) },
		func() (compare.Verdict, error) { return spread(first, last) },
		func() (compare.Verdict, error) { return spread(first, tighter) },
		func() (compare.Verdict, error) { return compare.Judge(rate, compare.SmallestMishitRate) },
		func() (compare.Verdict, error) { return carry(first, stages[1]) },
		func() (compare.Verdict, error) { return carry(stages[1], stages[2]) },
		func() (compare.Verdict, error) { return carry(stages[2], last) },
	} {
		v, err := ask()
		if err != nil {
			return nil, err
		}
		if i < 5 {
			said = append(said, v.Kind)
		}
		if i == 2 || i > 3 {
			also = append(also, v)
		}
	}
	if also, err = compare.AlsoSeen(also); err != nil {
		return nil, err
	}
	return append(said, boldest(also)), nil
}

// boldest returns the verdict that would be wrong if nothing has changed, if
// there is one: a gain, else a loss, else a probable gain.
func boldest(verdicts []compare.Verdict) compare.VerdictKind {
	for _, kind := range []compare.VerdictKind{compare.WorthHaving, compare.Worse, compare.Probably} {
		for _, v := range verdicts {
			if v.Kind == kind {
				return kind
			}
		}
	}
	return compare.CantTell
}

func each(g *dispersion.Group, f func(dispersion.Point) dispersion.Point) (*dispersion.Group, error) {
	points := g.Points()
	for i, p := range points {
		points[i] = f(p)
	}
	return dispersion.NewGroup(points)
}

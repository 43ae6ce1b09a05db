package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

const (
	chartBalls = 150 // the run length that charts are made for
	chartCount = 60_000
	keptCount  = 1_000
)

// practiceStudy writes how long control charts run before a false signal, how soon
// they see a change, what the serial interval holds, and what Kept finds in
// seasons drawn from a known truth.
func practiceStudy(out string, seed uint64) error {
	var b strings.Builder
	fmt.Fprintf(&b, `# Practice: how long charts run, and what is found kept

Made by `+"`go run ./dispersion/internal/study practice`"+`, seed %d.

## Run length of the control chart

The limit is made so that half of all practices in which nothing has changed go on for more than %d balls before the first
false signal, the pattern being computed from so many shots as the first column says. The next columns: that limit; the median
run length over %d charts of normal shots, and its ratio to %d; the same with the limit of a pattern and a shot drawn together
(F), which takes no account of all shots being held against one pattern; the median for shots of heavy tails, t(5), pattern and
practice alike; the median number of balls until a signal once the centre has moved by 2 or 3 standard deviations along one axis.
Chance alone moves a ratio by up to 0.03 (four standard deviations). Runs are cut off at %d balls.

| shots in the pattern | limit | median run | ratio | limit by F | median run by F | t(5) | moved by 2 | moved by 3 |
| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
`, seed, chartBalls, chartCount, chartBalls, longestRun)
	for _, n := range []int{10, 15, 20, 30, 50} {
		fmt.Fprintf(os.Stderr, "practice: pattern of %d\n", n)
		limit, err := practice.LimitRunLength(n, chartBalls)
		if err != nil {
			return err
		}
		plain, err := practice.LimitPhaseII(n, -math.Expm1(-math.Ln2/chartBalls))
		if err != nil {
			return err
		}
		run := medianRun(n, limit, chartCount, 0, 0, seed)
		fmt.Fprintf(&b, "| %d | %.2f | %d | %.3f | %.2f | %s | %d | %d | %d |\n", n, limit, run, float64(run)/chartBalls, plain,
			cutRun(medianRun(n, plain, chartCount/10, 0, 0, seed)), medianRun(n, limit, chartCount/10, 0, 5, seed),
			medianRun(n, limit, chartCount/10, 2, 0, seed), medianRun(n, limit, chartCount/10, 3, 0, seed))
	}
	serialTable(&b, seed)
	if err := keptTable(&b, seed); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "practice.md"), []byte(b.String()), 0o644)
}

// longestRun is where a run is cut off.
const longestRun = 10 * chartBalls

func cutRun(balls int) string {
	if balls >= longestRun {
		return fmt.Sprintf("%d or more", longestRun)
	}
	return fmt.Sprint(balls)
}

// medianRun returns the median number of balls up to the first signal, of charts
// whose pattern has n shots; the watched shots lie off by so many standard
// deviations, and shots are normal or, with df above 0, of a t distribution.
func medianRun(n int, limit float64, charts int, off float64, df int, seed uint64) int {
	r := rand.New(resample.NewStream(seed, fmt.Sprintf("study/run length %g %d", off, df), n))
	shot := func() dispersion.Point {
		stretch := 1.0
		if df > 0 {
			stretch = tails(r, df)
		}
		return dispersion.Point{X: stretch * r.NormFloat64(), Y: stretch * r.NormFloat64()}
	}
	runs := make([]int, charts)
	for i := range runs {
		var m dispersion.Moments
		for range n {
			m.Add(shot())
		}
		xx, xy, yy := m.SXX/float64(n-1), m.SXY/float64(n-1), m.SYY/float64(n-1)
		det := xx*yy - xy*xy
		for runs[i] = 1; runs[i] < longestRun; runs[i]++ {
			p := shot()
			x, y := p.X+off-m.Mean.X, p.Y-m.Mean.Y
			if yy*x*x-2*xy*x*y+xx*y*y > limit*det {
				break
			}
		}
	}
	slices.Sort(runs)
	return runs[charts/2]
}

func serialTable(b *strings.Builder, seed uint64) {
	const series = 10_000
	fmt.Fprintf(b, `
## What the interval of the serial correlation holds

The share, in per cent, of %d first-order series whose 95 %% interval of `+"`practice.SerialInterval`"+` holds the true correlation.

| shots | -0.3 | 0 | 0.3 | 0.6 |
| ---: | ---: | ---: | ---: | ---: |
`, series)
	for _, n := range []int{8, 10, 15, 20, 30, 50, 100} {
		fmt.Fprintf(b, "| %d |", n)
		for k, rho := range []float64{-0.3, 0, 0.3, 0.6} {
			r := rand.New(resample.NewStream(seed, fmt.Sprintf("study/serial %d", k), n))
			held := 0
			x := make([]float64, n)
			for range series {
				x[0] = r.NormFloat64()
				for i := 1; i < n; i++ {
					x[i] = rho*x[i-1] + math.Sqrt(1-rho*rho)*r.NormFloat64()
				}
				// Drawn numbers are finite and never all equal.
				if s, err := practice.SerialInterval(0, x); err == nil && s.Interval.Low <= rho && rho <= s.Interval.High {
					held++
				}
			}
			fmt.Fprintf(b, " %.1f |", 100*float64(held)/series)
		}
		fmt.Fprintln(b)
	}
}

// A keptCase is a truth that seasons are drawn from, in the words of the demo
// season: shots differ by 6 yards, days by 1.5.
type keptCase struct {
	name                    string
	baseline, at, retention float64
}

var keptCases = []keptCase{
	{"kept: 117, 132, 131", 117, 132, 131},
	{"half kept: 117, 132, 124.5", 117, 132, 124.5},
	{"lost: 117, 132, 117", 117, 132, 117},
	{"never there: 117, 117, 117", 117, 117, 117},
}

var keptOutcomes = []practice.Outcome{practice.GainKept, practice.GainPartly, practice.GainLost, practice.GainUnclear, practice.GainLater, practice.GainNone}

func keptTable(b *strings.Builder, seed uint64) error {
	fmt.Fprintf(b, `
## What Kept finds

%d seasons of a baseline of 10 balls, 14 balls at the end of the lesson and 10 first balls weeks later; single shots differ by 6
yards, days by 1.5. Each row: the true means of the three, then how often each outcome comes, in per cent, with the spread
between days given (and, in brackets, without it), and how often the 95 %% interval of the kept gain holds it.

| truth | %s | holds |
| --- |%s ---: |
`, keptCount, joined(keptOutcomes), strings.Repeat(" ---: |", len(keptOutcomes)))
	for _, c := range keptCases {
		fmt.Fprintf(os.Stderr, "practice: %s\n", c.name)
		with, held, err := keptShares(c, 1.5, keptCount, seed)
		if err != nil {
			return err
		}
		without, heldWithout, err := keptShares(c, 0, keptCount, seed)
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "| %s |", c.name)
		for _, o := range keptOutcomes {
			fmt.Fprintf(b, " %.0f (%.0f) |", 100*with[o], 100*without[o])
		}
		fmt.Fprintf(b, " %.1f (%.1f) |\n", 100*held, 100*heldWithout)
	}
	return nil
}

func joined(outcomes []practice.Outcome) string {
	words := make([]string, len(outcomes))
	for i, o := range outcomes {
		words[i] = string(o)
	}
	return strings.Join(words, " | ")
}

// keptShares returns the shares of the outcomes over drawn seasons, and how often
// the kept gain is held.
func keptShares(c keptCase, daySD float64, seasons int, seed uint64) (shares map[practice.Outcome]float64, held float64, err error) {
	r := rand.New(resample.NewStream(seed, "study/kept "+c.name, 0))
	shares = map[practice.Outcome]float64{}
	for range seasons {
		var file bytes.Buffer
		file.WriteString("session,stage,intent,carry_yd,side_yd\n")
		var day float64
		add := func(session, stage, intent string, balls int, mean float64) {
			for range balls {
				fmt.Fprintf(&file, "%s,%s,%s,%.3f,0\n", session, stage, intent, mean+day+6*r.NormFloat64())
			}
		}
		day = 1.5 * r.NormFloat64()
		add("2026-04-04", "old", "baseline", 10, c.baseline)
		add("2026-04-04", "new", "full", 14, c.at)
		day = 1.5 * r.NormFloat64()
		add("2026-06-12", "first", "check", 10, c.retention)
		s, err := practice.ReadSeason(&file, practice.SeasonOptions{})
		if err != nil {
			return nil, 0, err
		}
		k, err := practice.Kept(context.Background(), s, practice.Question{DaySD: daySD}, compare.Options{Resamples: 1})
		if err != nil {
			return nil, 0, err
		}
		shares[k.Outcome] += 1 / float64(seasons)
		if i := k.Kept.Interval; i.Low <= c.retention-c.baseline && c.retention-c.baseline <= i.High {
			held += 1 / float64(seasons)
		}
	}
	return shares, held, nil
}

package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
)

func rootMean(squares, n float64) float64 { return math.Sqrt(squares / n) }

// mixedReport writes mixed.md and mixed.csv.
func mixedReport(out string, seed uint64, seasons []mixedCell, crossovers []crossoverCell) error {
	if err := os.WriteFile(filepath.Join(out, "mixed.md"), mixedMarkdown(seed, seasons, crossovers), 0o644); err != nil {
		return err
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"aim", "sessions", "balls", "between_yd", "seasons", "coverage", "width_yd"}}
	for _, c := range seasons {
		rows = append(rows, []string{
			c.aim, strconv.Itoa(c.plan.sessions), c.plan.balls, strconv.FormatFloat(c.plan.between, 'g', -1, 64), strconv.Itoa(c.seasons),
			strconv.FormatFloat(c.coverage, 'f', 4, 64), strconv.FormatFloat(c.width, 'f', 3, 64),
		})
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "mixed.csv"), b.Bytes(), 0o644)
}

func mixedMarkdown(seed uint64, seasons []mixedCell, crossovers []crossoverCell) []byte {
	var b bytes.Buffer
	count := 0
	for _, c := range seasons {
		count = max(count, c.seasons)
	}
	fmt.Fprintf(&b, `# Sessions and pupils: whether mixed models hold what they say

Made by `+"`go run ./dispersion/internal/study mixed`"+`, seed %d.

## Seasons of one pupil

%d seasons for every number. The new swing begins with the second half of the days and gains 5 yards; within each day every
other ball gains 3. Balls of one day differ by 8 yards, the days by 0, 3 or 8 beside that (standard deviations). With even days
each has 10 balls, with uneven ones 4, 22, 7, 13, 4, 10 and over again; heavy ones are even, with
the tails of t(5) at the same standard deviation. Restricted maximum likelihood; 95 %% intervals, those of
the spreads by profile likelihood.

Each cell: the share of seasons whose interval held the truth, in per cent, and its median length in yards. A figure near 95 is off by up to
%.1f by chance (four standard deviations). More than 95 is too careful: where the days do not differ at all, a spread below 0 can't be
estimated, and 0 lies at the end of its interval. With heavy tails the spread within a day holds in about
90 of 100 only (in 80 if nothing were done about tails). Gains, means and the spread between days hold.
`, seed, count, 400*math.Sqrt(.95*.05/float64(count)))
	for _, aim := range seasonAims {
		fmt.Fprintf(&b, "\n### %s\n\n| sessions | even, days differ by 0 | 3 | 8 | uneven, 0 | 3 | 8 | heavy, 0 | 3 | 8 |\n| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n", capital(aim))
		for _, n := range []int{4, 8, 20} {
			fmt.Fprintf(&b, "| %d |", n)
			for _, balls := range ballKinds {
				for _, between := range []float64{0, 3, 8} {
					for _, c := range seasons {
						if c.aim == aim && c.plan == (seasonPlan{n, balls, between}) {
							fmt.Fprintf(&b, " %.1f %%, %.3g yd |", 100*c.coverage, c.width)
						}
					}
				}
			}
			fmt.Fprintln(&b)
		}
	}
	fmt.Fprintf(&b, `
## Crossovers of two drills

The truth of the demo study: the second drill gains 4 yards more, a random order 2 more than a blocked one, the second turn 1
less. Gains differ between pupils by 3 yards and between teachers by 2; 4 teachers; tests of 10 balls that differ by 8 within a
day and by 2 from day to day. *Half width* is that of the drills' interval, the median beside what `+"`StudyPlan.HalfWidth`"+` said beforehand.

| pupils | studies | mean estimate | its spread | half width | planned | holds: drill | schedule | turn | one pupil's gain | excludes 0 |
| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
`)
	for _, c := range crossovers {
		fmt.Fprintf(&b, "| %d | %d | %.2f yd | %.2f yd | %.2f yd | %.2f yd | %.1f %% | %.1f %% | %.1f %% | %.1f %% | %.0f %% |\n",
			c.pupils, c.studies, c.mean, c.spread, c.width, c.planned, 100*c.drill, 100*c.schedule, 100*c.period, 100*c.oneOfPupils, 100*c.excludesZero)
	}
	return b.Bytes()
}

func capital(s string) string { return string(s[0]-'a'+'A') + s[1:] }

package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// ratesPart tells what MishitRateChange holds, counted over every outcome.
func ratesPart(uint64) (string, error) {
	var b strings.Builder
	b.WriteString(`
## MishitRateChange

Asks for the change of the mishit rate; p by Fisher's exact test. No simulation: every outcome is counted with its probability.
Each cell: how often the 95 % interval holds the true change; where nothing has changed, how often p is up to 0.05.

| shots | 10 % before and after | 30 % before and after | 30 % before, 10 % after |
| ---: | ---: | ---: | ---: |
`)
	for _, n := range twoCounts {
		fmt.Fprintf(&b, "| %s |", against(n))
		for _, rate := range [][2]float64{{.1, .1}, {.3, .3}, {.3, .1}} {
			var holds, small float64
			for k1 := range n[0] + 1 {
				for k2 := range n[1] + 1 {
					e, err := compare.MishitRateChange(k1, n[0], k2, n[1], compare.Options{})
					if err != nil {
						return "", err
					}
					chance := binomial(k1, n[0], rate[0]) * binomial(k2, n[1], rate[1])
					if a := held(e, rate[1]-rate[0]); a.holds {
						holds += chance
					}
					if e.P <= .05 {
						small += chance
					}
				}
			}
			fmt.Fprintf(&b, " %.1f %%", 100*holds)
			if rate[0] == rate[1] {
				fmt.Fprintf(&b, ", p %.1f %%", 100*small)
			}
			b.WriteString(" |")
		}
		fmt.Fprintln(&b)
	}
	return b.String(), nil
}

func binomial(k, n int, p float64) float64 {
	choose := func(n int) float64 {
		l, _ := math.Lgamma(float64(n + 1))
		return l
	}
	return math.Exp(choose(n) - choose(k) - choose(n-k) + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
}

package main

import (
	"math"
	"strconv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

// mixedRows fit a random intercept for each session: 5,000 carries in 250
// sessions, three stages within each. The data frame, and our model, are made
// before the clock starts; what lme4 does beyond the fit, such as checking its
// derivatives, is switched off in the second call.
var mixedRows = []row{{
	name: "random intercept, 5000 shots", n: 5000, calls: 21,
	ours: randomIntercept(),
	peers: []peer{
		inR("lme4 lmer, default", "lme4", lmerCall("")),
		inR("lme4 lmer, fewest checks", "lme4", lmerCall(", control = lmerControl(calc.derivs = FALSE)")),
	},
}}

// Session i goes 3·sin(i) yards further, on either side of the comparison.
func lmerCall(control string) string {
	return `{ if (!exists("d")) { s <- rep(1:250, each = 20)
d <- data.frame(y = X[, 2] + 3*sin(s), session = factor(s), stage = factor(rep(1:3, length.out = 5000))) }
lmer(y ~ stage + (1 | session), d` + control + `) }`
}

func randomIntercept() func(g *dispersion.Group) error {
	var m practice.Model
	return func(g *dispersion.Group) error {
		if m.Values == nil {
			var values []practice.Measured
			for i, p := range g.Points() {
				s := i/20 + 1
				values = append(values, practice.Measured{Session: strconv.Itoa(s), Stage: strconv.Itoa(i % 3), Value: p.Y + 3*math.Sin(float64(s))})
			}
			m = practice.SessionModel("carry", "yd", values)
		}
		_, err := practice.FitMixed(m, practice.FitOptions{})
		return err
	}
}

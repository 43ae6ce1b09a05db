package practice

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/mathext"
)

// A Measured is one value with whose it is and when it came about: of a shot, or
// of a group of shots, such as its [LogRadius].
type Measured struct {
	Pupil, Session string // Session need only be unique within a pupil
	Stage          string // or phase, drill, club: what is compared
	Value          float64
}

// SessionModel returns the model of a measure over sessions: the stages fixed,
// each against the first one seen; the sessions random, within pupils; and, where
// there is more than one pupil, the pupils random too.
func SessionModel(name, unit string, values []Measured) Model {
	m := Model{Name: name, Unit: unit, Values: make([]float64, len(values))}
	stages := make([]string, len(values))
	sessions := Term{Name: "sessions", Of: make([]string, len(values))}
	pupils := Term{Name: "pupils", Of: make([]string, len(values))}
	several := false
	for i, v := range values {
		m.Values[i], stages[i], pupils.Of[i] = v.Value, v.Stage, v.Pupil
		several = several || v.Pupil != values[0].Pupil
	}
	for i, v := range values {
		sessions.Of[i] = v.Session
		if several {
			sessions.Of[i] = v.Pupil + ", " + v.Session
		}
	}
	m.Fixed = StageColumns(stages)
	m.Random = []Term{sessions}
	if several {
		m.Random = append(m.Random, pupils)
	}
	return m
}

// StageColumns returns a fixed column for each stage but the first one seen: 1 for
// the values of that stage and 0 for others, so that its coefficient is the gain
// over the first. Stages are fixed: those hit are the ones of interest, and from
// the few there are nobody could tell how stages at large differ.
func StageColumns(stages []string) []FixedColumn {
	var columns []FixedColumn
	index := map[string]int{}
	for i, s := range stages {
		k, ok := index[s]
		if !ok {
			k = len(index) - 1
			index[s] = k
			if k >= 0 {
				columns = append(columns, FixedColumn{Name: s, Values: make([]float64, len(stages))})
			}
		}
		if k >= 0 {
			columns[k].Values[i] = 1
		}
	}
	return columns
}

// LogRadius returns the logarithm of the radius of a group, √(area/π) of its
// one-sigma ellipse, right on average for normal shots,
//
//	¼·(ln|S| - ψ((n-1)/2) - ψ((n-2)/2) - 2·ln 2 + 2·ln(n-1))
//
// for use as the value of a whole group in a model: a difference of 0.1 is 10 %
// of the radius. Three or four shots make it very loose.
//
// Errors: *[dispersion.TooFewError] below 3 shots; [dispersion.ErrDegenerate] for
// shots on one line; [ErrColumns] for no group.
//
// Reference: T. W. Anderson, An Introduction to Multivariate Statistical Analysis,
// 3rd ed., Wiley 2003, section 7.5, for the law of |S|.
func LogRadius(g *dispersion.Group) (float64, error) {
	if g == nil {
		return 0, fmt.Errorf("practice: log radius: no group: %w", ErrColumns)
	}
	n := float64(g.N())
	if n < 3 {
		return 0, fmt.Errorf("practice: %w", &dispersion.TooFewError{Have: g.N(), Need: 3, For: "a log radius"})
	}
	s, err := g.Cov()
	if err != nil {
		return 0, err
	}
	root := s.SqrtDet()
	if !(root*root > 1e-13*s.XX*s.YY) || root == 0 {
		return 0, fmt.Errorf("practice: log radius: %w", dispersion.ErrDegenerate)
	}
	bias := mathext.Digamma((n-1)/2) + mathext.Digamma((n-2)/2) + 2*math.Ln2 - 2*math.Log(n-1)
	return (2*math.Log(root) - bias) / 4, nil
}

// logRadiusVariance returns the variance of [LogRadius] of n normal shots,
// (ψ'((n-1)/2) + ψ'((n-2)/2))/16; ψ'(x) is Hurwitz's ζ(2, x).
func logRadiusVariance(n int) float64 {
	return (mathext.Zeta(2, float64(n-1)/2) + mathext.Zeta(2, float64(n-2)/2)) / 16
}

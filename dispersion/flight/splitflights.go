package flight

import (
	"context"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// sets is how many sets of parts there are.
const sets = 1 << parts

// A splitting is a split at work.
type splitting struct {
	before, after []Shot
	fit           Fitted
	options       compare.Options

	// flown[outcome][set][i*n2+j] is what a ball does that has the parts of the set
	// from shot j after and the others from shot i before.
	flown [3][sets][]float64

	// slope[k][outcome][set] is how its mean over all pairs moves with the k-th
	// coefficient.
	slope [][3][sets]float64

	columns []int   // that vary, for the regression; nil where there is none
	whole   taken   // of the shots as they are
	drawn   []taken // of the resamples
}

// mixed returns the launch that has the parts of a set from after and the others
// from before.
func mixed(before, after Launch, set int) Launch {
	l := before
	if set&1 != 0 {
		l.Speed = after.Speed
	}
	if set&2 != 0 {
		l.Angle = after.Angle
	}
	if set&4 != 0 {
		l.Spin = after.Spin
	}
	if set&8 != 0 {
		l.Direction, l.Tilt = after.Direction, after.Tilt
	}
	return l
}

// fly flies every pair with every set of parts, with the coefficients as fitted
// and with each a little larger.
func (s *splitting) fly(ctx context.Context) error {
	n1, n2 := len(s.before), len(s.after)
	p := len(s.fit.Coefficients)
	for o := range s.flown {
		for set := range sets {
			s.flown[o][set] = make([]float64, n1*n2)
		}
	}
	rows := make([][][3][sets]float64, n1) // sums over each row of pairs, one for each coefficient
	models := []Model{s.fit.Model()}
	for k := range p {
		m := s.fit.Model()
		m.Coefficients = s.fit.Form.with(s.fit.nudged(k))
		models = append(models, m)
	}
	err := resample.Chunks(ctx, n1, 1, s.progress(0), func(_, i, _ int) error {
		rows[i] = make([][3][sets]float64, p)
		for j := range n2 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := s.flyPair(models, i, j, rows[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	s.slope = make([][3][sets]float64, p)
	for k := range p {
		for o := range s.flown {
			for set := range sets {
				var there float64
				for i := range n1 {
					there += rows[i][k][o][set]
				}
				s.slope[k][o][set] = (there/float64(n1*n2) - mean(s.flown[o][set])) / coefficientNudge
			}
		}
	}
	return nil
}

// flyPair flies one pair with every set of parts.
func (s *splitting) flyPair(models []Model, i, j int, rows [][3][sets]float64) error {
	n2 := len(s.after)
	for set := range sets {
		l := mixed(s.before[i].Launch, s.after[j].Launch, set)
		for m, model := range models {
			f, err := model.Fly(l, s.fit.Conditions)
			if err != nil {
				at := i
				if set != 0 {
					at = len(s.before) + j
				}
				return &ShotError{Index: at, Err: err}
			}
			for o, outcome := range splitOutcomes {
				if v := outcome.flown(l, f); m == 0 {
					s.flown[o][set][i*n2+j] = v
				} else {
					rows[m-1][o][set] += v
				}
			}
		}
	}
	return nil
}

// progress tells how far the whole is, given what was done before this stretch:
// a row of pairs counts as much as a resample.
func (s *splitting) progress(before int) func(done, total int) {
	if s.options.Progress == nil {
		return nil
	}
	total := len(s.before) + s.options.Resamples
	return func(done, _ int) { s.options.Progress(before+done, total) }
}

// measured tells whether every shot has an outcome.
func (s *splitting) measured(o int) bool {
	lacks := func(shot Shot) bool {
		_, ok := splitOutcomes[o].measured(shot)
		return !ok
	}
	return !slices.ContainsFunc(s.before, lacks) && !slices.ContainsFunc(s.after, lacks)
}

func mean(values []float64) float64 {
	var sum float64
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

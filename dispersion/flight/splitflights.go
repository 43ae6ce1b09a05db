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

	// slope[k][outcome][set] is how its mean over all pairs moves with the k-th of
	// the doubts.
	doubts doubts
	slope  [][3][sets]float64

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

// fly flies every pair with every set of parts, with the fitted model and with
// those that tell how unsure it is.
func (s *splitting) fly(ctx context.Context) error {
	n1, n2 := len(s.before), len(s.after)
	for o := range s.flown {
		for set := range sets {
			s.flown[o][set] = make([]float64, n1*n2)
		}
	}
	var err error
	if s.doubts, err = s.fit.doubts(); err != nil {
		return err
	}
	rows := make([][][3][sets]float64, n1) // sums over each row of pairs, one for each model
	err = resample.Chunks(ctx, n1, 1, s.progress(0), func(_, i, _ int) error {
		rows[i] = make([][3][sets]float64, len(s.doubts.models))
		for j := range n2 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := s.flyPair(i, j, rows[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	s.slope = make([][3][sets]float64, len(s.doubts.none()))
	means := make([]float64, len(s.doubts.models))
	for o := range s.flown {
		for set := range sets {
			for m := range means {
				means[m] = 0
				for i := range n1 {
					means[m] += rows[i][m][o][set] / float64(n1*n2)
				}
			}
			for k, slope := range s.doubts.slopes(means) {
				s.slope[k][o][set] = slope
			}
		}
	}
	return nil
}

// flyPair flies one pair with every set of parts.
func (s *splitting) flyPair(i, j int, rows [][3][sets]float64) error {
	n2 := len(s.after)
	for set := range sets {
		l := mixed(s.before[i].Launch, s.after[j].Launch, set)
		for m, model := range s.doubts.models {
			f, err := model.Fly(l, s.fit.Conditions)
			if err != nil {
				at := i
				if set != 0 {
					at = len(s.before) + j
				}
				return &ShotError{Index: at, Err: err}
			}
			for o, outcome := range splitOutcomes {
				v := outcome.flown(l, f)
				rows[m][o][set] += v
				if m == 0 {
					s.flown[o][set][i*n2+j] = v
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

// measured tells whether every shot has an outcome. A curve is counted from the
// start line, and a stage of start lines that are all 0 has none.
func (s *splitting) measured(o int) bool {
	if splitOutcomes[o].fromStart && !(startLines(s.before) && startLines(s.after)) {
		return false
	}
	lacks := func(shot Shot) bool {
		_, ok := splitOutcomes[o].measured(shot)
		return !ok
	}
	return !slices.ContainsFunc(s.before, lacks) && !slices.ContainsFunc(s.after, lacks)
}

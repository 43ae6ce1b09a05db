package flight

import (
	"context"
	"math"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// taken is what one draw of shots gives, the rest last.
type taken struct {
	flights    [3][parts + 1]float64
	regression [3][parts + 1]float64
	regressed  [3]bool
}

const splitChunk = 50 // resamples between two reports of progress

// resample takes the gain apart with the shots as they are and with shots,
// coefficients and form drawn.
func (s *splitting) resample(ctx context.Context) error {
	n1, n2 := len(s.before), len(s.after)
	s.whole = s.take(once(n1+n2), s.doubts.none())
	s.drawn = make([]taken, s.options.Resamples)
	return resample.Chunks(ctx, s.options.Resamples, splitChunk, s.progress(n1), func(chunk, lo, hi int) error {
		stream := resample.NewStream(s.options.Seed, "split of a gain", chunk)
		normal := rand.New(stream)
		for r := lo; r < hi; r++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			s.drawn[r] = s.take(drawWeights(stream, n1, n2), s.doubts.draw(normal))
		}
		return nil
	})
}

// take takes the gain apart with so much weight on each shot, before and then
// after, and coefficients and form so far from the fitted ones.
func (s *splitting) take(weights, shift []float64) (t taken) {
	n1, n2 := len(s.before), len(s.after)
	for o := range s.flown {
		if !s.measured(o) {
			continue
		}
		value := make([]float64, sets)
		for set := range sets {
			var sum float64
			for i := range n1 {
				if weights[i] == 0 {
					continue
				}
				var row float64
				for j, v := range s.flown[o][set][i*n2 : (i+1)*n2] {
					row += weights[n1+j] * v
				}
				sum += weights[i] * row
			}
			value[set] = sum / float64(n1*n2)
			for k, d := range shift {
				value[set] += s.slope[k][o][set] * d
			}
		}
		copy(t.flights[o][:], shapley(value, parts))
		t.flights[o][parts] = s.gain(o, weights) - (value[sets-1] - value[0])
		if s.columns != nil {
			t.regression[o], t.regressed[o] = s.regress(o, weights)
		}
	}
	return t
}

// gain returns the mean measured after minus that before.
func (s *splitting) gain(o int, weights []float64) float64 {
	before, after := s.means(o, weights)
	return after - before
}

func (s *splitting) means(o int, weights []float64) (before, after float64) {
	n1, n2 := len(s.before), len(s.after)
	for i, shot := range s.before {
		v, _ := splitOutcomes[o].measured(shot)
		before += weights[i] * v / float64(n1)
	}
	for j, shot := range s.after {
		v, _ := splitOutcomes[o].measured(shot)
		after += weights[n1+j] * v / float64(n2)
	}
	return before, after
}

// split words one outcome.
func (s *splitting) split(o int) Split {
	n1, n2 := len(s.before), len(s.after)
	out := Split{
		Of: splitOutcomes[o].name, Unit: "m", N1: n1, N2: n2,
		Level: s.options.Level, Resamples: s.options.Resamples, Seed: s.options.Seed,
	}
	out.Before, out.After = s.means(o, once(n1+n2))
	out.Gain = out.After - out.Before
	regressed := 0
	for _, d := range s.drawn {
		if d.regressed[o] {
			regressed++
		}
	}
	second := s.whole.regressed[o] && float64(regressed) >= mostlyRegressed*float64(len(s.drawn))
	if !second {
		out.Warnings = append(out.Warnings, ErrNoRegression)
	}
	out.Agreement = Agree
	for part := range parts + 1 {
		p := s.part(o, part, second)
		out.Parts = append(out.Parts, p)
		switch {
		case p.Agreement == Disagree || out.Agreement == Disagree:
			out.Agreement = Disagree
		case p.Agreement == Unsure:
			out.Agreement = Unsure
		}
	}
	return out
}

// mostlyRegressed is the share of resamples that must tell slopes for a
// regression to be shown at all.
const mostlyRegressed = 0.8

func (s *splitting) part(o, part int, second bool) Part {
	p := Part{Name: PartRest, Agreement: Unsure}
	if part < parts {
		p.Name = partNames[part]
	}
	n1, n2 := len(s.before), len(s.after)
	at := func(t taken) (flights, regression float64) { return t.flights[o][part], t.regression[o][part] }
	flights, regression := at(s.whole)
	var byFlights, byRegression, apart []float64
	for _, d := range s.drawn {
		f, r := at(d)
		byFlights = append(byFlights, f)
		if d.regressed[o] {
			byRegression, apart = append(byRegression, r), append(apart, f-r)
		}
	}
	p.Flight = share(flights, byFlights, s.options.Level, n1, n2)
	if !second {
		return p
	}
	r := share(regression, byRegression, s.options.Level, n1, n2)
	p.Regression = &r
	d := share(flights-regression, apart, 1-(1-s.options.Level)/(parts+1), n1, n2).Interval
	before, after := s.means(o, once(n1+n2))
	switch {
	case d.Low > 0 || d.High < 0:
		p.Agreement = Disagree
	case d.High-d.Low <= max(math.Abs(after-before), 2*s.spread(o)):
		p.Agreement = Agree
	}
	return p
}

// spread returns the standard deviation of an outcome within the stages.
func (s *splitting) spread(o int) float64 {
	var sum float64
	for _, shots := range [][]Shot{s.before, s.after} {
		var m dispersion.Moments
		for _, shot := range shots {
			v, _ := splitOutcomes[o].measured(shot)
			m.Add(dispersion.Point{X: v})
		}
		sum += m.SXX
	}
	return math.Sqrt(sum / float64(len(s.before)+len(s.after)-2))
}

package compare

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// FuzzCompare feeds all comparisons with any bytes as two groups: an answer is
// sound and can be judged and worded, or there is an error. Nothing panics.
func FuzzCompare(f *testing.F) {
	seed := func(split byte, values ...float64) {
		var b []byte
		for _, v := range values {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		f.Add(split, b)
	}
	seed(4, 1, 150, 2, 148, -3, 160, 5, 155, 1, 151, 2, 149, -1, 158, 3, 154)
	seed(3, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1)
	seed(3, 1e200, 1, 1, 1e200, -1e200, 3, 4, 5, 6, 7, 9, 8)
	seed(3, 1e150, 1e150, -1e150, 1e149, 1e150, -1e150, 1, 2, 3, 5, 4, 4)
	seed(3, 1e-200, 2e-200, 3e-200, 1e-200, 5e-200, 5e-200, 1, 2, 3, 5, 4, 4)
	seed(4, 1e-160, 1e150, 3e-160, 1e149, 5e-160, 2e150, 5e-324, 1, 1e10, 1e-10, 2, 3, -4e-5, 1e5, 1, 1e-300)
	seed(3, math.NaN(), 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, math.Inf(1))
	seed(2, 0, 1, 0, 1+1e-16, 0, 1, 0, 1)
	seed(4, 0, 100, 1e-9, 100, 0, 100, 1e-9, 101, 0, 100, 1e-9, 100, 0, 100, 1e-8, 101)
	f.Fuzz(func(t *testing.T, split byte, raw []byte) {
		var points []dispersion.Point
		for ; len(raw) >= 16 && len(points) < 14; raw = raw[16:] {
			points = append(points, dispersion.Point{
				X: math.Float64frombits(binary.LittleEndian.Uint64(raw)),
				Y: math.Float64frombits(binary.LittleEndian.Uint64(raw[8:])),
			})
		}
		n1 := min(int(split), len(points))
		before, _ := dispersion.NewGroup(points[:n1]) // nil on an error, as callers may pass on
		after, _ := dispersion.NewGroup(points[n1:])
		for _, c := range compared {
			e, err := c.of(ctx, before, after, Options{Resamples: 50, Level: 0.9})
			if err != nil {
				continue
			}
			if !e.sound() || e.HasP && !(e.P >= 0 && e.P <= 1 && e.P >= e.PFloor*(1-1e-12)) {
				t.Errorf("%s: %+v", c.name, e)
			}
			v, err := Judge(e, 0.2)
			if err != nil {
				continue
			}
			if !(v.Confidence >= 0 && v.Confidence <= 1 && v.ConfidenceWorse >= 0 && v.ConfidenceWorse <= 1) || v.MoreBalls < 0 || v.Sentence() == "" || v.Line() == "" {
				t.Errorf("%s: %+v", c.name, v)
			}
		}
	})
}

// FuzzAnswers does the same for the comparisons whose answer is no effect.
func FuzzAnswers(f *testing.F) {
	for _, scale := range []float64{1, 1e200, 1e149, 1e-160, 1e-300} {
		var b []byte
		for _, v := range []float64{1, 150, 2, 148, -3, 160, 5, 155, 1, 151, 2, 149, -1, 158, 3, 154, 1, 150, 4, 140} {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v*scale))
		}
		f.Add(byte(5), b)
		f.Add(byte(2), b)
	}
	f.Fuzz(func(t *testing.T, split byte, raw []byte) {
		var points []dispersion.Point
		for ; len(raw) >= 16 && len(points) < 14; raw = raw[16:] {
			points = append(points, dispersion.Point{
				X: math.Float64frombits(binary.LittleEndian.Uint64(raw)),
				Y: math.Float64frombits(binary.LittleEndian.Uint64(raw[8:])),
			})
		}
		n1 := min(int(split), len(points))
		before, _ := dispersion.NewGroup(points[:n1]) // nil on an error, as callers may pass on
		after, _ := dispersion.NewGroup(points[n1:])
		o := Options{Resamples: 60}
		finite := func(what string, err error, values ...float64) {
			for _, v := range values {
				if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
					t.Errorf("%s: %v", what, values)
				}
			}
		}
		s, err := CentreShift(ctx, before, after, o)
		finite("shift", err, s.Shift.X, s.Shift.Y, s.T2, s.DF, s.P, s.Region.SemiMajor, s.Region.SemiMinor, s.Region.Area())
		d, err := AnyDifference(ctx, before, after, o)
		finite("difference", err, d.Statistic, d.P, d.PFloor)
		if before != nil {
			r, err := Spreads(ctx, []*dispersion.Group{before, after}, o)
			finite("spreads", err, append(r.Distances, r.F, r.P)...)
			p, err := PosteriorOf(before, Jeffreys())
			finite("posterior", err, p.Mean.X, p.Mean.Y, p.Shots, p.DF, p.Scale.XX, p.Scale.XY, p.Scale.YY)
			if err == nil {
				region, err := p.MeanRegion(0.9)
				finite("posterior region", err, region.SemiMajor, region.SemiMinor)
				ratio, err := PosteriorAreaRatio(p, p, 0.9)
				finite("posterior ratio", err, ratio.Estimate, ratio.Interval.Low, ratio.Interval.High, ratio.Before)
			}
		}
		for what, statistic := range map[string]func(b, a dispersion.Moments) (float64, error){
			"area": LogAreaRatio, "mean": func(b, a dispersion.Moments) (float64, error) { return a.Mean.Y - b.Mean.Y, nil },
		} {
			b, err := BootstrapMoments(ctx, before, after, statistic, o)
			finite(what, err, b.Estimate, b.Interval.Low, b.Interval.High, b.Percentile.Low, b.Percentile.High, b.BCa.Low, b.BCa.High,
				b.T.Low, b.T.High, b.SE, b.Bias, b.JackknifeSE, b.Acceleration, b.Correction)
			finite(what, err, b.Replicates...)
		}
		if before != nil && after != nil {
			h, err := HodgesLehmann(ctx, "", "", carries(before), carries(after), o)
			finite("ranks", err, h.Estimate, h.Interval.Low, h.Interval.High, h.P)
			g, err := TrimmedGain(ctx, "", "", append(carries(before), carries(before)...), append(carries(after), carries(after)...), o)
			finite("trimmed", err, g.Estimate, g.Interval.Low, g.Interval.High, g.P)
		}
	})
}

// FuzzMishits does the same for rates.
func FuzzMishits(f *testing.F) {
	f.Add(1, 10, 0, 10, 0.95)
	f.Add(0, 0, -1, 5, 95.0)
	f.Add(1000, 1000, 0, 1000, 1e-300)
	f.Fuzz(func(t *testing.T, k1, n1, k2, n2 int, level float64) {
		e, err := MishitRateChange(k1, n1%2000, k2, n2%2000, Options{Level: level})
		if err == nil && (!e.sound() || e.P < 0 || e.P > 1 || e.Interval.Low < -1-1e-15 || e.Interval.High > 1+1e-15) {
			t.Errorf("%+v", e)
		}
	})
}

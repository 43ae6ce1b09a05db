package compare

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// FuzzEvidence feeds what works on values with any bytes: an answer is sound, or
// there is an error. Nothing panics.
func FuzzEvidence(f *testing.F) {
	seed := func(cut byte, values ...float64) {
		var b []byte
		for _, v := range values {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		f.Add(cut, b)
	}
	seed(3, 150, 148, 160, 155, 151, 149, 158, 154, 152, 149)
	seed(3, 1, 1, 1, 1, 1, 1, 1, 1, 1)
	seed(4, 1e150, -1e150, 3e149, 1e150, 2e149, 1e-300, 5, 6, 1e150, -1e150, 7)
	seed(4, 1e-200, 2e-200, 3e-200, 1e-200, 5e-200, 5e-200, 1e-200, 3e-200, 5e-324, 0)
	seed(3, 1e16, 1e16+2, 1e16, 1e16+2, 1e16, 1e16+4, 1e16, 1e16, 1e16+2)
	seed(2, math.NaN(), 1, 2, math.Inf(1), 4, 5)
	f.Fuzz(func(t *testing.T, cut byte, raw []byte) {
		var x []float64
		for ; len(raw) >= 8 && len(x) < 18; raw = raw[8:] {
			x = append(x, math.Float64frombits(binary.LittleEndian.Uint64(raw)))
		}
		n := min(int(cut), len(x)/3)
		a, b, c := x[:n], x[n:2*n], x[2*n:]
		o := Options{Resamples: 50}
		sound := func(what string, e Effect, err error) {
			if err == nil && (!e.sound() || e.HasP && !(e.P >= 0 && e.P <= 1)) {
				t.Errorf("%s: %+v", what, e)
			}
		}
		finite := func(what string, err error, values ...float64) {
			for _, v := range values {
				if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
					t.Errorf("%s: %v", what, values)
				}
			}
		}
		if book, err := BookendGain(ctx, "", "", a, b, c, o); err == nil {
			for _, e := range []Effect{book.Gain, book.Drift, book.First, book.Last} {
				sound("bookend", e, nil)
			}
			if v, err := book.Judge(0.2); err == nil && (v.Sentence() == "" || book.Sentence() == "" || book.Line() == "") {
				t.Error("nothing said")
			}
		}
		e, err := PairedGain(ctx, "", "", a, b, o)
		sound("paired", e, err)
		e, err = AnytimeGain(ctx, "", "", a, b, o)
		sound("anytime", e, err)
		m, err := Manipulation(ctx, "", "", a, b, o)
		sound("manipulation", m.Effect, err)
		finite("manipulation", err, m.Spread)
		p, err := PickedGain(ctx, "", "", a, b, Picking{BestShots, max(1, n), 12}, o)
		sound("picked", p.Corrected, err)
		finite("picked", err, p.Shown, p.Inflation, p.Normal)
		d, err := DriftOrStages("", "", runs(a, b, c), 0)
		sound("drift", d.Within, err)
		finite("drift", err, d.LineShare, d.StageShare, d.BeyondLine, d.BeyondStages)
		s, err := SerialCorrelation(a, b, c)
		finite("serial", err, s.R1, s.VonNeumann)
		plan, err := PlanCarry([][]float64{a, b}, 1, 0.8, 0.95)
		finite("plan", err, plan.SD, plan.SDBounds.Low, plan.SDBounds.High)
		var groups []*dispersion.Group
		for _, part := range [][]float64{a, b} {
			var points []dispersion.Point
			for i, v := range part {
				points = append(points, dispersion.Point{X: v, Y: c[i%len(c)]})
			}
			if g, err := dispersion.NewGroup(points); err == nil {
				groups = append(groups, g)
			}
		}
		speed, err := SpeedAgainstAccuracy(ctx, groups, o)
		sound("speed", speed.Slope, err)
		if len(groups) == 2 {
			e, err = AreaBehindError(ctx, groups[0], groups[1], 0.5, 0.5, o)
			sound("behind", e, err)
		}
	})
}

package practice

import (
	"math"
	"strings"
	"testing"
)

func FuzzPracticeCurve(f *testing.F) {
	f.Add(1.0, 2.0, 4.0, 8.0, 1e200)
	f.Add(1e-200, 0.0, 0.0, 3.0, 1.0)
	f.Add(5.0, 5.0, 5.0, 5.0, 5.0)
	f.Add(1e150, -1e150, 1e-150, 1e8, 3.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		at := []float64{0, 1, 2, 3, 4, 5, 6, 7, d, e}
		curve, err := PracticeCurve("", "", at, []float64{a, b, c, a + 1, b, c - 1, d, 2 * a, b, c}, 0)
		if err != nil {
			return
		}
		for _, v := range []float64{curve.Start.Value, curve.Start.Interval.Low, curve.Start.Interval.High, curve.HalfLife.Value, curve.HalfLife.Interval.High, curve.Plateau.Value, curve.SD, curve.AICc, curve.FlatAICc, curve.Fitted[9].Interval.Low} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%+v", curve)
			}
		}
	})
}

func FuzzReadPool(f *testing.F) {
	p, _, _, err := DemoStudy(1)
	if err != nil {
		f.Fatal(err)
	}
	header := strings.Join(p.poolHeader(), ",") + "\n"
	f.Add(header + "aaaaaaaaaaaaaaaa,bbbbbbbbbbbbbbbb,1,slow swings,random,before,1,150,2\n")
	f.Add(header + "aaaaaaaaaaaaaaaa,bbbbbbbbbbbbbbbb,1,slow swings,random,after,2,150,2\n\n\"")
	f.Add("\xff")
	f.Fuzz(func(t *testing.T, text string) {
		trials, err := ReadPool(strings.NewReader(text), p)
		if err != nil {
			return
		}
		for _, x := range trials {
			if len(x.Before)+len(x.After) == 0 {
				t.Errorf("a turn without balls: %+v", x)
			}
		}
	})
}

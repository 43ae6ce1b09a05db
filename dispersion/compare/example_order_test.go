package compare_test

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The old swing once more at the end: it too was longer by then.
func ExampleBookendGain() {
	first, fresh, last := []float64{140, 144, 142, 138}, []float64{150, 154, 149, 151}, []float64{146, 150, 147, 149}
	b, err := compare.BookendGain(context.Background(), "carry_gain", "yd", first, fresh, last, compare.Options{})
	check(err)
	fmt.Printf("over the first balls %.1f yd, over both ends %.1f; the old swing itself %+.1f\n", b.First.Estimate, b.Gain.Estimate, b.Drift.Estimate)
	// Output: over the first balls 10.0 yd, over both ends 6.5; the old swing itself +7.0
}

// A yard more with every ball from the first to the last: the stages get the
// credit for it, until a line is given its chance.
func ExampleDriftOrStages() {
	d, err := compare.DriftOrStages("carry", "yd", []compare.Run{
		{At: []float64{1, 2, 3, 4, 5}, Values: []float64{141, 141, 144, 143, 146}},
		{At: []float64{6, 7, 8, 9, 10}, Values: []float64{145, 148, 147, 150, 149}},
	}, 0.95)
	check(err)
	fmt.Printf("explained by a line %.2f, by the stages %.2f; a line does as well: %t\n", d.LineShare, d.StageShare, d.LineDoesAsWell())
	// Output: explained by a line 0.89, by the stages 0.59; a line does as well: true
}

// Long and short in turn: the five products of neighbours are -25 each, the six
// squares 25.
func ExampleSerialCorrelation() {
	s, err := compare.SerialCorrelation([]float64{150, 140, 150, 140, 150, 140})
	check(err)
	fmt.Printf("%.3f; ratio %.3f\n", s.R1, s.VonNeumann)
	// Output: -0.833; ratio 3.333
}

// How wide the interval would have to be, did each ball resemble the one before it.
func ExampleIfCorrelated() {
	before, after := groups()
	gain, err := compare.CarryGain(context.Background(), before, after, compare.Options{})
	check(err)
	wider, err := compare.IfCorrelated(gain, 0.3)
	check(err)
	fmt.Printf("±%.1f yd of independent balls, ±%.1f of such\n", (gain.Interval.High-gain.Interval.Low)/2, (wider.High-wider.Low)/2)
	// Output: ±4.7 yd of independent balls, ±6.5 of such
}

// She worked on a path of 3 degrees more to the right.
func ExampleManipulation() {
	move, err := compare.Manipulation(context.Background(), "path_deg", "deg", []float64{-4.1, -3.2, -5.0, -3.7, -4.4}, []float64{-0.8, -2.1, -1.3, -0.4, -1.9}, compare.Options{})
	check(err)
	fmt.Printf("%+.2f°, moved: %t\n", move.Effect.Estimate, move.Kind == compare.Moved)
	// Output: +2.78°, moved: true
}

// The cube root of the number of shots, rounded up.
func ExampleBlockLength() {
	fmt.Println(compare.BlockLength(8), compare.BlockLength(9), compare.BlockLength(30))
	// Output: 2 3 4
}

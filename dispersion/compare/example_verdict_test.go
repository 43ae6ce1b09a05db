package compare_test

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Two more columns beside the headline: what is said of them allows for there
// being two.
func ExampleAlsoSeen() {
	var verdicts []compare.Verdict
	for _, after := range [][]float64{{107, 110, 105, 109, 107}, {106, 108, 110, 107, 107}} {
		gain, err := compare.MeanGain(context.Background(), "ball_speed_gain", "mph", []float64{103, 106, 101, 105, 102}, after, compare.Options{})
		check(err)
		v, err := compare.Judge(gain, 1)
		check(err)
		verdicts = append(verdicts, v)
	}
	seen, err := compare.AlsoSeen(verdicts)
	check(err)
	for i := range seen {
		fmt.Printf("alone %s (%.1f %%), as one of two %s (%.1f %%)\n", verdicts[i].Kind, 100*verdicts[i].Confidence, seen[i].Kind, 100*seen[i].Confidence)
	}
	// Output:
	// alone worth having (98.2 %), as one of two probably (97.4 %)
	// alone worth having (98.7 %), as one of two probably (97.4 %)
}

// One mishit in ten before and four after: the clean shots alone would hide that.
func ExampleMishitsDiffer() {
	rate, err := compare.MishitRateChange(1, 10, 4, 10, compare.Options{})
	check(err)
	fmt.Printf("%+.0f in 100 balls, take all shots: %t\n", 100*rate.Estimate, compare.MishitsDiffer(rate))
	// Output: +30 in 100 balls, take all shots: true
}

func ExampleScoreExpectation() {
	before, after := groups()
	gain, err := compare.CarryGain(context.Background(), before, after, compare.Options{})
	check(err)
	score, err := compare.ScoreExpectation(gain, 25)
	check(err)
	fmt.Printf("off by %+.1f yd, held: %t\n", score.Off, score.Held)
	// Output: off by -9.4 yd, held: false
}

// Three lessons in which 10 yd were expected, and 4, 6 and 2 measured.
func ExampleCalibrate() {
	var scores []compare.Score
	for _, more := range []float64{4, 6, 2} {
		gain, err := compare.MeanGain(context.Background(), "carry_gain", "yd", []float64{140, 144, 142, 138}, []float64{140 + more, 144 + more, 142 + more, 138 + more}, compare.Options{})
		check(err)
		s, err := compare.ScoreExpectation(gain, 10)
		check(err)
		scores = append(scores, s)
	}
	c, err := compare.Calibrate(scores)
	check(err)
	fmt.Printf("delivered %.1f of what was expected; %d of %d held\n", c.Delivered, c.Held, c.Lessons)
	// Output: delivered 0.4 of what was expected; 1 of 3 held
}

package compare

// MishitsDiffer tells whether a [MishitRateChange] is so large that the headline
// must be the mean of all shots, mishits included, and not that of the clean ones:
// by [SmallestMishitRate] or more either way as seen, or with an interval that
// excludes 0.
//
// How often the ball is mishit and how good it is when struck are two questions,
// and the mean of the clean shots answers the second alone: a swing that carries
// ten yards further and is mishit twice as often is not ten yards longer.
func MishitsDiffer(rate Effect) bool {
	const rounding = 1e-12
	seen := max(rate.Estimate, -rate.Estimate) >= SmallestMishitRate-rounding
	return seen || rate.Interval.Low > 0 || rate.Interval.High < 0
}

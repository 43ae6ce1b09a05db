package compare

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A TrendTest tells whether later stages of a lesson have larger values.
type TrendTest struct {
	Name  string
	Share float64 // of the pairs of shots from two stages, those in which the later one is larger, ties half
	J     float64 // how many pairs that are
	Mean  float64 // of J without any trend
	SD    float64 // of J without any trend
	P     float64 // two-sided
	Exact bool    // P was counted out; else it is that of a normal J
	N     []int   // shots of each stage
}

// Trend tests whether a column rises, or falls, from stage to stage, with three
// stages or more in the order hit. Jonckheere and Terpstra's statistic counts the
// pairs of shots from two different stages,
//
//	J = Σ (pairs in which the later shot is larger) + ½ Σ (equal pairs)
//
// and P is how often J is at least as far from its mean when all shots are dealt
// to the stages at random: counted out without ties and up to 100 shots, else
// from the normal law with the variance for ties.
//
// It asks one question of all stages, where stage by stage asks several: use it
// for a change that is worked on through the lesson. It can't tell what rises: a
// swing that gets better and a body that gets warm look alike, see
// [DriftOrStages]. A rise that is lost again cancels out.
//
// It assumes independent shots. It takes three stages of one shot.
//
// Errors: [ErrMissing]; [ErrStages] below 3 stages; *[dispersion.TooFewError] for
// an empty one; *[ValueError]; [dispersion.ErrDegenerate] where all values are
// equal; the context's error. Deterministic.
//
// References: A. R. Jonckheere, "A Distribution-Free k-Sample Test Against Ordered
// Alternatives", Biometrika 41(1/2), 1954, pp. 133-145. M. Hollander, D. A. Wolfe,
// Nonparametric Statistical Methods, 2nd ed., Wiley 1999, section 6.2.
func Trend(ctx context.Context, name string, stages [][]float64) (TrendTest, error) {
	if ctx == nil {
		return TrendTest{}, fmt.Errorf("compare: %w", ErrMissing)
	}
	if len(stages) < 3 {
		return TrendTest{}, fmt.Errorf("compare: a trend over %d stages, where it takes three: %w", len(stages), ErrStages)
	}
	t := TrendTest{Name: name}
	var all []float64
	for j, s := range stages {
		if len(s) == 0 {
			return TrendTest{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Need: 1, For: "a trend, in each stage,"})
		}
		if err := checkStage(j, s); err != nil {
			return TrendTest{}, err
		}
		for _, v := range s {
			for _, earlier := range all {
				switch {
				case v > earlier:
					t.J++
				case v == earlier:
					t.J += 0.5
				}
			}
		}
		all = append(all, s...)
		t.N = append(t.N, len(s))
	}
	slices.Sort(all)
	if all[0] == all[len(all)-1] {
		return TrendTest{}, fmt.Errorf("compare: %s: all values are equal: %w", name, dispersion.ErrDegenerate)
	}
	ties := tied(all)
	t.Mean, t.SD = trendLaw(t.N, ties)
	t.Share = t.J / (2 * t.Mean)
	t.P = math.Min(1, 2*normalTail(math.Abs(t.J-t.Mean)/t.SD))
	if len(ties) == 0 && len(all) <= exactRanks {
		p, err := t.exact(ctx)
		if err != nil {
			return TrendTest{}, err
		}
		t.P, t.Exact = p, true
	}
	return t, ctx.Err()
}

// tied returns how many values share each value that more than one has.
func tied(sorted []float64) (sizes []int) {
	for from := 0; from < len(sorted); {
		to := from + 1
		for to < len(sorted) && sorted[to] == sorted[from] {
			to++
		}
		if to-from > 1 {
			sizes = append(sizes, to-from)
		}
		from = to
	}
	return sizes
}

// trendLaw returns the mean and the standard deviation of J for stages of n shots
// and ties of the given sizes.
func trendLaw(n, ties []int) (mean, sd float64) {
	var all, squares float64
	// The sums over stages and over ties of v(v-1)(2v+5), v(v-1)(v-2) and v(v-1).
	var first, second, third [2]float64
	for kind, sizes := range [2][]int{n, ties} {
		for _, size := range sizes {
			v := float64(size)
			first[kind] += v * (v - 1) * (2*v + 5)
			second[kind] += v * (v - 1) * (v - 2)
			third[kind] += v * (v - 1)
		}
	}
	for _, size := range n {
		all += float64(size)
		squares += float64(size) * float64(size)
	}
	variance := (all*(all-1)*(2*all+5)-first[0]-first[1])/72 + third[0]*third[1]/(8*all*(all-1))
	if all > 2 {
		variance += second[0] * second[1] / (36 * all * (all - 1) * (all - 2))
	}
	return (all*all - squares) / 4, math.Sqrt(variance)
}

// exact returns the share of all ways to deal the shots in which J is at least as
// far from its mean. Each stage against all earlier ones is a rank sum of its
// own, independent of the others.
func (t TrendTest) exact(ctx context.Context) (float64, error) {
	law := []float64{1} // the chance of each J so far
	before := t.N[0]
	for _, n := range t.N[1:] {
		ranks := make([]int, before+n)
		for i := range ranks {
			ranks[i] = i + 1
		}
		d, err := newRankSum(ctx, ranks, n)
		if err != nil {
			return 0, err
		}
		counts := d.counts[n*(n+1)/2:]
		next := make([]float64, len(law)+len(counts)-1)
		for i, a := range law {
			for j, c := range counts {
				next[i+j] += a * c / d.total
			}
		}
		law = next
		before += n
	}
	var p float64
	for j, chance := range law {
		if math.Abs(float64(j)-t.Mean) >= math.Abs(t.J-t.Mean) {
			p += chance
		}
	}
	return math.Min(1, p), nil
}

// Sentence says which way the column goes, if any, for the pupil.
func (t TrendTest) Sentence() string {
	return fmt.Sprintf("Of two balls from different stages the later one has more %s in %s of the pairs; by chance alone it would be half, and that far from half or further in %s of lessons.",
		t.Name, percent(t.Share), percent(t.P))
}

// Line returns the trend for the statistician.
func (t TrendTest) Line() string {
	how := "normal, corrected for ties"
	if t.Exact {
		how = "exact"
	}
	return fmt.Sprintf("%s: Jonckheere-Terpstra J %.4g, mean %.4g, SD %.4g, stages of %v shots, two-sided %s (%s).", t.Name, t.J, t.Mean, t.SD, t.N, pText(t.P), how)
}

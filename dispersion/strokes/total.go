package strokes

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Total sums up the strokes gained by some shots.
type Total struct {
	Name     string
	Shots    int
	Clusters int     // holes, or sessions, that the shots come from
	Sum      float64 // of the strokes gained
	Mean     float64 // for each shot
	SE       float64 // of the mean

	// Interval is that of the mean; there is none, with HasInterval false and
	// an SE of 0, where all shots come from one cluster.
	Interval    dispersion.Interval
	HasInterval bool

	// Warnings: *[FewClustersWarning].
	Warnings []error
}

// A FewClustersWarning tells that the shots come from so few holes or sessions
// that the interval is a rough guess, or that there is none.
type FewClustersWarning struct {
	Have, Need int // holes, or sessions, and from how many on the interval is to be trusted
}

func (w *FewClustersWarning) Error() string {
	return fmt.Sprintf("too few holes or sessions for an interval to rely on: %d, where it takes %d", w.Have, w.Need)
}

// enoughClusters is the number below which intervals from clusters are known to
// be too narrow when clusters differ in size. A round has 18 holes.
const enoughClusters = 10

// ByRound names the round of a shot.
func ByRound(s Shot) string { return s.Round }

// ByHole names the round and the hole.
func ByHole(s Shot) string { return s.Round + "\x1f" + s.Hole }

// ByLie names the lie that the shot was played from.
func ByLie(s Shot) string { return s.From.Lie.String() }

// ByClub names the club.
func ByClub(s Shot) string { return s.Club }

// Totals sums up the strokes gained by shots that belong together, such as
// those of a round with [ByRound], in the order in which they first occur. The
// clusters are what the standard errors are clustered by: see [TotalOf].
//
// Errors: [ErrMissing] for a nil function, no shots, or a number of values that
// is not that of the shots; those of TotalOf.
func Totals(shots []Shot, gained []float64, group, cluster func(Shot) string, level float64) ([]Total, error) {
	if group == nil || cluster == nil || len(shots) != len(gained) || len(shots) == 0 {
		return nil, fmt.Errorf("strokes: totals of %d shots with %d values: %w", len(shots), len(gained), ErrMissing)
	}
	place := map[string]int{}
	var names []string
	var values [][]float64
	var clusters [][]string
	for i, s := range shots {
		name := group(s)
		at, seen := place[name]
		if !seen {
			at = len(names)
			place[name] = at
			names, values, clusters = append(names, name), append(values, nil), append(clusters, nil)
		}
		values[at] = append(values[at], gained[i])
		clusters[at] = append(clusters[at], cluster(s))
	}
	totals := make([]Total, len(names))
	for i := range names {
		t, err := TotalOf(names[i], values[i], clusters[i], level)
		if err != nil {
			return nil, err
		}
		totals[i] = t
	}
	return totals, nil
}

// TotalOf sums up strokes gained, or any other values, that come in clusters:
// the shots of one hole or one session have something in common and count as
// less than as many shots of different ones. With uₖ the sum over cluster k of
// what its values differ from the mean of all n, and G clusters,
//
//	SE² = G/(G-1) · Σ uₖ² / n²
//
// and the interval is that of t with G-1 degrees of freedom. It assumes that
// clusters are independent. With clusters of one shot each it is the usual
// standard error of a mean.
//
// Errors: dispersion.ErrLevel; [ErrMissing] for no values or another number of
// clusters; [ErrShot] naming a value that is not finite. Warnings:
// *[FewClustersWarning] below ten clusters.
//
// Reference: K.-Y. Liang, S. L. Zeger, "Longitudinal Data Analysis Using
// Generalized Linear Models", Biometrika 73(1), 1986, pp. 13-22.
func TotalOf(name string, values []float64, clusters []string, level float64) (Total, error) {
	if !(level > 0 && level < 1) {
		return Total{}, fmt.Errorf("strokes: level %g: %w", level, dispersion.ErrLevel)
	}
	if len(values) == 0 || len(values) != len(clusters) {
		return Total{}, fmt.Errorf("strokes: %d values in %d clusters: %w", len(values), len(clusters), ErrMissing)
	}
	t := Total{Name: name, Shots: len(values)}
	n := float64(len(values))
	for i, v := range values {
		if !(math.Abs(v) <= 1e6) {
			return Total{}, fmt.Errorf("strokes: value %d is %g, no number of strokes: %w", i, v, ErrShot)
		}
		t.Sum += v
	}
	t.Mean = t.Sum / n
	place := map[string]int{}
	var away []float64 // in the order of first occurrence, so that sums repeat exactly
	for i, v := range values {
		at, seen := place[clusters[i]]
		if !seen {
			at = len(away)
			place[clusters[i]] = at
			away = append(away, 0)
		}
		away[at] += v - t.Mean
	}
	t.Clusters = len(away)
	if t.Clusters < enoughClusters {
		t.Warnings = []error{&FewClustersWarning{Have: t.Clusters, Need: enoughClusters}}
	}
	if t.Clusters < 2 {
		return t, nil
	}
	squares := 0.0
	for _, u := range away {
		squares += u * u
	}
	g := float64(t.Clusters)
	t.SE = math.Sqrt(g/(g-1)*squares) / n
	if t.SE == 0 { // as many equal values give: no interval says what others would be
		return t, nil
	}
	half := -t.SE * distuv.StudentsT{Sigma: 1, Nu: g - 1}.Quantile((1-level)/2)
	t.Interval = dispersion.Interval{Low: t.Mean - half, High: t.Mean + half, Level: level}
	t.HasInterval = true
	return t, nil
}

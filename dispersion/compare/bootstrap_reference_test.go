package compare

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// The recorded resamples of testdata/ref/boot_*.json, made by boot.R under R
// 4.2.2 with boot 1.3-28.1.
type recorded struct {
	Data      [][2]float64
	Stage     []int
	Resamples [][]int
	Output    struct {
		Estimate     float64   `json:"t0"`
		Values       []float64 `json:"t"`
		Variances    []float64 `json:"t_variance"`
		Bias, SE     float64
		JackknifeSE  float64 `json:"jackknife_se"`
		Acceleration float64
		Z0           float64
		Level90      ends
		Level95      ends
	}
}

type ends struct{ Percentile, BCa, T *[2]float64 }

func readRecorded(t *testing.T, name string) (r recorded) {
	t.Helper()
	raw, err := os.ReadFile("testdata/ref/boot_" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// stages returns the groups, and of one resample the units of each group.
func (r recorded) stages(t *testing.T) (groups []*dispersion.Group, units func(plans []*resample.Plan, rows []int) [][]uint32) {
	var points [][]dispersion.Point
	first := []int{}
	for i, p := range r.Data {
		if i == 0 || r.Stage[i] != r.Stage[i-1] {
			points = append(points, nil)
			first = append(first, i)
		}
		last := len(points) - 1
		points[last] = append(points[last], dispersion.Point{X: p[0], Y: p[1]})
	}
	for _, p := range points {
		groups = append(groups, group(t, p))
	}
	units = func(plans []*resample.Plan, rows []int) [][]uint32 {
		all := make([][]uint32, len(groups))
		for s, g := range groups {
			n := g.N()
			_, length := plans[s].Whole()
			// A tuple of shots is a number written with the digits 0 … n-1.
			for from := 0; from < n; from += length {
				unit := 0
				for _, row := range rows[first[s]+from : first[s]+min(from+length, n)] {
					unit = unit*n + row - 1 - first[s]
				}
				all[s] = append(all[s], uint32(unit))
			}
		}
		return all
	}
	return groups, units
}

func TestBootstrapReproducesRecordedResamples(t *testing.T) {
	mean := func(m []dispersion.Moments) (float64, error) { return m[0].Mean.Y, nil }
	pearson := func(m []dispersion.Moments) (float64, error) {
		return m[0].SXY / math.Sqrt(m[0].SXX*m[0].SYY), nil
	}
	ratio := func(m []dispersion.Moments) (float64, error) { return LogAreaRatio(m[0], m[1]) }
	for name, statistic := range map[string]func([]dispersion.Moments) (float64, error){
		"mean_mouse": mean, "mean_p20": mean, "cor_law": pearson, "logarea_p20_q20": ratio, "logarea_p20_d40": ratio,
	} {
		t.Run(name, func(t *testing.T) {
			want := readRecorded(t, name)
			groups, units := want.stages(t)
			ofPoints := func(samples [][]dispersion.Point) (float64, error) {
				var m []dispersion.Moments
				for _, s := range samples {
					g, err := dispersion.NewGroup(s)
					if err != nil {
						return 0, err
					}
					m = append(m, g.Moments())
				}
				return statistic(m)
			}
			for path, j := range map[string]job{"moments": momentsJob(groups, 1, statistic), "points": pointsJob(groups, 1, ofPoints)} {
				r := replicates{}
				e := j.evaluator()
				within := j.newJackknife()
				for i, rows := range want.Resamples {
					u := units(j.plans, rows)
					v := make([]float64, 1)
					if err := e.resampled(u, v); err != nil {
						t.Fatal(err)
					}
					r.values = append(r.values, v[0])
					r.variances = append(r.variances, within.varianceOf(ctx, e, u, v[0]))
					near(t, path+" value", v[0], want.Output.Values[i], 1e-12)
					near(t, path+" variance", r.variances[i], want.Output.Variances[i], 1e-12)
				}
				for _, level := range []float64{0.90, 0.95} {
					ends := want.Output.Level90
					if level == 0.95 {
						ends = want.Output.Level95
					}
					o := Options{Level: level}
					b, err := j.asItIs(ctx, o)
					if err != nil {
						t.Fatal(err)
					}
					if b, err = b.withIntervals(r, o); err != nil {
						t.Fatal(err)
					}
					near(t, path+" estimate", b.Estimate, want.Output.Estimate, 1e-12)
					near(t, path+" SE", b.SE, want.Output.SE, 1e-12)
					near(t, path+" bias", b.Bias, want.Output.Bias, 1e-10) // a difference of near equals
					near(t, path+" jackknife SE", b.JackknifeSE, want.Output.JackknifeSE, 1e-12)
					near(t, path+" acceleration", b.Acceleration, want.Output.Acceleration, 1e-12)
					near(t, path+" z0", b.Correction, want.Output.Z0, 1e-12)
					for what, pair := range map[string]struct {
						got  dispersion.Interval
						want *[2]float64
					}{"percentile": {b.Percentile, ends.Percentile}, "BCa": {b.BCa, ends.BCa}, "bootstrap-t": {b.T, ends.T}} {
						near(t, path+" "+what+" low", pair.got.Low, pair.want[0], 1e-12)
						near(t, path+" "+what+" high", pair.got.High, pair.want[1], 1e-12)
						if pair.got.Level != level {
							t.Errorf("%s: level %g, want %g", what, pair.got.Level, level)
						}
					}
				}
			}
		})
	}
}

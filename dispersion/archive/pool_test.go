package archive_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Pupils whose mean carries spread by 10 yd hit 200 shots each that spread by 8.
// The interval of Pool must cover the mean over all pupils as often as it says.
// One that takes the 200 shots of each for independent must be seen to fail: its
// standard error is √((10²+8²)/200n), the true one √((10²+8²/200)/n), so it is 11
// times too narrow, whatever n.
func TestPoolCoverage(t *testing.T) {
	const runs, shots = 400, 200
	for _, pupils := range []int{8, 15, 40} {
		rng := rand.New(rand.NewPCG(uint64(pupils), 9))
		covered, shotCovered := 0, 0
		widths, shotWidths := 0., 0.
		for run := range runs {
			values := make([]archive.PupilValue, pupils)
			var all dispersion.Moments
			for i := range values {
				mean := 150 + 10*rng.NormFloat64()
				var m dispersion.Moments
				for range shots {
					m.Add(dispersion.Point{X: 8 * rng.NormFloat64(), Y: mean + 8*rng.NormFloat64()})
				}
				values[i] = archive.PupilValue{Pupil: fmt.Sprint(i), Value: m.Mean.Y}
				all.Merge(m)
			}
			p, err := archive.Pool(background, values, compare.Options{Resamples: 999, Seed: uint64(run)})
			if err != nil {
				t.Fatal(err)
			}
			if p.Interval.Low <= 150 && 150 <= p.Interval.High {
				covered++
			}
			widths += p.Interval.High - p.Interval.Low
			half := 1.96 * math.Sqrt(all.SYY/float64(all.N-1)/float64(all.N))
			if math.Abs(all.Mean.Y-150) <= half {
				shotCovered++
			}
			shotWidths += 2 * half
		}
		share, shotShare := float64(covered)/runs, float64(shotCovered)/runs
		t.Logf("%d pupils: resampling pupils covers %.3f, taking shots for independent %.3f, and is %.1f times as wide", pupils, share, shotShare, widths/shotWidths)
		if band := 4 * math.Sqrt(0.95*0.05/runs); math.Abs(share-0.95) > band {
			t.Errorf("%d pupils: the interval covers %.3f, want 0.95 ± %.3f", pupils, share, band)
		}
		if shotShare > 0.4 {
			t.Errorf("%d pupils: taking shots for independent covers %.3f, so this test shows nothing", pupils, shotShare)
		}
	}
}

// By hand: 1, 2, 3, 4, 5 have the mean 3 and the standard deviation √2.5.
func TestPoolByHand(t *testing.T) {
	p, err := archive.Pool(background, pupilValues(1, 2, 3, 4, 5), compare.Options{Level: 0.9, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	if p.Estimate != 3 || math.Abs(p.Between-math.Sqrt(2.5)) > 1e-15 || p.Pupils != 5 || p.Seed != 3 || p.Resamples != 9999 || p.Interval.Level != 0.9 {
		t.Errorf("%+v", p)
	}
	if !(p.Interval.Low < 3-math.Sqrt(0.5) && p.Interval.High > 3+math.Sqrt(0.5)) {
		t.Errorf("the interval %+v is within one standard error, √0.5", p.Interval)
	}
	if len(p.Warnings) != 1 || !errors.As(p.Warnings[0], new(*archive.FewPupilsWarning)) {
		t.Errorf("warnings %v, want that pupils are few", p.Warnings)
	}
}

func pupilValues(x ...float64) []archive.PupilValue {
	values := make([]archive.PupilValue, len(x))
	for i, v := range x {
		values[i] = archive.PupilValue{Pupil: fmt.Sprint(i), Value: v}
	}
	return values
}

// Another origin and unit move and stretch the interval, other workers change
// no bit, and the values stay as they were.
func TestPoolInvariance(t *testing.T) {
	x := []float64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8}
	values := pupilValues(x...)
	base, err := archive.Pool(background, values, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(values, pupilValues(x...)) {
		t.Error("the values were modified")
	}
	for i := range x {
		x[i] = 16 - 4*x[i]
	}
	moved, err := archive.Pool(background, pupilValues(x...), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(moved.Interval.Low-(16-4*base.Interval.High)) > 0.6 || math.Abs(moved.Estimate-(16-4*base.Estimate)) > 1e-12 {
		t.Errorf("%+v turned into %+v", base.Interval, moved.Interval)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again, err := archive.Pool(background, values, compare.Options{})
	if err != nil || !reflect.DeepEqual(again, base) {
		t.Errorf("one core: %+v %v, want %+v", again, err, base)
	}
}

func TestPoolErrors(t *testing.T) {
	good := pupilValues(1, 2, 3, 4, 5)
	twice := append(pupilValues(1, 2, 3, 4, 5), archive.PupilValue{Pupil: "0", Value: 9})
	ended, cancel := context.WithCancel(background)
	cancel()
	for name, c := range map[string]struct {
		ctx    context.Context
		values []archive.PupilValue
		o      compare.Options
		want   error
	}{
		"no context":    {nil, good, compare.Options{}, archive.ErrMissing},
		"ended":         {ended, good, compare.Options{}, context.Canceled},
		"level":         {background, good, compare.Options{Level: 95}, dispersion.ErrLevel},
		"resamples":     {background, good, compare.Options{Resamples: -1}, compare.ErrResamples},
		"too many":      {background, good, compare.Options{Resamples: 1 << 60}, compare.ErrResamples},
		"pupil twice":   {background, twice, compare.Options{}, archive.ErrPupil},
		"all the same":  {background, pupilValues(2, 2, 2, 2, 2), compare.Options{}, dispersion.ErrDegenerate},
		"infinite ends": {background, pupilValues(1, 2, 3, 4, math.Inf(1)), compare.Options{}, nil},
		"no number":     {background, pupilValues(1, 2, 3, 4, math.NaN()), compare.Options{}, nil},
	} {
		_, err := archive.Pool(c.ctx, c.values, c.o)
		if c.want == nil {
			if !errors.As(err, new(*archive.PupilError)) {
				t.Errorf("%s: %v, want a *PupilError", name, err)
			}
		} else if !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	var few *dispersion.TooFewError
	if _, err := archive.Pool(background, good[:4], compare.Options{}); !errors.As(err, &few) || few.Need != 5 {
		t.Errorf("4 pupils: %v", err)
	}
}

func TestPoolOfAnArchive(t *testing.T) {
	a, _ := filled(t, 6, 2, 60)
	if _, err := a.Pool(background, archive.Query{}, archive.MeanCarry, compare.Options{}); !errors.Is(err, archive.ErrMixed) {
		t.Errorf("two clubs: %v", err)
	}
	got, err := a.Pool(background, archive.Query{Club: "7i"}, archive.Radius, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	// The same by way of the lessons themselves.
	totals, err := collect(a.Totals(background, archive.Query{Club: "7i"}))
	if err != nil {
		t.Fatal(err)
	}
	var values []archive.PupilValue
	var shots int64
	for _, total := range totals {
		cov, err := total.Clean.Moments.Cov()
		if err != nil {
			t.Fatal(err)
		}
		values = append(values, archive.PupilValue{Pupil: total.Pupil, Value: math.Pow(cov.XX*cov.YY-cov.XY*cov.XY, 0.25)})
		shots += total.Clean.Moments.N
	}
	want, err := archive.Pool(background, values, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Interval.Low-want.Interval.Low) > 1e-9 || math.Abs(got.Estimate-want.Estimate) > 1e-12 || got.Shots != shots || got.Pupils != 6 || got.Unit != lesson.Yards {
		t.Errorf("%+v, want %+v of %d shots", got, want, shots)
	}
	if _, err := a.Pool(background, archive.Query{Club: "7i"}, nil, compare.Options{}); !errors.Is(err, archive.ErrMissing) {
		t.Errorf("no statistic: %v", err)
	}
	add(t, a, read(t, "pupil,session,club,carry_yd,side_yd\nZoe,2024-01-01,7i,150,1\n", lesson.ReadOptions{}))
	if _, err := a.Pool(background, archive.Query{Club: "7i"}, archive.Radius, compare.Options{}); !errors.As(err, new(*dispersion.TooFewError)) || !errors.As(err, new(*archive.PupilError)) {
		t.Errorf("a pupil with one shot has no radius: %v", err)
	}
}

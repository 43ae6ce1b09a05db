package archive_test

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"runtime"
	"slices"
	"strconv"
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

// Source: testdata/ref/pool.R under R 4.2.2, boot 1.3-28.1: boot.ci, type "stud".
// Resamples are drawn at random here and there, so the band is 4 standard
// deviations of an end of one run of 9,999, over 40 runs there.
func TestPoolAgainstR(t *testing.T) {
	f, err := os.Open("testdata/ref/pool.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil || len(records) != 3 {
		t.Fatalf("%d records, %v", len(records), err)
	}
	p, err := archive.Pool(background, pupilValues(3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range []float64{p.Interval.Low, p.Interval.High} {
		middle, err1 := strconv.ParseFloat(records[i+1][1], 64)
		sd, err2 := strconv.ParseFloat(records[i+1][2], 64)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if band := 4 * sd * math.Sqrt(1+1./40); math.Abs(got-middle) > band {
			t.Errorf("the %s end is %g, want %g ± %g", records[i+1][0], got, middle, band)
		}
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
	if math.Abs(moved.Interval.Low-(16-4*base.Interval.High)) > 1e-12 || math.Abs(moved.Interval.High-(16-4*base.Interval.Low)) > 1e-12 || math.Abs(moved.Estimate-(16-4*base.Estimate)) > 1e-12 {
		t.Errorf("%+v turned into %+v", base.Interval, moved.Interval)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again, err := archive.Pool(background, values, compare.Options{})
	if err != nil || !reflect.DeepEqual(again, base) {
		t.Errorf("one core: %+v %v, want %+v", again, err, base)
	}
}

// times returns a value n times.
func times(n int, v float64) []float64 { return slices.Repeat([]float64{v}, n) }

// Pupils whose values tie: a resample of one value has no spread, however the
// mean of it rounds. By hand: of resamples of 13 values, 12 of them equal,
// (12/13)¹³ + (1/13)¹³ = 35.3 % have one value; with 10, 1 and 1 of 12
// (10/12)¹² = 11.2 %; with 6 and 1 of 7 (6/7)⁷ = 34.0 %; with 6, 3 and 3 of 12 it is 0.02 %.
func TestPoolOfTies(t *testing.T) {
	for _, c := range []struct {
		values []float64
		share  float64 // 0 for an answer
	}{
		{append(times(12, 150.1), 160), 0.35326},
		{append(times(10, 0.1), 0.2, 0.3), 0.11216},
		{append(times(6, 150.1), 160), 0.33992},
		{slices.Concat(times(6, 0.1), times(3, 0.2), times(3, 0.3)), 0},
		{slices.Concat(times(3, 0.1), times(3, math.Nextafter(0.1, 1)), times(3, 0.2), times(3, 0.3)), 0},
	} {
		p, err := archive.Pool(background, pupilValues(c.values...), compare.Options{})
		var tied *archive.TiedError
		if c.share > 0 {
			if !errors.As(err, &tied) || math.Abs(tied.Share-c.share) > 1e-5 || tied.Pupils != len(c.values) {
				t.Errorf("%v: %+v %v, want a share of %g", c.values, p.Interval, err, c.share)
			}
			continue
		}
		if err != nil || !(p.Interval.Low < p.Estimate && p.Estimate < p.Interval.High) || p.Interval.High > 0.4 || p.Interval.Low < 0 {
			t.Errorf("%v: %+v %v", c.values, p, err)
		}
	}
	for _, v := range []float64{150.1, 0.1, -3, 0} {
		if p, err := archive.Pool(background, pupilValues(times(7, v)...), compare.Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
			t.Errorf("7 times %g: %+v %v", v, p, err)
		}
	}
}

// Tiny values are values like others.
func TestPoolOfTinyValues(t *testing.T) {
	x := []float64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8}
	want, err := archive.Pool(background, pupilValues(x...), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range x {
		x[i] *= 0x1p-700
	}
	got, err := archive.Pool(background, pupilValues(x...), compare.Options{})
	if err != nil || got.Interval.Low != want.Interval.Low*0x1p-700 || got.Interval.High != want.Interval.High*0x1p-700 || got.Between != want.Between*0x1p-700 {
		t.Errorf("%+v %v, want %+v times 2⁻⁷⁰⁰", got, err, want)
	}
}

// By hand: the ends at 0.95 stand at places 0.025(n+1) and 0.975(n+1), which are
// within n resamples from 39 on; at 0.9 from 19.
func TestPoolNeedsResamples(t *testing.T) {
	for _, c := range []struct {
		level     float64
		resamples int
		need      int // 0 for no warning
	}{{0.95, 1, 39}, {0.95, 38, 39}, {0.95, 39, 0}, {0.9, 18, 19}, {0.9, 19, 0}} {
		p, err := archive.Pool(background, pupilValues(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12), compare.Options{Level: c.level, Resamples: c.resamples})
		if err != nil {
			t.Fatal(err)
		}
		var extreme *compare.ExtremeWarning
		if found := errors.As(errors.Join(p.Warnings...), &extreme); found != (c.need > 0) || found && extreme.Need != c.need {
			t.Errorf("%d resamples at %g: warnings %v, want %d", c.resamples, c.level, p.Warnings, c.need)
		}
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

package strokes

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

const foot = 0.3048

// near fails unless got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func readCounts(t testing.TB, file []byte) []PuttCount {
	t.Helper()
	putts, err := ReadPutts(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return putts
}

// reference returns what testdata/ref/putting.R made.
func reference(t *testing.T) map[string]float64 {
	t.Helper()
	file, err := os.Open("testdata/ref/putting.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]float64{}
	for _, row := range rows[1:] {
		if values[row[0]], err = strconv.ParseFloat(row[1], 64); err != nil {
			t.Fatal(err)
		}
	}
	return values
}

// shares holds a model against the reference values for whole feet.
func shares(t *testing.T, m OnePutter, name string) {
	t.Helper()
	found := 0
	for key, want := range reference(t) {
		var feet float64
		if n, err := fmt.Sscanf(key, name+"_%fft", &feet); n != 1 || err != nil {
			continue
		}
		got, err := m.OnePutt(feet * foot)
		if err != nil {
			t.Fatal(err)
		}
		near(t, key, got, want, 1e-11)
		found++
	}
	if found < 4 {
		t.Errorf("%d reference values for %s", found, name)
	}
}

// Source: data D. A. Berry 1996 in A. Gelman, D. Nolan 2002; the fit by optimize
// of R 4.2.2 in testdata/ref/putting.R, and published by the Stan case study on
// golf putting as 1.53°.
func TestFitAngleOfThePublishedTable(t *testing.T) {
	m, fit, err := FitAngle(readCounts(t, datasets.Putts1996File()))
	if err != nil {
		t.Fatal(err)
	}
	want := reference(t)
	near(t, "σ", m.Angle, want["angle"], 1e-9)
	near(t, "σ in degrees", m.Angle*180/math.Pi, 1.53, 0.005)
	near(t, "standard error", fit.Parameters[0].SE, want["angle_se"], 1e-7)
	near(t, "log likelihood", fit.LogLikelihood, want["angle_log_likelihood"], 1e-8)
	near(t, "deviance", fit.Deviance, want["angle_deviance"], 1e-8)
	if fit.Putts != 5988 || fit.Rows != 19 {
		t.Errorf("%d putts in %d rows", fit.Putts, fit.Rows)
	}
	var misfit *MisfitWarning
	if len(fit.Warnings) != 1 || !errors.As(fit.Warnings[0], &misfit) || misfit.DF != 18 {
		t.Errorf("a deviance of 60 on 18 gave the warnings %v", fit.Warnings)
	}
}

// One putt from each of 300 places is no table: a true curve is not blamed for
// that, and a wrong one still is.
func TestMisfitOfSinglePutts(t *testing.T) {
	r := rand.New(resample.NewStream(12, "single putts", 0))
	blamed := func(curve func(x float64) float64) (warnings int) {
		for range 40 {
			var putts []PuttCount
			for i := range 300 {
				c := PuttCount{Distance: 0.5 + float64(i)/100, Tried: 1}
				if r.Float64() < curve(c.Distance) {
					c.Holed = 1
				}
				putts = append(putts, c)
			}
			_, fit, err := FitAngle(putts)
			if err != nil {
				t.Fatal(err)
			}
			warnings += len(fit.Warnings)
		}
		return warnings
	}
	m := AngleModel{Angle: 0.03}
	if n := blamed(func(x float64) float64 { holed, _ := m.shares(x); return holed }); n > 1 { // 0.04 are to be expected
		t.Errorf("the true curve was blamed in %d of 40 fits", n)
	}
	if n := blamed(func(x float64) float64 { return 0.5 }); n < 38 {
		t.Errorf("a coin was taken for the curve in %d of 40 fits", 40-n)
	}
}

// Source: pnorm of R 4.2.2 at σ = 0.0267, in testdata/ref/putting.R.
func TestAngleModelShares(t *testing.T) { shares(t, AngleModel{Angle: .0267}, "angle") }

// Source: pnorm of R 4.2.2 at σ = (0.018, 0.08), in testdata/ref/putting.R.
func TestAngleDistanceModelShares(t *testing.T) {
	shares(t, AngleDistanceModel{Angle: .018, Distance: .08}, "both")
}

// Source: glm of R 4.2.2 in testdata/ref/putting.R; the Stan case study publishes
// 2.23 (0.06), -0.26 (0.01).
func TestFitLogisticOfThePublishedTable(t *testing.T) {
	m, fit, err := FitLogistic(readCounts(t, datasets.Putts1996File()))
	if err != nil {
		t.Fatal(err)
	}
	want := reference(t)
	near(t, "intercept", m.Intercept, want["logistic_intercept"], 1e-8)
	near(t, "its standard error", fit.Parameters[0].SE, want["logistic_intercept_se"], 1e-7)
	near(t, "slope per foot", m.Slope*foot, want["logistic_slope_ft"], 1e-8)
	near(t, "its standard error", fit.Parameters[1].SE*foot, want["logistic_slope_ft_se"], 1e-7)
	near(t, "deviance", fit.Deviance, want["logistic_deviance"], 1e-8)
}

// Source: data M. Broadie 2018 and model in the Stan case study on golf putting,
// which publishes .018, .080, .003; the digits by optim of R 4.2.2 in
// testdata/ref/putting.R, without the rounding of shares to whole putts.
func TestFitAngleDistanceOfThePublishedTable(t *testing.T) {
	m, fit, err := FitAngleDistance(readCounts(t, datasets.Putts2018File()))
	if err != nil {
		t.Fatal(err)
	}
	want := reference(t)
	near(t, "σ of the angle", m.Angle, want["both_angle"], 1e-6)
	near(t, "σ of the distance", m.Distance, want["both_distance"], 1e-5)
	near(t, "extra error", fit.Parameters[2].Value, want["both_extra"], 1e-6)
	for i, printed := range []float64{.018, .080, .003} {
		near(t, fit.Parameters[i].Name, fit.Parameters[i].Value, printed, 0.0005)
	}
	if fit.Putts != 1253196 || fit.Rows != 31 || len(fit.Warnings) != 0 {
		t.Errorf("%d putts in %d rows, warnings %v", fit.Putts, fit.Rows, fit.Warnings)
	}
}

// A curve that holes fewer from further away, whatever the model.
func TestOnePuttFalls(t *testing.T) {
	for _, m := range []OnePutter{AngleModel{0.026}, AngleDistanceModel{0.018, 0.08}, AngleDistanceModel{0.5, 0.5}, LogisticModel{2, -0.8}, LogisticModel{-900, -1}} {
		last := 1.0
		for x := 0.0; x < 100; x += 0.25 {
			p, err := m.OnePutt(x)
			if err != nil || !(p >= 0 && p <= last) {
				t.Fatalf("%#v at %g m: %g after %g, %v", m, x, p, last, err)
			}
			last = p
		}
	}
}

// Putts drawn from a known player: the interval of 95 % holds the truth in 95 %
// of 400 lessons of 6 × 40 putts, within four binomial standard deviations.
func TestFitAngleCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(3, "putt coverage", 0))
	truth, held := AngleModel{Angle: 0.03}, 0
	const lessons = 400
	for range lessons {
		var putts []PuttCount
		for _, x := range []float64{0.8, 1.2, 1.8, 2.5, 4, 6} {
			putts = append(putts, draw(r, x, 40, truth))
		}
		_, fit, err := FitAngle(putts)
		if err != nil {
			t.Fatal(err)
		}
		if i := fit.Parameters[0].Interval; i.Low <= truth.Angle && truth.Angle <= i.High {
			held++
		}
	}
	if away := math.Abs(float64(held)/lessons - 0.95); away > 4*math.Sqrt(0.95*0.05/lessons) {
		t.Errorf("%d of %d intervals hold the truth", held, lessons)
	}
}

// Two lessons drawn without any error beyond chance: both parameters come back,
// though no putt from the first distance can miss and its share has no variance
// but that of rounding.
func TestFitAngleDistanceWithoutExtraError(t *testing.T) {
	r := rand.New(resample.NewStream(4, "putt fit", 0))
	truth := AngleDistanceModel{Angle: 0.025, Distance: 0.12}
	for range 2 {
		putts := []PuttCount{{0.04, 4000, 4000}}
		for x := 0.5; x < 10; x += 0.5 {
			putts = append(putts, draw(r, x, 4000, truth))
		}
		m, fit, err := FitAngleDistance(putts)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "angle", m.Angle, truth.Angle, 4*fit.Parameters[0].SE)
		near(t, "distance", m.Distance, truth.Distance, 4*fit.Parameters[1].SE)
	}
}

// A coach's own count, 200 putts from each of six distances: the intervals of
// both parameters hold the truth in 95 % of 300 lessons, within four binomial
// standard deviations below.
func TestFitAngleDistanceCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(18, "both coverage", 0))
	truth := AngleDistanceModel{Angle: 0.025, Distance: 0.13}
	const lessons = 300
	var held [2]int
	for range lessons {
		var putts []PuttCount
		for _, x := range []float64{0.3, 1, 2, 3, 5, 8} {
			putts = append(putts, draw(r, x, 200, truth))
		}
		_, fit, err := FitAngleDistance(putts)
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range []float64{truth.Angle, truth.Distance} {
			if in := fit.Parameters[i].Interval; in.Low <= want && want <= in.High {
				held[i]++
			}
		}
	}
	for i, n := range held {
		if share := float64(n) / lessons; share < 0.95-4*math.Sqrt(0.95*0.05/lessons) {
			t.Errorf("parameter %d: %d of %d", i, n, lessons)
		}
	}
}

// By hand: 40 of 40 from where none can miss. The share has no variance but that
// of rounding, 1/(12·40²), so the loss is bounded: ½ log(2π/19200).
func TestShareLossOfSurePutts(t *testing.T) {
	got := shareLoss([]PuttCount{{0.05, 40, 40}}, AngleDistanceModel{0.001, 0.001}, 0)
	near(t, "loss", got, math.Log(2*math.Pi/19200)/2, 1e-12)
}

func draw(r *rand.Rand, distance float64, tried int, m OnePutter) PuttCount {
	p, _ := m.OnePutt(distance)
	c := PuttCount{Distance: distance, Tried: tried}
	for range tried {
		if r.Float64() < p {
			c.Holed++
		}
	}
	return c
}

func TestPuttFitsThatCannotBe(t *testing.T) {
	fits := map[string]func([]PuttCount) error{
		"angle":    func(p []PuttCount) error { _, _, err := FitAngle(p); return err },
		"logistic": func(p []PuttCount) error { _, _, err := FitLogistic(p); return err },
		"distance": func(p []PuttCount) error { _, _, err := FitAngleDistance(p); return err },
	}
	for name, fit := range fits {
		for what, c := range map[string]struct {
			putts []PuttCount
			want  error
		}{
			"none":           {nil, ErrMissing},
			"in the hole":    {[]PuttCount{{0.02, 3, 3}, {1, 3, 2}, {2, 3, 1}}, ErrPutts},
			"NaN":            {[]PuttCount{{math.NaN(), 3, 3}, {1, 3, 2}, {2, 3, 1}}, ErrPutts},
			"more than all":  {[]PuttCount{{1, 3, 4}, {2, 3, 2}, {3, 3, 1}}, ErrPutts},
			"none tried":     {[]PuttCount{{1, 0, 0}, {2, 3, 2}, {3, 3, 1}}, ErrPutts},
			"all holed":      {[]PuttCount{{1, 3, 3}, {2, 3, 3}, {3, 3, 3}}, ErrNoFit},
			"none holed":     {[]PuttCount{{1, 3, 0}, {2, 3, 0}, {3, 3, 0}}, ErrNoFit},
			"infinite":       {[]PuttCount{{math.Inf(1), 3, 0}, {2, 3, 0}, {3, 3, 1}}, ErrPutts},
			"holed negative": {[]PuttCount{{1, 3, -1}, {2, 3, 2}, {3, 3, 1}}, ErrPutts},
		} {
			if err := fit(c.putts); !errors.Is(err, c.want) {
				t.Errorf("%s, %s: %v, want %v", name, what, err, c.want)
			}
		}
	}
	if _, _, err := FitLogistic([]PuttCount{{1, 3, 3}, {2, 3, 0}}); !errors.Is(err, ErrNoFit) {
		t.Errorf("divided: %v", err)
	}
	if _, _, err := FitLogistic([]PuttCount{{1, 9, 3}, {2, 9, 8}}); !errors.Is(err, ErrNoFit) {
		t.Errorf("rising: %v", err)
	}
	few := []PuttCount{{1, 10, 9}, {2, 10, 6}, {3, 10, 4}, {5, 10, 2}}
	_, fit, err := FitAngleDistance(few)
	var thin *ThinWarning
	if err != nil || len(fit.Warnings) == 0 || !errors.As(fit.Warnings[0], &thin) || thin.Need <= 10 {
		t.Errorf("ten putts a row: %+v, %v", fit.Warnings, err)
	}
}

func TestModelsOutOfRange(t *testing.T) {
	for _, m := range []OnePutter{AngleModel{}, AngleModel{math.NaN()}, AngleModel{1}, AngleDistanceModel{0.01, 0}, AngleDistanceModel{0, 0.1}, AngleDistanceModel{0.01, 0.6},
		LogisticModel{1, 0.1}, LogisticModel{math.NaN(), -1}, LogisticModel{1, math.Inf(-1)}} {
		if p, err := m.OnePutt(1); !errors.Is(err, ErrModel) {
			t.Errorf("%#v gives %g, %v", m, p, err)
		}
	}
	for _, x := range []float64{-1, math.NaN(), math.Inf(1)} {
		var out *RangeError
		if p, err := (AngleModel{0.02}).OnePutt(x); !errors.As(err, &out) {
			t.Errorf("at %g m: %g, %v", x, p, err)
		}
	}
}

func TestReadPuttsNamesThePlace(t *testing.T) {
	for file, want := range map[string]string{
		"":                                              "empty",
		"distance_ft,tried,holed\n":                     "no rows",
		"distance_ft,tried\n2,3\n":                      "line 1, column holed",
		"tried,holed\n2,1\n":                            "line 1, column distance_yd",
		"distance_ft,tried,holed\n2,3,x\n":              "line 2, column holed",
		"distance_ft,tried,holed\n\n2,3,4\n":            "line 3: 4 holed of 3",
		"distance_ft,tried,holed\n2,3.5,3\n":            "line 2, column tried",
		"distance_ft,tried,holed\n2,3\n":                "line 2: the row has more or fewer",
		"distance_ft,tried,holed\n2,\"3,3\n":            "line 2: a quote",
		"distance_ft,tried,holed\nNaN,3,3\n":            "line 2, column distance_ft",
		"distance_ft,tried,holed\n-2,3,3\n":             "line 2, column distance_ft",
		"distance_ft,tried,holed\n1e999,3,3\n":          "line 2, column distance_ft",
		"distance_ft,tried,tried,holed\n":               "line 1, column tried: there are two",
		"distance_ft,distance_m,tried,holed\n1,1,3,3\n": "column distance_ft",
		"distance_ft,distance_m,tried,holed\n,,3,3\n":   "the distance is missing",
	} {
		putts, err := ReadPutts(strings.NewReader(file))
		var place *TableError
		if !errors.As(err, &place) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v, want %q", file, putts, err, want)
		}
	}
	if _, err := ReadPutts(nil); !errors.Is(err, ErrMissing) {
		t.Errorf("nil: %v", err)
	}
	putts, err := ReadPutts(strings.NewReader("\uFEFFTried;Holed;Distance_m;who\r\n3;2;1,5;x\r\n"))
	if err != nil || len(putts) != 1 || putts[0] != (PuttCount{1.5, 3, 2}) {
		t.Errorf("semicolons: %v, %v", putts, err)
	}
}

package practice

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// golden holds the values of testdata/golden.csv by case and quantity.
type golden map[string]map[string]float64

func readGolden(t testing.TB) golden {
	t.Helper()
	f, err := os.Open("testdata/golden.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	g := golden{}
	for _, row := range rows[1:] {
		v, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		if g[row[0]] == nil {
			g[row[0]] = map[string]float64{}
		}
		g[row[0]][row[1]] = v
	}
	return g
}

// series returns the values x1, x2, … of a case.
func (g golden) series(t testing.TB, name, column string) []float64 {
	t.Helper()
	var x []float64
	for {
		v, ok := g[name][column+strconv.Itoa(len(x)+1)]
		if !ok {
			break
		}
		x = append(x, v)
	}
	if len(x) == 0 {
		t.Fatalf("no series %q", name)
	}
	return x
}

// near fails unless got is within a share, or below 1 a difference, of want.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*max(1, math.Abs(want))) {
		t.Errorf("%s is %.17g, want %.17g", what, got, want)
	}
}

// Source: testdata/ref/practice.R under R 4.2.2 (rank, acf, qbeta, pbeta, uniroot)
// on the open series Nile, lh, LakeHuron, PlantGrowth and cars.
func TestOrderAgainstR(t *testing.T) {
	g := readGolden(t)
	for _, name := range []string{"Nile", "lh", "LakeHuron", "weights", "speed"} {
		x, want := g.series(t, "data "+name, "x"), g["order "+name]
		c, err := Pettitt(context.Background(), x, compare.Options{Resamples: 99})
		if err != nil {
			t.Fatal(err)
		}
		if float64(c.K) != want["K"] || float64(c.Last) != want["last"] {
			t.Errorf("%s: K = %d after ball %d, want %g after %g", name, c.K, c.Last, want["K"], want["last"])
		}
		if len(x) >= pettittFormula {
			near(t, name+": p", c.P, want["formula"], 1e-12)
		}
		v, err := RankVonNeumannRatio(x)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": rank ratio", v.Ratio, want["rvn"], 1e-12)
		s, err := SerialInterval(0, x)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": r1", s.R1, want["r1"], 1e-12)
		near(t, name+": ratio", s.VonNeumann, want["vn"], 1e-12)
		want = g["serial "+name]
		near(t, name+": rho", s.Rho, min(1, want["rho"]), 1e-12)
		near(t, name+": low", s.Interval.Low, want["low"], 1e-9)
		near(t, name+": high", s.Interval.High, want["high"], 1e-9)
		near(t, name+": effective", s.Effective, want["effective"], 1e-9)
		near(t, name+": effective, low", s.EffectiveInterval.Low, want["eff_low"], 1e-8)
	}
	for _, n := range []int{11, 15, 20, 48, 98} {
		for _, share := range []float64{0.005, 0.05} {
			got, err := RankVonNeumannCritical(n, share)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "critical", got, g["critical "+strconv.Itoa(n)+" "+strconv.FormatFloat(share, 'g', -1, 64)]["value"], 1e-10)
		}
	}
}

// Source: testdata/ref/practice.R under R 4.2.2 (lm, qf, uniroot over the same
// places).
func TestTrendsAgainstR(t *testing.T) {
	g := readGolden(t)
	for _, name := range []string{"lh", "weights", "speed"} {
		x := g.series(t, "data "+name, "x")
		for shape, fit := range map[Shape]func(context.Context, string, string, []float64, []float64, compare.Options) (Trend, error){
			Fading: ColdStart, BrokenFrom: WarmUp, BrokenTo: Tiring,
		} {
			what, want := string(shape)+" "+name, g[string(shape)+" "+name]
			got, err := fit(context.Background(), name, "", nil, x, compare.Options{Resamples: 19})
			if err != nil {
				t.Fatal(err)
			}
			near(t, what+": level", got.Level, want["level"], 1e-9)
			near(t, what+": off", got.Off.Estimate, want["off"], 1e-8)
			near(t, what+": low", got.Off.Interval.Low, want["low"], 1e-7)
			near(t, what+": high", got.Off.Interval.High, want["high"], 1e-7)
			near(t, what+": place", got.Place, want["place"], 1e-9)
			near(t, what+": place, low", got.PlaceInterval.Low, want["place_low"], 1e-9)
			near(t, what+": place, high", got.PlaceInterval.High, want["place_high"], 1e-9)
			near(t, what+": explained", got.Explained, want["explained"], 1e-9)
		}
	}
}

// Source: testdata/ref/practice.R under R 4.2.2 (mahalanobis on iris, qf, qbeta).
func TestT2AgainstR(t *testing.T) {
	g := readGolden(t)
	for _, n := range []int{10, 20, 30} {
		for _, share := range []float64{0.05, 0.0027} {
			want := g["limit "+strconv.Itoa(n)+" "+strconv.FormatFloat(share, 'g', -1, 64)]
			one, err1 := LimitPhaseI(n, share)
			two, err2 := LimitPhaseII(n, share)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			near(t, "phase I", one, want["I"], 1e-10)
			near(t, "phase II", two, want["II"], 1e-10)
		}
	}
	pattern, watched := irisShots(t, g)
	c, err := NewControlChart(pattern, watched, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range c.Pattern {
		near(t, "T2 of the pattern", s.T2, g["T2"]["own"+strconv.Itoa(i+1)], 1e-9)
	}
	for i, s := range c.Watched {
		near(t, "T2 watched", s.T2, g["T2"]["later"+strconv.Itoa(i+1)], 1e-9)
	}
}

func irisShots(t testing.TB, g golden) (*dispersion.Group, []dispersion.Point) {
	t.Helper()
	side, carry := g.series(t, "iris", "side"), g.series(t, "iris", "carry")
	var points []dispersion.Point
	for i := range side {
		points = append(points, dispersion.Point{X: side[i], Y: carry[i]})
	}
	pattern, err := dispersion.NewGroup(points[:20])
	if err != nil {
		t.Fatal(err)
	}
	return pattern, points[50:]
}

// Source: testdata/ref/practice.R under R 4.2.2 (qt, uniroot on the definition),
// yields of PlantGrowth.
func TestKeptShareAgainstR(t *testing.T) {
	g := readGolden(t)
	x := g.series(t, "data weights", "x")
	b, i, r := summarise(x[10:20]), summarise(x[20:30]), summarise(x[:10])
	for _, day := range []float64{0, 0.1} {
		want := g["share "+strconv.FormatFloat(day, 'g', -1, 64)]
		share, interval, ok := keptShare(b, i, r, oneDay(day), 0.95)
		if !ok {
			t.Fatal("no share")
		}
		near(t, "share", share, want["share"], 1e-12)
		near(t, "low", interval.Low, want["low"], 1e-9)
		near(t, "high", interval.High, want["high"], 1e-9)
	}
}

// Source: testdata/ref/orders.py (Python's itertools): every order of each series,
// ties among them.
func TestExactOrdersAgainstEnumeration(t *testing.T) {
	raw, err := os.ReadFile("testdata/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	var series map[string]struct {
		Values       []float64
		K            int
		Ratio        float64
		KP           float64 `json:"k_p"`
		Lower, Upper float64
	}
	if err := json.Unmarshal(raw, &series); err != nil || len(series) != 5 {
		t.Fatal(err, len(series))
	}
	for name, want := range series {
		c, err := Pettitt(context.Background(), want.Values, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if c.K != want.K || !strings.Contains(c.Method, "all orders") {
			t.Errorf("%s: K = %d, want %d; %s", name, c.K, want.K, c.Method)
		}
		near(t, name+": p of K", c.P, want.KP, 1e-12)
		v, err := RankVonNeumannRatio(want.Values)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": ratio", v.Ratio, want.Ratio, 1e-14)
		near(t, name+": lower tail", v.Alike, want.Lower, 1e-14)
		near(t, name+": p", v.P, min(1, 2*min(want.Lower, want.Upper)), 1e-14)
		if !v.Exact {
			t.Errorf("%s: not exact", name)
		}
	}
}

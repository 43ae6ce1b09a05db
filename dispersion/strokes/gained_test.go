package strokes

import (
	"errors"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A small baseline to reckon with by hand.
const handTable = `lie,distance_m,strokes,standard_error
tee,400,4.2,0.1
fairway,100,3,0.2
fairway,200,3.5,0.1
sand,20,2.6,
green,2,1.4,0.02
green,10,2,0.04
`

func mustRead(t testing.TB, table string) *TableBaseline {
	t.Helper()
	b, err := ReadBaseline(strings.NewReader(table), "by hand")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// By hand: a drive from 400 m (4.2) to the fairway at 150 m (3.25) gains
// 4.2-3.25-1 = -0.05; from there to 6 m on the green (1.7) 3.25-1.7-1 = 0.55;
// holed 1.7-1 = 0.7. Together 1.2 = 4.2 - 3 strokes. Into the sand at 20 m with
// a penalty stroke: 4.2-2.6-1-1 = -0.4.
func TestGainedByHand(t *testing.T) {
	b := mustRead(t, handTable)
	shots := []Shot{
		{From: Spot{Tee, 400}, To: Spot{Fairway, 150}},
		{From: Spot{Fairway, 150}, To: Spot{Green, 6}},
		{From: Spot{Green, 6}, To: Spot{Green, 0}},
		{From: Spot{Tee, 400}, To: Spot{Sand, 20}, Penalty: 1},
	}
	gained, err := GainedAll(b, shots)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{-0.05, 0.55, 0.7, -0.4} {
		near(t, "gained", gained[i], want, 1e-12)
	}
}

// Source: the identity that strokes gained over a hole are E(start) less the
// strokes taken, whatever the baseline says in between. Random holes, the
// penalties among them, on a computed baseline.
func TestGainedTelescopes(t *testing.T) {
	c := mustCompute(t, IllustrativePlayers()[1])
	r := rand.New(resample.NewStream(7, "telescope", 0))
	for range 500 {
		at := Spot{Tee, 100 + 400*r.Float64()}
		start, taken, sum := at, 0, 0.0
		for at.Distance > 0 {
			next := Spot{Lies()[1+r.IntN(4)], at.Distance * r.Float64() * 1.1}
			if next.Distance < 25 {
				next.Lie = Green
			}
			if r.Float64() < 0.3 || taken > 12 {
				next = Spot{Green, 0}
			}
			s := Shot{From: at, To: next, Penalty: r.IntN(2)}
			g, err := Gained(c, s)
			if err != nil {
				t.Fatal(err)
			}
			sum += g
			taken += 1 + s.Penalty
			at = next
		}
		near(t, "sum over a hole", sum, mustExpect(t, c, start.Lie, start.Distance)-float64(taken), 1e-12)
	}
}

func TestGainedThatCannotBe(t *testing.T) {
	b := mustRead(t, handTable)
	for _, c := range []struct {
		shot Shot
		want error // nil for a *RangeError
	}{
		{Shot{From: Spot{Tee, 0}}, ErrShot},
		{Shot{From: Spot{Tee, 400}, Penalty: -1}, ErrShot},
		{Shot{From: Spot{Tee, 401}}, nil},
		{Shot{From: Spot{Tee, 400}, To: Spot{Rough, 10}}, nil},
		{Shot{From: Spot{Tee, 400}, To: Spot{Green, math.NaN()}}, nil},
		{Shot{From: Spot{0, 400}, To: Spot{Green, 3}}, ErrLie},
	} {
		_, err := GainedAll(b, []Shot{c.shot})
		var out *RangeError
		if c.want == nil && !errors.As(err, &out) || c.want != nil && !errors.Is(err, c.want) {
			t.Errorf("%+v: %v, want %v", c.shot, err, c.want)
		}
	}
	if _, err := GainedAll(b, []Shot{{From: Spot{Tee, 500}, Line: 7}}); err == nil || !strings.Contains(err.Error(), "line 7") {
		t.Errorf("a shot of line 7: %v", err)
	}
	if _, err := Gained(nil, Shot{From: Spot{Tee, 400}}); !errors.Is(err, ErrMissing) {
		t.Errorf("no baseline: %v", err)
	}
}

// By hand, from 100 m on the fairway (3): to 6 m of the flag gains 3-1-1.7 = 0.3;
// 20 m short in the surround, all sand here, 3-1-2.6 = -0.6.
func TestGainedAtByHand(t *testing.T) {
	b, h := mustRead(t, handTable), GenericHole{Fairway: 30, Green: 12, Surround: 10, GreenSand: 1}
	from := Spot{Fairway, 100}
	gained, err := GainedAt(b, h, from, []dispersion.Point{{X: 6, Y: 100}, {X: 0, Y: 80}, {X: 0, Y: 100}})
	if err != nil {
		t.Fatal(err)
	}
	// On the hole: 3 - 1 - (1 + 0.2 a metre over the hole's radius of 2.125 inches).
	for i, want := range []float64{0.3, -0.6, 1 - 0.2*2.125*0.0254} {
		near(t, "gained", gained[i], want, 1e-12)
	}
	if _, err := GainedAt(b, h, from, []dispersion.Point{{X: math.NaN()}}); !errors.Is(err, ErrShot) {
		t.Errorf("NaN: %v", err)
	}
	if _, err := GainedAt(b, h, Spot{Fairway, 0}, nil); !errors.Is(err, ErrShot) {
		t.Errorf("from the hole: %v", err)
	}
	if _, err := GainedAt(nil, h, from, nil); !errors.Is(err, ErrMissing) {
		t.Errorf("no baseline: %v", err)
	}
	if _, err := GainedAt(b, GenericHole{}, from, nil); !errors.Is(err, ErrPlayer) {
		t.Errorf("no hole: %v", err)
	}
	var out *RangeError
	if _, err := GainedAt(b, h, from, []dispersion.Point{{X: 100, Y: 100}}); !errors.As(err, &out) || out.Lie != Recovery {
		t.Errorf("a lie that the table has not: %v", err)
	}
}

// The ground of a computed baseline and that of GainedAt are the same: the mean
// gain of a player's own pattern from a spot is 0 in the long run.
func TestGainedAtAgreesWithTheBaseline(t *testing.T) {
	p := IllustrativePlayers()[0]
	c := mustCompute(t, p)
	r := rand.New(resample.NewStream(8, "own pattern", 0))
	points := make([]dispersion.Point, 20_000)
	clusters := make([]string, len(points))
	from := Spot{Fairway, 130}
	sp := p.spread(130)
	for i := range points {
		l, a := 130*(1+sp.Share*r.NormFloat64()), sp.Angle*r.NormFloat64()
		points[i] = dispersion.Point{X: l * math.Sin(a), Y: l * math.Cos(a)}
		clusters[i] = strconv.Itoa(i)
	}
	gained, err := GainedAt(c, CommonHole(), from, points)
	if err != nil {
		t.Fatal(err)
	}
	total, err := TotalOf("own", gained, clusters, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean gain", total.Mean, 0, 4*total.SE+0.01)
}

// By hand: values 1 2 | 3 | 6, mean 3. Away 1-3+2-3 = -3, 0, 3; squares 18;
// SE² = 3/2·18/16, SE = 1.299038. t(2) at 97.5 % is 4.302653, from any t table.
func TestTotalByHand(t *testing.T) {
	total, err := TotalOf("x", []float64{1, 3, 2, 6}, []string{"a", "b", "a", "c"}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sum", total.Sum, 12, 1e-12)
	near(t, "mean", total.Mean, 3, 1e-12)
	near(t, "standard error", total.SE, math.Sqrt(27.0/16), 1e-12)
	near(t, "high", total.Interval.High, 3+4.302653*math.Sqrt(27.0/16), 1e-5)
	if total.Clusters != 3 || total.Shots != 4 || !total.HasInterval || len(total.Warnings) != 1 {
		t.Errorf("%+v", total)
	}
	// One cluster each: the usual standard error, of 1 3 2 6: s² = 14/3.
	total, err = TotalOf("x", []float64{1, 3, 2, 6}, []string{"a", "b", "c", "d"}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "standard error", total.SE, math.Sqrt(14.0/3/4), 1e-12)
	total, err = TotalOf("x", []float64{1, 3}, []string{"a", "a"}, 0.95)
	if err != nil || total.HasInterval || total.SE != 0 || len(total.Warnings) != 1 || total.Mean != 2 {
		t.Errorf("one cluster: %+v, %v", total, err)
	}
}

// Shots of one hole share what the day does to it: the interval of 95 % holds
// the true mean in 95 % of 1,000 rounds of 18 holes with three to five shots,
// within 4 binomial standard deviations.
func TestTotalCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(9, "clusters", 0))
	held := 0
	const rounds = 1000
	for range rounds {
		var values []float64
		var clusters []string
		for hole := range 18 {
			day := 0.5 * r.NormFloat64()
			for range 3 + r.IntN(3) {
				values = append(values, 0.1+day+0.5*r.NormFloat64())
				clusters = append(clusters, string(rune('a'+hole)))
			}
		}
		total, err := TotalOf("", values, clusters, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if total.Interval.Low <= 0.1 && 0.1 <= total.Interval.High {
			held++
		}
	}
	if away := math.Abs(float64(held)/rounds - 0.95); away > 4*math.Sqrt(0.95*0.05/rounds) {
		t.Errorf("%d of %d", held, rounds)
	}
}

func TestTotalThatCannotBe(t *testing.T) {
	one := []string{"a"}
	for _, level := range []float64{0, 1, 95, math.NaN()} {
		if _, err := TotalOf("", []float64{1}, one, level); !errors.Is(err, dispersion.ErrLevel) {
			t.Errorf("level %g: %v", level, err)
		}
	}
	if _, err := TotalOf("", nil, nil, 0.9); !errors.Is(err, ErrMissing) {
		t.Errorf("none: %v", err)
	}
	if _, err := TotalOf("", []float64{math.Inf(1)}, one, 0.9); !errors.Is(err, ErrShot) {
		t.Errorf("infinite: %v", err)
	}
	if _, err := Totals([]Shot{{}}, nil, ByRound, ByHole, 0.9); !errors.Is(err, ErrMissing) {
		t.Errorf("no values: %v", err)
	}
	if _, err := Totals([]Shot{{}}, []float64{1}, nil, ByHole, 0.9); !errors.Is(err, ErrMissing) {
		t.Errorf("no function: %v", err)
	}
}

// Values that are all alike say nothing of how others would differ, and a level
// next to 1 has a wide interval and no infinite one.
func TestTotalAtTheEdge(t *testing.T) {
	alike, err := TotalOf("", []float64{1, 1, 1}, []string{"a", "b", "c"}, 0.95)
	if err != nil || alike.HasInterval || alike.SE != 0 {
		t.Errorf("%+v, %v", alike, err)
	}
	wide, err := TotalOf("", []float64{1, 2, 4}, []string{"a", "b", "c"}, math.Nextafter(1, 0))
	if err != nil || !wide.HasInterval || math.IsInf(wide.Interval.High, 0) || math.IsNaN(wide.Interval.High) {
		t.Errorf("%+v, %v", wide, err)
	}
}

// 0.8 and 0.2 make one whole, however they are stored.
func TestSharesOfTheSurroundMakeAWhole(t *testing.T) {
	h := CommonHole()
	h.GreenSand, h.GreenShort = 0.8, 0.2
	if err := h.check(); err != nil {
		t.Error(err)
	}
	if s := h.lies(h.Green+1, 0); s[Rough] != 0 {
		t.Errorf("rough %g", s[Rough])
	}
	if h.GreenShort = 0.21; h.check() == nil {
		t.Error("more than a whole passed")
	}
}

package course

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A centre is one of the answers to where a group is.
type centre struct {
	name string
	of   func(*dispersion.Group) (dispersion.Centre, error)
}

// fiveCentres are the answers that are compared, from the one that every ball
// moves to the one that a wild ball cannot move.
var fiveCentres = []centre{
	{"mean", func(g *dispersion.Group) (dispersion.Centre, error) { return g.MeanCentre(0.95) }},
	{"two medians", func(g *dispersion.Group) (dispersion.Centre, error) { return g.MedianCentre(0.95) }},
	{"geometric median", func(g *dispersion.Group) (dispersion.Centre, error) { return g.GeometricMedianCentre(0.95) }},
	{"deepest point", func(g *dispersion.Group) (dispersion.Centre, error) { return g.TukeyMedian(0.95) }},
	{"tightest part", func(g *dispersion.Group) (dispersion.Centre, error) { return g.MCDCentre(0.95) }},
}

// withWild returns n balls of the swing, and the same with the last one short of
// where it would have landed by the given yards.
func withWild(n int, short float64, seed uint64) (good, wild []dispersion.Point) {
	good = OneSwing.Draw(random(seed, 40), n)
	wild = append([]dispersion.Point(nil), good...)
	wild[n-1].Y -= short
	return good, wild
}

// WildGroup draws n balls, one of them wild, with the mean and with the geometric
// median: the answer that the wild ball moves most, and one that it hardly moves.
func WildGroup(n int, short float64, seed uint64) (chart.Figure, error) {
	_, wild := withWild(n, short, seed)
	g, err := dispersion.NewGroup(wild)
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Group(chart.GroupInput{
		Title: fmt.Sprintf("%d balls, one of them wild: two answers to where the group is", n),
		Name:  "one swing", Unit: "yd", Shots: wild,
		Centres: []chart.Mark{{Name: "mean", Point: g.Mean()}, {Name: "geometric median", Point: g.GeometricMedian().Point}},
	})
}

// CentresTable holds the five centres with and without the wild ball.
func CentresTable(n int, short float64, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Five answers for the same %d balls, first with the last one as good as the rest, then %g yd short. The truth is carry %g, side %g. The radius is that of the region that holds the true centre at 95 %%.", n, short, OneSwing.Centre.Y, OneSwing.Centre.X),
		Header:  []string{"Centre", "All good: carry", "side", "One wild: carry", "side", "Moved by, yd", "Radius of its region, yd"},
	}
	good, wild := withWild(n, short, seed)
	a, err1 := dispersion.NewGroup(good)
	b, err2 := dispersion.NewGroup(wild)
	if err := allOf(err1, err2); err != nil {
		return t, err
	}
	for _, c := range fiveCentres {
		before, err1 := c.of(a)
		after, err2 := c.of(b)
		if err := allOf(err1, err2); err != nil {
			return t, err
		}
		radius := "–"
		if after.Region != nil {
			radius = tenths(math.Sqrt(after.Region.Area() / math.Pi))
		}
		t.Rows = append(t.Rows, []string{c.name, tenths(before.Point.Y), tenths(before.Point.X),
			tenths(after.Point.Y), tenths(after.Point.X), tenths(distance(before.Point, after.Point)), radius})
	}
	return t, nil
}

// PullTable moves the last ball ever shorter and tells how far each centre has
// followed it.
func PullTable(n int, shorts []float64, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("How far each centre of %d balls moves, in yards, as one ball falls ever shorter.", n),
		Header:  []string{"Short by, yd"},
	}
	for _, c := range fiveCentres {
		t.Header = append(t.Header, c.name)
	}
	for _, short := range shorts {
		good, wild := withWild(n, short, seed)
		a, err1 := dispersion.NewGroup(good)
		b, err2 := dispersion.NewGroup(wild)
		if err := allOf(err1, err2); err != nil {
			return t, err
		}
		row, err := moves(a, b)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, append([]string{fmt.Sprintf("%g", short)}, row...))
	}
	return t, nil
}

// BreakTable makes one ball after the other wild, up to half of them, and tells
// how far each centre has moved.
func BreakTable(n int, short float64, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("How far each centre of %d balls moves, in yards, as more of them fall %g yd short.", n, short),
		Header:  []string{"Wild balls"},
	}
	for _, c := range fiveCentres {
		t.Header = append(t.Header, c.name)
	}
	shots, _ := withWild(n, short, seed)
	a, err := dispersion.NewGroup(shots)
	if err != nil {
		return t, err
	}
	for k := 1; k <= n/2; k++ {
		shots[n-k].Y -= short
		b, err := dispersion.NewGroup(shots)
		if err != nil {
			return t, err
		}
		row, err := moves(a, b)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, append([]string{fmt.Sprint(k)}, row...))
	}
	return t, nil
}

// moves returns how far each of the five centres moved from one group to another.
func moves(from, to *dispersion.Group) ([]string, error) {
	row := make([]string, len(fiveCentres))
	for i, c := range fiveCentres {
		before, err1 := c.of(from)
		after, err2 := c.of(to)
		if err := allOf(err1, err2); err != nil {
			return nil, err
		}
		row[i] = tenths(distance(before.Point, after.Point))
	}
	return row, nil
}

// PriceTable says how far each centre lies from the truth, on average over many
// groups: when all balls are good, and when one of each group falls short.
func PriceTable(n, groups int, short float64, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("How far from the true centre each answer lies: the root mean square over %d groups of %d balls, in yards.", groups, n),
		Header:  []string{"Centre", "All balls good", fmt.Sprintf("One of %d short by %g yd", n, short)},
	}
	for _, c := range fiveCentres {
		row := []string{c.name}
		for _, fall := range []float64{0, short} {
			r, sum := random(seed, 41), 0.0 // the same groups for every centre
			for range groups {
				shots := OneSwing.Draw(r, n)
				shots[n-1].Y -= fall
				g, err := dispersion.NewGroup(shots)
				if err != nil {
					return t, err
				}
				at, err := c.of(g)
				if err != nil {
					return t, err
				}
				d := distance(at.Point, OneSwing.Centre)
				sum += d * d
			}
			row = append(row, fmt.Sprintf("%.2f", math.Sqrt(sum/float64(groups))))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

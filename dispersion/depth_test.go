package dispersion

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// bruteDepth counts with whole numbers, on every line through q and one shot
// and just beside it to either side.
func bruteDepth(q [2]int64, points [][2]int64) int {
	same, least := 0, len(points)
	for _, p := range points {
		if p == q {
			same++
		}
	}
	least -= same
	for _, through := range points {
		ux, uy := through[0]-q[0], through[1]-q[1]
		if ux == 0 && uy == 0 {
			continue
		}
		var left, right, ahead, behind int
		for _, p := range points {
			x, y := p[0]-q[0], p[1]-q[1]
			cross, dot := ux*y-uy*x, ux*x+uy*y
			switch {
			case cross > 0:
				left++
			case cross < 0:
				right++
			case dot > 0:
				ahead++
			case dot < 0:
				behind++
			}
		}
		least = min(least, left+ahead, left+behind, right+ahead, right+behind)
	}
	return same + least
}

// Points on a grid of tenths, crowded so that ties and shots on one line
// abound: three tenths are not three times a tenth in binary.
func TestDepthAgainstWholeNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{2, 5, 20, 300}).Draw(t, "reach")
		offset := rapid.SampledFrom([]int64{0, 1500, 1e9}).Draw(t, "offset")
		places := rapid.SampledFrom([]float64{1, 10, 100, 1e9}).Draw(t, "places")
		whole := rapid.Custom(func(t *rapid.T) [2]int64 {
			return [2]int64{offset + rapid.Int64Range(-reach, reach).Draw(t, "x"), offset + rapid.Int64Range(-reach, reach).Draw(t, "y")}
		})
		all := rapid.SliceOfN(whole, 2, 30).Draw(t, "points")
		points := make([]Point, len(all))
		for i, w := range all {
			points[i] = Point{X: float64(w[0]) / places, Y: float64(w[1]) / places}
		}
		g, err := NewGroup(points[1:])
		if err != nil {
			t.Fatal(err)
		}
		for i, depth := range g.Depths() {
			if want := bruteDepth(all[i+1], all[1:]); depth != want {
				t.Fatalf("depth of shot %d = %d, want %d", i, depth, want)
			}
		}
		if got, want := g.Depth(points[0]), bruteDepth(all[0], all[1:]); got != want {
			t.Fatalf("depth of %v = %d, want %d", points[0], got, want)
		}
	})
}

// Coordinates with 17 digits leave the exact grid: the filter and the whole
// numbers behind it must agree. The slope is a power of two, so that shots on
// the line are there exactly, and far-off ones make every sign a close call.
func TestDepthBeyondTheGrid(t *testing.T) {
	line := []float64{1.0 / 3, 2.0 / 3, 4.0 / 3, 8.0 / 3, 16.0 / 3}
	for _, far := range []float64{1, 1e9, 1e150} {
		var points []Point
		for _, v := range line {
			points = append(points, Point{X: v, Y: v})
		}
		points = append(points, Point{X: far, Y: -far}, Point{X: -far, Y: far})
		g := mustGroup(t, points)
		// By hand: the line y = x, with one shot to either side, farther down
		// than all of it.
		if got, want := g.Depths(), []int{2, 3, 3, 2, 1, 1, 1}; !slices.Equal(got, want) {
			t.Errorf("far %g: depths %v, want %v", far, got, want)
		}
	}
	tiny := mustGroup(t, []Point{{X: 5e-324, Y: 0}, {X: 1e-323, Y: 0}, {X: 1.5e-323, Y: 0}, {X: 1e-323, Y: 5e-324}})
	if got, want := tiny.Depths(), []int{1, 2, 1, 1}; !slices.Equal(got, want) {
		t.Errorf("tiny: depths %v, want %v", got, want)
	}
}

// Sources: by symmetry (heptagon, triangle; any line through the middle of a
// 5 by 5 grid has 12 of the others to either side); the grid also with ddalpha
// 1.3.13 of R; p10 and starsCYG counted by an independent program over all
// directions.
func TestDepthChecks(t *testing.T) {
	heptagon := make([]Point, 7)
	for i := range heptagon {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 7)
		heptagon[i] = Point{X: cos, Y: sin}
	}
	var grid []Point
	for x := 1.0; x <= 5; x++ {
		for y := 1.0; y <= 5; y++ {
			grid = append(grid, Point{X: x, Y: y})
		}
	}
	triangle := []Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}}
	for _, c := range []struct {
		what   string
		points []Point
		at     Point
		want   int
	}{
		{"centre of a heptagon", heptagon, Point{}, 3},
		{"corner of a heptagon", heptagon, heptagon[2], 1},
		{"inside a triangle", triangle, Point{X: .3, Y: .3}, 1},
		{"outside a triangle", triangle, Point{X: .6, Y: .6}, 0},
		{"edge of a triangle", triangle, Point{X: .7, Y: .3}, 1},
		{"centre of a grid", grid, Point{X: 3, Y: 3}, 13},
		{"corner of a grid", grid, Point{X: 1, Y: 1}, 1},
		{"(2, 3) of a grid", grid, Point{X: 2, Y: 3}, 8},
		{"no number", grid, Point{X: math.NaN(), Y: 3}, 0},
		{"a single shot", triangle[:1], Point{}, 1},
		{"beside a single shot", triangle[:1], Point{X: 1}, 0},
	} {
		if got := mustGroup(t, c.points).Depth(c.at); got != c.want {
			t.Errorf("%s: depth %d, want %d", c.what, got, c.want)
		}
	}
	if got, want := mustGroup(t, p10).Depths(), []int{1, 2, 4, 1, 1, 2, 2, 2, 2, 1}; !slices.Equal(got, want) {
		t.Errorf("p10: depths %v, want %v", got, want)
	}
	stars := []int{
		10, 2, 8, 2, 7, 6, 2, 2, 5, 13, 1, 8, 6, 1, 5, 5, 1, 1, 3, 2, 8, 3, 2, 4, 17, 8, 12, 18, 7, 1, 4, 1, 15, 1, 6, 1,
		4, 15, 5, 5, 12, 13, 7, 11, 4, 12, 3,
	}
	if got := referenceGroup(t, "stars").Depths(); !slices.Equal(got, stars) {
		t.Errorf("starsCYG: depths %v, want %v", got, stars)
	}
}

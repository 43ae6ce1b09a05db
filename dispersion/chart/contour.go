package chart

import "github.com/landfall-golf/landfall/dispersion"

// A lattice is numbers at the points of a grid, row by row, from the first point
// on with the same step across and up.
type lattice struct {
	first      dispersion.Point
	step       float64
	across, up int
	values     []float64
}

func (l lattice) at(i, j int) float64 { return l.values[j*l.across+i] }

func (l lattice) point(i, j float64) dispersion.Point {
	return dispersion.Point{X: l.first.X + i*l.step, Y: l.first.Y + j*l.step}
}

// A crossing is where a contour crosses an edge of the lattice: from the point
// (i, j) to the next one across, or up.
type crossing struct {
	i, j int
	up   bool
}

// contour returns the lines on which the numbers equal the level, straight in
// each square of the lattice. A closed line ends where it starts.
func (l lattice) contour(level float64) [][]dispersion.Point {
	joined := map[crossing][]crossing{}
	var order []crossing
	join := func(a, b crossing) {
		for _, c := range []crossing{a, b} {
			if joined[c] == nil {
				order = append(order, c)
			}
		}
		joined[a], joined[b] = append(joined[a], b), append(joined[b], a)
	}
	for j := range l.up - 1 {
		for i := range l.across - 1 {
			l.square(i, j, level, join)
		}
	}
	used := map[crossing]bool{}
	var lines [][]dispersion.Point
	for _, ends := range []bool{true, false} { // open lines from their ends, then the closed ones
		for _, start := range order {
			if used[start] || ends && len(joined[start]) != 1 {
				continue
			}
			lines = append(lines, l.walk(start, level, joined, used))
		}
	}
	return lines
}

// walk follows a line from a crossing until it ends or closes.
func (l lattice) walk(start crossing, level float64, joined map[crossing][]crossing, used map[crossing]bool) []dispersion.Point {
	line := []dispersion.Point{l.where(start, level)}
	used[start] = true
	for at, more := start, true; more; {
		more = false
		for _, next := range joined[at] {
			if !used[next] {
				used[next] = true
				line = append(line, l.where(next, level))
				at, more = next, true
				break
			}
		}
	}
	if len(joined[start]) == 2 && len(line) > 2 {
		line = append(line, line[0])
	}
	return line
}

// square joins the crossings of one square of the lattice, two by two. Where all
// four edges are crossed the middle decides which corner is cut off.
func (l lattice) square(i, j int, level float64, join func(a, b crossing)) {
	above := func(i, j int) bool { return l.at(i, j) > level }
	bottom, top := crossing{i, j, false}, crossing{i, j + 1, false}
	left, right := crossing{i, j, true}, crossing{i + 1, j, true}
	a, b, c, d := above(i, j), above(i+1, j), above(i+1, j+1), above(i, j+1)
	var cut []crossing
	for _, e := range []struct {
		crossed bool
		at      crossing
	}{{a != b, bottom}, {b != c, right}, {c != d, top}, {d != a, left}} {
		if e.crossed {
			cut = append(cut, e.at)
		}
	}
	switch len(cut) {
	case 2:
		join(cut[0], cut[1])
	case 4:
		middle := (l.at(i, j)+l.at(i+1, j)+l.at(i, j+1)+l.at(i+1, j+1))/4 > level
		if middle == a {
			join(bottom, right)
			join(top, left)
		} else {
			join(bottom, left)
			join(top, right)
		}
	}
}

// where returns the place of a crossing, in proportion between its two points.
func (l lattice) where(c crossing, level float64) dispersion.Point {
	i, j := float64(c.i), float64(c.j)
	from := l.at(c.i, c.j)
	if c.up {
		return l.point(i, j+(level-from)/(l.at(c.i, c.j+1)-from))
	}
	return l.point(i+(level-from)/(l.at(c.i+1, c.j)-from), j)
}

package dispersion

import (
	"math"
	"math/big"
	"strconv"
)

// A plane answers on which side of a line a shot lies, without error. Devices
// report tenths, and tenths are not exact in binary: of three shots on one
// line as recorded, floating point puts the middle one to the left or to the
// right. So each coordinate is taken as the shortest decimal that reads back
// as it, which is the number that was recorded.
type plane struct {
	points []Point
	// units are the points on a grid of the last decimal, from the first
	// point, where that is exact; else scaled to about 1.
	units []Point
	// doubt bounds the error of a determinant of units; 0 where exact.
	doubt float64
}

// exactReach is how far units may lie from the first so that differences,
// products and determinants of them are whole numbers below 2⁵³.
const exactReach = 1 << 24

func newPlane(points []Point) *plane {
	p := &plane{points: points}
	if !p.onGrid() {
		p.scale()
	}
	return p
}

// onGrid fills in the units where they are small whole numbers.
func (p *plane) onGrid() bool {
	least := math.MaxInt
	decimals := make([][2]decimal, len(p.points))
	p.units = make([]Point, len(p.points))
	for i, q := range p.points {
		decimals[i] = [2]decimal{decimalOf(q.X), decimalOf(q.Y)}
		for _, d := range decimals[i] {
			if d.digits != 0 {
				least = min(least, d.exponent)
			}
		}
		// The usual reason to give up shows early.
		if reach := 2 * exactReach * math.Pow10(least); math.Abs(q.X-p.points[0].X) > reach || math.Abs(q.Y-p.points[0].Y) > reach {
			return false
		}
	}
	var first [2]int64
	for i, d := range decimals {
		var at [2]float64
		for axis := range at {
			whole, ok := d[axis].times(least)
			if !ok {
				return false
			}
			if i == 0 {
				first[axis] = whole
			}
			if whole -= first[axis]; whole > exactReach || whole < -exactReach {
				return false
			}
			at[axis] = float64(whole)
		}
		p.units[i] = Point{X: at[0], Y: at[1]}
	}
	return true
}

// scale fills in units near 1 and the doubt that rounding leaves.
func (p *plane) scale() {
	var reach, size float64
	first := p.points[0]
	for i, q := range p.points {
		p.units[i] = Point{X: q.X - first.X, Y: q.Y - first.Y}
		reach = max(reach, math.Abs(p.units[i].X), math.Abs(p.units[i].Y))
		size = max(size, math.Abs(q.X), math.Abs(q.Y))
	}
	if reach < 1e-290 {
		// So near the smallest number, rounding is no share of the value.
		p.doubt = math.Inf(1)
		return
	}
	for i := range p.units {
		p.units[i].X /= reach
		p.units[i].Y /= reach
	}
	// With u = 2⁻⁵³: a coordinate is off by at most u·size/reach for its
	// decimal and 2u for the subtraction and division, a difference by twice
	// that and 2u, a product of two differences of at most 2 by eight times
	// the latter and 4u, and a determinant by twice that and 8u.
	const u = 1.0 / (1 << 53)
	p.doubt = 64 * u * (1 + size/reach)
}

// turn returns 1 if the way from a over b to c turns left, -1 if it turns
// right and 0 if the three lie on one line. They are indices of points.
func (p *plane) turn(a, b, c int) int {
	o, u, v := p.units[a], p.units[b], p.units[c]
	det := float64((u.X-o.X)*(v.Y-o.Y)) - float64((u.Y-o.Y)*(v.X-o.X))
	switch {
	case det > p.doubt:
		return 1
	case det < -p.doubt:
		return -1
	case p.doubt == 0:
		return 0
	}
	w, _ := wholes([]Point{p.points[a], p.points[b], p.points[c]})
	var ux, uy, vx, vy big.Int
	ux.Sub(w[1].x, w[0].x)
	uy.Sub(w[1].y, w[0].y)
	vx.Sub(w[2].x, w[0].x)
	vy.Sub(w[2].y, w[0].y)
	ux.Mul(&ux, &vy)
	uy.Mul(&uy, &vx)
	return ux.Cmp(&uy)
}

// A decimal is digits·10^exponent.
type decimal struct {
	digits   int64
	exponent int
}

// decimalOf returns the shortest decimal that reads back as v, which has at
// most 17 digits.
func decimalOf(v float64) decimal {
	// Up to 15 digits no other decimal as short reads back as v.
	for places, power := range [...]float64{1, 10, 100, 1000, 10000} {
		if whole := math.Round(v * power); math.Abs(whole) < 1e15 && whole/power == v {
			return decimal{digits: int64(whole), exponent: -places}
		}
	}
	var d decimal
	text := strconv.AppendFloat(make([]byte, 0, 32), v, 'e', -1, 64)
	places, point := 0, false
	for i, c := range text {
		switch {
		case c >= '0' && c <= '9':
			d.digits = 10*d.digits + int64(c-'0')
			if point {
				places++
			}
		case c == '.':
			point = true
		case c == 'e':
			d.exponent, _ = strconv.Atoi(string(text[i+1:])) // as AppendFloat wrote it
			d.exponent -= places
			if v < 0 {
				d.digits = -d.digits
			}
			return d
		}
	}
	return d
}

// times returns d/10^exponent where that is a whole number well inside int64.
func (d decimal) times(exponent int) (whole int64, ok bool) {
	if d.digits == 0 {
		return 0, true
	}
	whole = d.digits
	for range d.exponent - exponent {
		if whole > math.MaxInt64/40 || whole < -math.MaxInt64/40 {
			return 0, false
		}
		whole *= 10
	}
	return whole, true
}

// A wholePoint is a point on the grid of some last decimal.
type wholePoint struct{ x, y *big.Int }

// wholes returns the points on the grid of their common last decimal, counted
// in units of 10^least.
func wholes(points []Point) (grid []wholePoint, least int) {
	least = math.MaxInt
	for _, q := range points {
		for _, d := range [2]decimal{decimalOf(q.X), decimalOf(q.Y)} {
			if d.digits != 0 {
				least = min(least, d.exponent)
			}
		}
	}
	if least == math.MaxInt {
		least = 0 // nothing but zeros
	}
	on := func(v float64) *big.Int {
		d := decimalOf(v)
		whole := big.NewInt(d.digits)
		if d.digits == 0 {
			return whole
		}
		power := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d.exponent-least)), nil)
		return whole.Mul(whole, power)
	}
	grid = make([]wholePoint, len(points))
	for i, q := range points {
		grid[i] = wholePoint{x: on(q.X), y: on(q.Y)}
	}
	return grid, least
}

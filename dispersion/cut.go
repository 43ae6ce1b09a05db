package dispersion

import (
	"math"
	"math/big"
	"slices"
)

// A halfplane is the set a·x + b·y + c >= 0, in whole numbers.
type halfplane struct {
	a, b, c    *big.Int
	fa, fb, fc float64 // the same, rounded
}

// leftOf returns the half-plane to the left of the way from p to q.
func leftOf(p, q wholePoint) halfplane {
	var t big.Int
	a := new(big.Int).Sub(p.y, q.y)
	b := new(big.Int).Sub(q.x, p.x)
	c := new(big.Int).Mul(a, p.x)
	c.Add(c, t.Mul(b, p.y))
	c.Neg(c)
	return newHalfplane(a, b, c)
}

func newHalfplane(a, b, c *big.Int) halfplane {
	h := halfplane{a: a, b: b, c: c}
	h.fa, _ = a.Float64()
	h.fb, _ = b.Float64()
	h.fc, _ = c.Float64()
	return h
}

// A corner is the point (x/w, y/w) where two edges meet, w > 0.
type corner struct {
	x, y, w *big.Int
	fx, fy  float64 // the point, to a few bits
}

// meet returns the point where the edges of two half-planes cross.
func meet(g, h halfplane) corner {
	minor := func(p, q, r, s *big.Int) *big.Int {
		var t big.Int
		m := new(big.Int).Mul(p, q)
		return m.Sub(m, t.Mul(r, s))
	}
	c := corner{x: minor(g.b, h.c, h.b, g.c), y: minor(g.c, h.a, h.c, g.a), w: minor(g.a, h.b, h.a, g.b)}
	if c.w.Sign() < 0 {
		c.x.Neg(c.x)
		c.y.Neg(c.y)
		c.w.Neg(c.w)
	}
	w, _ := c.w.Float64()
	c.fx, _ = c.x.Float64()
	c.fy, _ = c.y.Float64()
	c.fx /= w
	c.fy /= w
	return c
}

// side returns 1 if c lies inside h, 0 on its edge and -1 outside.
func (h halfplane) side(c corner) int {
	ax, by := h.fa*c.fx, h.fb*c.fy
	s := ax + by + h.fc
	// Each term is right to at most six roundings and the sum to two.
	if math.Abs(s) > 1e-15*(math.Abs(ax)+math.Abs(by)+math.Abs(h.fc)) && !math.IsInf(s, 0) {
		return int(math.Copysign(1, s))
	}
	var sum, t big.Int
	sum.Mul(h.a, c.x)
	sum.Add(&sum, t.Mul(h.b, c.y))
	sum.Add(&sum, t.Mul(h.c, c.w))
	return sum.Sign()
}

// A cutting is what half-planes have left of a box: a convex polygon, perhaps a
// line, a point or nothing, as corners counter-clockwise, each with the edge
// that leads on from it.
type cutting []cuttingCorner

type cuttingCorner struct {
	corner
	edge halfplane
}

// box returns the smallest upright box around the points.
func box(points []wholePoint) cutting {
	low, high := points[0], points[0]
	for _, p := range points {
		if p.x.Cmp(low.x) < 0 {
			low.x = p.x
		}
		if p.y.Cmp(low.y) < 0 {
			low.y = p.y
		}
		if p.x.Cmp(high.x) > 0 {
			high.x = p.x
		}
		if p.y.Cmp(high.y) > 0 {
			high.y = p.y
		}
	}
	one, zero, minus := big.NewInt(1), big.NewInt(0), big.NewInt(-1)
	edges := []halfplane{
		newHalfplane(zero, one, new(big.Int).Neg(low.y)),
		newHalfplane(minus, zero, high.x),
		newHalfplane(zero, minus, high.y),
		newHalfplane(one, zero, new(big.Int).Neg(low.x)),
	}
	var b cutting
	for i, e := range edges {
		b = append(b, cuttingCorner{corner: meet(edges[(i+3)%4], e), edge: e})
	}
	return b
}

// within returns the part of the cutting inside h.
func (k cutting) within(h halfplane) cutting {
	sides := make([]int, len(k))
	for i, c := range k {
		sides[i] = h.side(c.corner)
	}
	if !slices.Contains(sides, -1) {
		return k
	}
	var kept cutting
	for i, c := range k {
		next := sides[(i+1)%len(k)]
		switch {
		case sides[i] == 1:
			kept = append(kept, c)
			if next < 0 {
				on := h
				if len(k) == 2 { // a line leads back along itself
					on = k[1-i].edge
				}
				kept = append(kept, cuttingCorner{corner: meet(c.edge, h), edge: on})
			}
		case sides[i] == 0:
			if next < 0 {
				c.edge = h
			}
			kept = append(kept, c)
		case next > 0 && len(k) > 2: // a line of two corners is crossed once
			kept = append(kept, cuttingCorner{corner: meet(c.edge, h), edge: c.edge})
		}
	}
	return kept
}

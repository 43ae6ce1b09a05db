package archive

import (
	"fmt"
	"math"
	"math/big"
	"math/bits"

	"github.com/landfall-golf/landfall/dispersion"
)

// Sums are the count, the sums and the sums of products of landing points in
// whole tenths of their unit:
//
//	Side = Σ x   Carry = Σ y   SideSide = Σ x²   SideCarry = Σ xy   CarryCarry = Σ y²
//
// Whole numbers add up to the same in any order, so every database gives the
// same as [Archive.Summaries]: docs/sql.md. The zero value holds no points.
type Sums struct {
	N                               int64
	Side, Carry                     int64
	SideSide, SideCarry, CarryCarry int64
}

// Add takes one more point into account, in tenths. It fails with [ErrOverflow],
// and leaves s as it was, where a sum would leave 64 bits: after 92,233 shots of
// a million units each, the longest that is kept, or 3.6·10¹¹ of 500.
func (s *Sums) Add(side, carry int32) error {
	x, y := int64(side), int64(carry)
	// Of whole numbers, no sum is beyond the sum of squares, and no sum of
	// products beyond the larger of the two.
	if s.SideSide > math.MaxInt64-x*x || s.CarryCarry > math.MaxInt64-y*y {
		return fmt.Errorf("archive: %w", ErrOverflow)
	}
	s.N++
	s.Side += x
	s.Carry += y
	s.SideSide += x * x
	s.SideCarry += x * y
	s.CarryCarry += y * y
	return nil
}

// Merge takes the points of o into account as if each had been added. It fails
// with [ErrOverflow], and leaves s as it was, where a sum would leave 64 bits.
func (s *Sums) Merge(o Sums) error {
	r, ok := *s, true
	for _, p := range []struct {
		sum  *int64
		more int64
	}{{&r.N, o.N}, {&r.Side, o.Side}, {&r.Carry, o.Carry}, {&r.SideSide, o.SideSide}, {&r.SideCarry, o.SideCarry}, {&r.CarryCarry, o.CarryCarry}} {
		was := *p.sum
		*p.sum += p.more
		ok = ok && (p.more >= 0) == (*p.sum >= was)
	}
	if !ok {
		return fmt.Errorf("archive: %w", ErrOverflow)
	}
	*s = r
	return nil
}

// Moments returns the moments of the points, in their unit. Each of the five
// numbers is exact but for one rounding to the nearest float64:
//
//	Mean.X = Σx/10n   SXX = (n·Σx² - (Σx)²)/100n   SXY = (n·Σxy - Σx·Σy)/100n
//
// with the products in whole numbers of any size, so that nothing cancels. Sums
// that no points have, such as a negative SXX, are an error; so is a count below
// 1 beside other sums.
func (s Sums) Moments() (dispersion.Moments, error) {
	if s == (Sums{}) {
		return dispersion.Moments{}, nil
	}
	if s.N < 1 {
		return dispersion.Moments{}, fmt.Errorf("archive: sums over %d shots: a count must be 1 or more", s.N)
	}
	m := dispersion.Moments{
		N:    s.N,
		Mean: dispersion.Point{X: ratio(big.NewInt(s.Side), s.N, 10), Y: ratio(big.NewInt(s.Carry), s.N, 10)},
		SXX:  s.centred(s.SideSide, s.Side, s.Side),
		SXY:  s.centred(s.SideCarry, s.Side, s.Carry),
		SYY:  s.centred(s.CarryCarry, s.Carry, s.Carry),
	}
	if m.SXX < 0 || m.SYY < 0 {
		return dispersion.Moments{}, fmt.Errorf("archive: the sum of squares is too small for the sum: no points have these sums")
	}
	return m, nil
}

// centred returns (n·Σuv - Σu·Σv)/100n.
func (s Sums) centred(products, u, v int64) float64 {
	if f, ok := s.centredFast(products, u, v); ok {
		return f
	}
	d := new(big.Int).Mul(big.NewInt(s.N), big.NewInt(products))
	return ratio(d.Sub(d, new(big.Int).Mul(big.NewInt(u), big.NewInt(v))), s.N, 100)
}

// centredFast does the same where the numerator and 100n are whole float64s, so
// that dividing them rounds once.
func (s Sums) centredFast(products, u, v int64) (float64, bool) {
	hi1, lo1 := bits.Mul64(uint64(s.N), magnitude(products))
	hi2, lo2 := bits.Mul64(magnitude(u), magnitude(v))
	if hi1 != 0 || hi2 != 0 || lo1 >= 1<<62 || lo2 >= 1<<62 {
		return 0, false
	}
	d := s.N*products - u*v
	if magnitude(d) > 1<<53 || s.N > 1<<46 {
		return 0, false
	}
	return float64(d) / float64(100*s.N), true
}

func magnitude(v int64) uint64 {
	if v < 0 {
		return -uint64(v)
	}
	return uint64(v)
}

// ratio returns a/(n·times), rounded once.
func ratio(a *big.Int, n, times int64) float64 {
	f, _ := new(big.Rat).SetFrac(a, new(big.Int).Mul(big.NewInt(n), big.NewInt(times))).Float64()
	return f
}

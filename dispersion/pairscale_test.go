package dispersion

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func pairScale(t *testing.T, f func([]float64) (float64, error), values []float64) float64 {
	t.Helper()
	s, err := f(values)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Source: recomputed with Qn, Sn and mad of robustbase 0.95-0 under R 4.2.2.
func TestPairScaleChecks(t *testing.T) {
	qn := []float64{2: .8862268738, 2.205048461, 1.138884839, 1.872976351, 2.717115016, 1.905730858, 2.973336920, 3.876571283, 3.196182959, 3.945897217, 3.361686420}
	sn := []float64{2: .8861018, 2.2075026, 1.1377404, 1.6112026, 2.3685036, 2.8574696, 2.3971260, 2.6976612, 3.5778, 3.896613861, 3.5778}
	var values []float64
	for n := 1; n <= 12; n++ {
		values = append([]float64{float64(n)}, values...)
		if n == 1 {
			continue
		}
		near(t, "Qn of 1..n", pairScale(t, Qn, values), qn[n], 1e-6)
		near(t, "Sn of 1..n", pairScale(t, Sn, values), sn[n], 1e-6)
	}
	mixed := []float64{2.2, 3.1, 4.7, 1.0, 9.9, 5.5, 4.1, 3.3, 2.8, 100}
	near(t, "Qn", pairScale(t, Qn, mixed), 2.556946367, 1e-6)
	near(t, "Sn", pairScale(t, Sn, mixed), 2.26594, 1e-6)
	near(t, "MAD", pairScale(t, ScaledMAD, mixed), 1.85325, 1e-6)
	side, carry := axes(mustGroup(t, p10))
	near(t, "Qn of p10", pairScale(t, Qn, side), 3.8354197, 1e-6)
	near(t, "Qn of p10", pairScale(t, Qn, carry), 3.8354197, 1e-6)
	near(t, "Sn of p10", pairScale(t, Sn, side), 3.93558, 1e-6)
	near(t, "Sn of p10", pairScale(t, Sn, carry), 3.5778, 1e-6)
}

// axes splits the points of a group.
func axes(g *Group) (side, carry []float64) {
	for _, p := range g.Points() {
		side, carry = append(side, p.X), append(carry, p.Y)
	}
	return side, carry
}

// Source: describe.R, Qn and Sn of robustbase 0.95-0 under R 4.2.2.
func TestPairScaleAgainstR(t *testing.T) {
	for _, name := range referenceNames(t, "describe_") {
		var ref struct {
			Output struct{ Qn, Sn [2]float64 }
		}
		readReference(t, "describe_"+name, &ref)
		side, carry := axes(referenceGroup(t, name))
		for axis, values := range [2][]float64{side, carry} {
			// That program passes its answer through single precision where values
			// tie; TestPairScaleByBruteForce has the digits.
			near(t, name+" Qn", pairScale(t, Qn, values), ref.Output.Qn[axis], 1e-7)
			near(t, name+" Sn", pairScale(t, Sn, values), ref.Output.Sn[axis], 1e-9)
		}
	}
}

// Against the definitions, on values with many ties and of every parity.
func TestPairScaleByBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for round := range 300 {
		n := 2 + round%40
		values := make([]float64, n)
		for i := range values {
			values[i] = math.Round(10*rng.NormFloat64()) / 10 * float64(1+rng.IntN(3))
		}
		var pairs, outer []float64
		for i, v := range values {
			var inner []float64
			for j, w := range values {
				inner = append(inner, math.Abs(v-w))
				if j < i {
					pairs = append(pairs, math.Abs(v-w))
				}
			}
			slices.Sort(inner)
			outer = append(outer, inner[n/2])
		}
		slices.Sort(pairs)
		slices.Sort(outer)
		h := n/2 + 1
		near(t, "Qn", pairScale(t, Qn, values), 2.21914*qnFactor(n)*pairs[h*(h-1)/2-1], 1e-15)
		near(t, "Sn", pairScale(t, Sn, values), 1.1926*snFactor(n)*outer[(n+1)/2-1], 1e-15)
	}
}

// Half of the values but one may be anywhere.
func TestPairScalesWithstandWildValues(t *testing.T) {
	values := []float64{1, 2, 3, 4, 5, 6, 1e9, -1e9, 1e12, 1e15, -1e14}
	for _, f := range []func([]float64) (float64, error){Qn, Sn, ScaledMAD} {
		if s := pairScale(t, f, values); s > 20 {
			t.Errorf("scale %g", s)
		}
	}
}

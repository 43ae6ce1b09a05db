package strokes

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// mostShifts is how many weights a kernel may have to be added up one by one,
// which then takes less time than the Fourier transforms.
const mostShifts = 1000

// mean returns, for every point of g, the mean of the costs over the kernel:
//
//	M(i, j) = Σ w(k, l) · C(i+k, j+l)
//
// costs must be known on the grid k.around(g), or on one with more of the same
// points around that.
func (k kernel) mean(costs field, g Grid) field {
	if k.nonzero() <= mostShifts {
		return k.meanByShifts(costs, g)
	}
	return k.meanByFFT(costs, g)
}

// offset returns how many columns and rows of the costs lie before the first
// ones that are needed.
func (k kernel) offset(costs field, g Grid) (i, j int) {
	need := k.around(g)
	return int(math.Round((need.Left - costs.Left) / g.Step)), int(math.Round((need.Short - costs.Short) / g.Step))
}

func (k kernel) nonzero() int {
	n := 0
	for _, w := range k.weights {
		if w != 0 {
			n++
		}
	}
	return n
}

func (k kernel) meanByShifts(costs field, g Grid) field {
	m := newField(g)
	left, short := k.offset(costs, g)
	for at, w := range k.weights {
		if w == 0 {
			continue
		}
		i, j := at%k.across+left, at/k.across+short
		for r := range g.Up {
			from := costs.row(r + j)[i : i+g.Across]
			for c, v := range from {
				m.values[r*g.Across+c] += w * v
			}
		}
	}
	return m
}

// meanByFFT multiplies the transform of the costs with the conjugate of that of
// the kernel. The transforms are as large as the grid of the costs, or a little
// larger, so that what wraps around falls outside of g.
func (k kernel) meanByFFT(costs field, g Grid) field {
	width, height := smooth(costs.Across), smooth(costs.Up)
	// A constant has the same mean everywhere: taken off first, the rest loses
	// fewer digits.
	base, total := costs.values[0], 0.0
	for _, w := range k.weights {
		total += w
	}
	t := newTransform(width, height)
	a := t.forward(costs.Across, costs.Up, func(i, j int) float64 { return costs.values[j*costs.Across+i] - base })
	b := t.forward(k.across, k.up, func(i, j int) float64 { return k.weights[j*k.across+i] })
	for i := range a {
		a[i] *= complex(real(b[i]), -imag(b[i]))
	}
	m := newField(g)
	left, short := k.offset(costs, g)
	t.backward(a, func(i, j int, v float64) {
		if i, j := i-left, j-short; i >= 0 && i < g.Across && j >= 0 && j < g.Up {
			m.values[j*g.Across+i] = v + base*total
		}
	})
	return m
}

// smooth returns the smallest number of at least n that has no prime factor
// above 5, for which transforms are fast.
func smooth(n int) int {
	for ; ; n++ {
		rest := n
		for _, p := range []int{2, 3, 5} {
			for rest%p == 0 {
				rest /= p
			}
		}
		if rest == 1 {
			return n
		}
	}
}

// A transform is the discrete Fourier transform of real rows in a plane.
type transform struct {
	width, height, half int
	rows                *fourier.FFT
	columns             *fourier.CmplxFFT
}

func newTransform(width, height int) *transform {
	return &transform{width, height, width/2 + 1, fourier.NewFFT(width), fourier.NewCmplxFFT(height)}
}

// forward returns the coefficients of across × up values, zero elsewhere, column
// by column.
func (t *transform) forward(across, up int, value func(i, j int) float64) []complex128 {
	all := make([]complex128, t.half*t.height)
	row, coefficients := make([]float64, t.width), make([]complex128, t.half)
	for j := range up {
		for i := range across {
			row[i] = value(i, j)
		}
		t.rows.Coefficients(coefficients, row)
		for i, c := range coefficients {
			all[i*t.height+j] = c
		}
	}
	for i := range t.half {
		column := all[i*t.height : (i+1)*t.height]
		t.columns.Coefficients(column, column)
	}
	return all
}

// backward gives every value that the coefficients stand for.
func (t *transform) backward(all []complex128, give func(i, j int, v float64)) {
	for i := range t.half {
		column := all[i*t.height : (i+1)*t.height]
		t.columns.Sequence(column, column)
	}
	row, coefficients := make([]float64, t.width), make([]complex128, t.half)
	scale := 1 / float64(t.width*t.height) // neither transform is scaled
	for j := range t.height {
		for i := range coefficients {
			coefficients[i] = all[i*t.height+j]
		}
		t.rows.Sequence(row, coefficients)
		for i, v := range row {
			give(i, j, v*scale)
		}
	}
}

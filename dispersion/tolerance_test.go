package dispersion

import (
	"math"
	"testing"
)

// Source: simulation by an independent program, 160,000 samples for each n,
// contents by quadrature; the bands are its 95 % bands. A second run of 40,000
// lay within them.
func TestToleranceFactorsAgainstSimulation(t *testing.T) {
	type band struct{ low, high float64 }
	settings := [6][2]float64{{.5, .9}, {.5, .95}, {.9, .9}, {.9, .95}, {.95, .9}, {.95, .95}}
	for n, bands := range map[int][6]band{
		8:  {{3.97, 4.009}, {4.936, 4.999}, {16.09, 16.28}, {21.03, 21.36}, {22, 22.29}, {28.93, 29.44}},
		10: {{3.242, 3.269}, {3.873, 3.916}, {12.55, 12.67}, {15.52, 15.71}, {17.05, 17.22}, {21.22, 21.5}},
		15: {{2.513, 2.527}, {2.848, 2.868}, {9.16, 9.219}, {10.58, 10.67}, {12.3, 12.38}, {14.29, 14.41}},
		20: {{2.227, 2.237}, {2.465, 2.478}, {7.905, 7.942}, {8.84, 8.9}, {10.54, 10.59}, {11.83, 11.92}},
		30: {{1.972, 1.979}, {2.129, 2.139}, {6.818, 6.844}, {7.406, 7.442}, {9.015, 9.05}, {9.823, 9.868}},
		50: {{1.776, 1.781}, {1.882, 1.888}, {6.032, 6.048}, {6.402, 6.426}, {7.922, 7.945}, {8.422, 8.451}},
	} {
		for i, b := range bands {
			k := computeToleranceFactor(n, settings[i][0], settings[i][1])
			// Twice the 95 % band is four standard errors.
			middle, half := (b.low+b.high)/2, b.high-b.low
			if math.Abs(k-middle) > half {
				t.Errorf("n = %d, %v: k = %.4f, want %.4f ± %.4f", n, settings[i], k, middle, half)
			}
		}
	}
}

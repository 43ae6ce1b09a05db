package main

import (
	"context"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// resamplingRows take the first half of the points for before, the second for
// after, and 9,999 resamples or random splits.
var resamplingRows = []row{
	{
		name: "BCa of log area ratio, 20 v 20", n: 40, calls: 51,
		ours: func(g *dispersion.Group) error {
			before, after, err := halves(g)
			if err != nil {
				return err
			}
			_, err = compare.BootstrapMoments(context.Background(), before, after, compare.LogAreaRatio, compare.Options{})
			return err
		},
		peers: []peer{
			inPython("SciPy bootstrap, vectorised", `import numpy
from scipy.stats import bootstrap
def half_log_det(x, y):
    x = x - x.mean(-1, keepdims=True)
    y = y - y.mean(-1, keepdims=True)
    return numpy.log(numpy.einsum('...i,...i', x, x)*numpy.einsum('...i,...i', y, y) - numpy.einsum('...i,...i', x, y)**2)/2
def ratio(i, j, axis=-1):
    return half_log_det(X[20:, 0][j], X[20:, 1][j]) - half_log_det(X[:20, 0][i], X[:20, 1][i])
shots = numpy.arange(20)`, "bootstrap((shots, shots), ratio, vectorized=True, axis=-1, n_resamples=9999, method='BCa')"),
			inR("boot, hand-written, jackknife", "boot", bootCall("L = empinf(data = X, statistic = f, type = \"jack\", stype = \"i\", strata = half)")),
			inR("boot, hand-written, default", "boot", bootCall("")),
		},
	},
	{
		name: "energy test, 50 v 50", n: 100, calls: 21,
		ours: func(g *dispersion.Group) error {
			before, after, err := halves(g)
			if err != nil {
				return err
			}
			_, err = compare.AnyDifference(context.Background(), before, after, compare.Options{})
			return err
		},
		peers: []peer{inR("energy eqdist.etest", "energy", "eqdist.etest(X, c(50, 50), R = 9999)")},
	},
}

// bootCall is boot with a statistic that splits by the index, which its
// jackknife needs, and sums by hand; var and cov would take three times as long.
func bootCall(influence string) string {
	if influence != "" {
		influence = ", " + influence
	}
	return `local({ half <- rep(1:2, each = 20)
h <- function(P) { n <- nrow(P); x <- P[, 1] - sum(P[, 1])/n; y <- P[, 2] - sum(P[, 2])/n; .5*log(sum(x*x)*sum(y*y) - sum(x*y)^2) - log(n - 1) }
f <- function(d, i) h(d[i[i > 20], , drop = FALSE]) - h(d[i[i <= 20], , drop = FALSE])
b <- boot(X, f, R = 9999, strata = half); boot.ci(b, type = "bca"` + influence + `) })`
}

func halves(g *dispersion.Group) (before, after *dispersion.Group, err error) {
	points := g.Points()
	if before, err = dispersion.NewGroup(points[:len(points)/2]); err != nil {
		return nil, nil, err
	}
	after, err = dispersion.NewGroup(points[len(points)/2:])
	return before, after, err
}

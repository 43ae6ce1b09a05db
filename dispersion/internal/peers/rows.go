package main

import (
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
)

// rows are the questions. In a peer's call X is the matrix of points.
//
// The exact MCD has no peer: these programs give the best of their random
// starts, or of six fixed ones, and no proof. Its rows show what the proof
// costs; the quick rows compare like with like.
var rows = append([]row{
	mcdRow("MCD, n = 12, proven", 12, 51, dispersion.MCDOptions{}),
	mcdRow("MCD, n = 20, proven", 20, 51, dispersion.MCDOptions{}),
	mcdRow("MCD, n = 50, proven", 50, 21, dispersion.MCDOptions{}),
	mcdRow("MCD, n = 12, quick", 12, 51, dispersion.MCDOptions{Quick: true}),
	mcdRow("MCD, n = 50, quick", 50, 51, dispersion.MCDOptions{Quick: true}),
	mcdRow("MCD, n = 500", 500, 21, dispersion.MCDOptions{}),
	mcdRow("MCD, n = 10000", 10000, 11, dispersion.MCDOptions{}),
	depthRow(12, 51),
	depthRow(50, 51),
	depthRow(100, 51),
	depthRow(1000, 5),
}, append(resamplingRows, mixedRows...)...)

func depthRow(n, calls int) row {
	return row{
		name: fmt.Sprintf("depth of all shots, n = %d", n), n: n, calls: calls,
		ours: func(g *dispersion.Group) error {
			g.Depths()
			return nil
		},
		peers: []peer{inR("ddalpha depth.halfspace, exact", "ddalpha", "depth.halfspace(X, X, exact=TRUE)")},
	}
}

func mcdRow(name string, n, calls int, o dispersion.MCDOptions) row {
	return row{
		name: name, n: n, calls: calls,
		ours: func(g *dispersion.Group) error {
			_, err := g.MCD(o)
			return err
		},
		peers: []peer{
			inR("robustbase covMcd, alpha .75", "robustbase", "covMcd(X, alpha=.75)"),
			inR("robustbase covMcd, default", "robustbase", "covMcd(X)"),
			inPython("scikit-learn MinCovDet", "from sklearn.covariance import MinCovDet", "MinCovDet(random_state=0).fit(X)"),
		},
	}
}

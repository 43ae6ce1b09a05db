package compare

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// The laws below take 0 degrees of freedom of t to mean the normal law, which
// is how an [Effect] says that its interval came from no t.

func studentQuantile(p, df float64) float64 {
	if df == 0 {
		return normalQuantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(p)
}

func studentCDF(t, df float64) float64 {
	switch {
	case math.IsInf(t, 1):
		return 1
	case math.IsInf(t, -1):
		return 0
	case df == 0:
		return distuv.UnitNormal.CDF(t)
	}
	return distuv.StudentsT{Sigma: 1, Nu: df}.CDF(t)
}

// studentP returns the two-sided p of t, without the loss of digits of 1 - CDF.
func studentP(t, df float64) float64 {
	return mathext.RegIncBeta(df/2, 0.5, df/(df+t*t))
}

func normalQuantile(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

func fLaw(df1, df2 float64) distuv.F { return distuv.F{D1: df1, D2: df2} }

// normalTail returns the chance that a standard normal exceeds z.
func normalTail(z float64) float64 { return distuv.UnitNormal.Survival(z) }

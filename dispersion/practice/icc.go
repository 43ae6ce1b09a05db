package practice

import (
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// An ICC is an intraclass correlation: the share of all variance that lies
// between the targets.
type ICC struct {
	Form     string  // Shrout and Fleiss's "(1,1)", …, "(3,k)"
	Value    float64 // 1 where targets alone differ; below 0 where they differ less than chance makes them
	Interval dispersion.Interval
}

// A Reliability is a table of targets by ratings taken apart.
type Reliability struct {
	Targets, Ratings       int
	Between, Within        float64 // mean squares of targets, and within targets
	JudgeSquare, Remainder float64 // mean squares of ratings, and of what is left
	Single1, Single2       ICC     // of one rating: ratings nested in targets; crossed, random
	Single3                ICC     // of one rating: crossed, these ratings and no others
	Average1, Average2     ICC     // of the mean of all ratings
	Average3               ICC     // of the mean of all ratings: these ratings and no others
	Level                  float64
}

// ShroutFleiss returns the six intraclass correlations of a full table, one row a
// target (a pupil, say) and one column a rating (a day, a coach). With n targets,
// k ratings and the mean squares BMS between targets, WMS within them, JMS of
// ratings and EMS of what is left,
//
//	(1,1)  (BMS-WMS)/(BMS+(k-1)WMS)                     (1,k)  (BMS-WMS)/BMS
//	(2,1)  (BMS-EMS)/(BMS+(k-1)EMS+k(JMS-EMS)/n)        (2,k)  (BMS-EMS)/(BMS+(JMS-EMS)/n)
//	(3,1)  (BMS-EMS)/(BMS+(k-1)EMS)                     (3,k)  (BMS-EMS)/BMS
//
// Form 1 is for ratings that differ from target to target, as the days of each
// pupil do; form 2 for the same ratings of all, as a sample of many; form 3 for
// these ratings alone. An ICC can come out below 0: then the targets differ less
// than chance would make them. It depends on how much the targets differ, so it
// says nothing of another set of pupils; for one pupil's own days see
// [MixedFit.Repeatability].
//
// The intervals are Shrout and Fleiss's, by F; those of forms (2,1) and (2,k) are
// approximate.
//
// Errors: [dispersion.ErrLevel]; *[LevelsError] below 2 rows or columns;
// [ErrColumns] where rows differ in length; *[ColumnValueError];
// [dispersion.ErrDegenerate] where nothing is left over. Level 0 means 0.95.
//
// Reference: P. E. Shrout, J. L. Fleiss, "Intraclass Correlations: Uses in
// Assessing Rater Reliability", Psychological Bulletin 86(2), 1979, pp. 420-428.
func ShroutFleiss(table [][]float64, level float64) (Reliability, error) {
	o, err := FitOptions{Level: level}.resolved()
	if err != nil {
		return Reliability{}, err
	}
	if len(table) < 2 {
		return Reliability{}, fmt.Errorf("practice: %w", &LevelsError{"an intraclass correlation, of targets,", len(table), 2})
	}
	n, k := len(table), len(table[0])
	if k < 2 {
		return Reliability{}, fmt.Errorf("practice: %w", &LevelsError{"an intraclass correlation, of ratings,", k, 2})
	}
	var flat []float64
	for i, row := range table {
		if err := checkColumn(fmt.Sprintf("row %d of the table", i+1), row, k); err != nil {
			return Reliability{}, err
		}
		flat = append(flat, row...)
	}
	z, _, unit := unitScaled(flat)
	rows, columns := make([]float64, n), make([]float64, k)
	for i, v := range z {
		rows[i/k] += v / float64(k)
		columns[i%k] += v / float64(n)
	}
	N, K := float64(n), float64(k)
	var ssRows, ssColumns, ssWithin, ssRest float64
	for _, v := range rows {
		ssRows += K * v * v
	}
	for _, v := range columns {
		ssColumns += N * v * v
	}
	for i, v := range z {
		w, e := v-rows[i/k], v-rows[i/k]-columns[i%k]
		ssWithin += w * w
		ssRest += e * e
	}
	bms, jms, wms, ems := ssRows/(N-1), ssColumns/(K-1), ssWithin/(N*(K-1)), ssRest/((N-1)*(K-1))
	if !(ems > 1e-14*(ssRows+ssWithin)) || !(bms > 0) {
		return Reliability{}, fmt.Errorf("practice: intraclass correlation: %w", dispersion.ErrDegenerate)
	}
	square := unit * unit
	r := Reliability{
		Targets: n, Ratings: k, Level: o.Level,
		Between: bms * square, Within: wms * square, JudgeSquare: jms * square, Remainder: ems * square,
	}
	upper := (1 + o.Level) / 2
	f := func(df1, df2 float64) float64 { return distuv.F{D1: df1, D2: df2}.Quantile(upper) }
	make1 := func(form string, value, low, high float64) ICC {
		return ICC{form, value, dispersion.Interval{Low: low, High: high, Level: o.Level}}
	}
	single := func(form string, ratio, df float64) ICC {
		low, high := ratio/f(N-1, df), ratio*f(df, N-1)
		at := func(x float64) float64 { return (x - 1) / (x + K - 1) }
		return make1(form, at(ratio), at(low), at(high))
	}
	average := func(form string, ratio, df float64) ICC {
		low, high := ratio/f(N-1, df), ratio*f(df, N-1)
		return make1(form, 1-1/ratio, 1-1/low, 1-1/high)
	}
	r.Single1, r.Average1 = single("(1,1)", bms/wms, N*(K-1)), average("(1,k)", bms/wms, N*(K-1))
	r.Single3, r.Average3 = single("(3,1)", bms/ems, (N-1)*(K-1)), average("(3,k)", bms/ems, (N-1)*(K-1))
	two := (bms - ems) / (bms + (K-1)*ems + K*(jms-ems)/N)
	fj := jms / ems
	if !(N*bms+jms > ems) {
		return Reliability{}, fmt.Errorf("practice: intraclass correlation: targets and judges together differ by less than the rest leaves to chance, so (2,1) and (2,k) have no estimate: %w", dispersion.ErrDegenerate)
	}
	// A share of variance is not below 0: for the degrees of freedom an estimate
	// that is counts as 0.
	share := max(0, two)
	a, b := K*share*fj, N*(1+(K-1)*share)-K*share
	df := (K - 1) * (N - 1) * (a + b) * (a + b) / ((N-1)*a*a + b*b)
	f1, f2 := f(N-1, df), f(df, N-1)
	common := K*jms + (K*N-K-N)*ems
	low, high := N*(bms-f1*ems)/(f1*common+N*bms), N*(f2*bms-ems)/(common+N*f2*bms)
	average2 := (bms - ems) / (bms + (jms-ems)/N)
	// Below -1/(k-1) nothing can be carried over to an average: such an end stands
	// as low as a reliability can be, or at the estimate.
	up := func(x float64) float64 {
		if 1+(K-1)*x <= 0 {
			return min(0, average2)
		}
		return min(K*x/(1+(K-1)*x), 1)
	}
	r.Single2 = make1("(2,1)", two, min(low, two), max(high, two))
	r.Average2 = make1("(2,k)", average2, min(up(low), average2), max(up(high), average2))
	return r, nil
}

package practice

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Model says what each of many values belongs to:
//
//	value = intercept + Σ fixed column · coefficient + Σ deviation of its level in each random term + rest
//
// The coefficients are fixed; the deviations of a term are draws from a normal
// law around 0, one for each level, and the rest is one draw for each value.
// Sessions, pupils and teachers are random: there could be others, and how much
// they differ is the question. Stages, drills and clubs are fixed: they are those
// chosen, and each is of interest itself.
type Model struct {
	Name, Unit string // of the values
	Values     []float64
	Fixed      []FixedColumn // besides the intercept; [StageColumns] makes those of stages
	Random     []Term
}

// A FixedColumn is one column of the fixed part.
type FixedColumn struct {
	Name   string
	Values []float64 // one for each shot, in the order of the response
}

// A Term is a random part: sessions, say.
type Term struct {
	Name string   // "sessions"
	Of   []string // to which level each value belongs: session by session

	// Times multiplies the deviation of the level for each value: a pupil's own
	// answer to a drill, coded -½ and ½. Nil stands for 1.
	Times []float64
}

// FitOptions are those of a mixed model. The zero value stands for the defaults.
type FitOptions struct {
	ML    bool    // full likelihood in place of the restricted one, which makes variances too small; for comparing fixed parts
	Level float64 // of all intervals, a fraction; 0 means 0.95
}

func (o FitOptions) resolved() (FitOptions, error) {
	if o.Level == 0 {
		o.Level = 0.95
	}
	if !(o.Level > 0 && o.Level < 1) {
		return o, fmt.Errorf("practice: level %g: %w", o.Level, dispersion.ErrLevel)
	}
	return o, nil
}

// FitMixed returns the fit of a model with random terms by restricted maximum
// likelihood, or by maximum likelihood. With V the covariance of the values over
// σ², the variance of the rest, and λₖ = σₖ²/σ² for each term,
//
//	-2 ln L = (N-p)·ln(2πσ²) + y'Py/σ² + ln|V| + ln|X'V⁻¹X|
//
// is smallest over σ² in closed form, and the search runs over the λ alone.
// Terms may be nested, crossed or neither. A variance may come out as zero.
//
// Coefficients have intervals ± t(df)·se. Their df are Satterthwaite's, from the
// expected information of the variances, none of them left out for being
// estimated as zero: for stages hit within every session nearly as many as
// shots, for something that changes from session to session as few as sessions.
// [MixedFit.SpreadIntervals] gives those of the variances.
//
// Deviations are shrunken: what is left of a session's distance from the others
// after allowing for its number of shots. Their standard errors allow for the
// coefficients and for the variances being estimates.
//
// It assumes normal draws, all independent, and shots of one spread. The
// intercept is the mean of values whose fixed columns are all 0.
//
// It takes two levels a term and three values more than coefficients and terms;
// four sessions or fewer say little of how sessions differ.
//
// Errors: [dispersion.ErrLevel]; [ErrColumns]; *[ColumnValueError]; *[LevelsError];
// *[AliasedError]; *[dispersion.TooFewError]; [dispersion.ErrDegenerate] where the
// values are all equal or nothing is left over. Warnings: *[FewLevelsWarning],
// *[NoVarianceWarning].
//
// It is deterministic, does not modify the model, and takes O(N·d² ) once and
// O(d³) for each try of the search, d counting the coefficients and the levels
// of all terms but the largest.
//
// References: D. Bates, M. Mächler, B. Bolker, S. Walker, "Fitting Linear
// Mixed-Effects Models Using lme4", Journal of Statistical Software 67(1), 2015.
// F. G. Giesbrecht, J. C. Burns, "Two-Stage Analysis Based on a Mixed Model",
// Biometrics 41(2), 1985, pp. 477-486, for the df. N. G. N. Prasad, J. N. K. Rao,
// "The Estimation of the Mean Squared Error of Small-Area Estimators", Journal of
// the American Statistical Association 85(409), 1990, pp. 163-171, for the
// standard errors of deviations.
func FitMixed(m Model, o FitOptions) (MixedFit, error) {
	o, err := o.resolved()
	if err != nil {
		return MixedFit{}, err
	}
	b, err := build(m)
	if err != nil {
		return MixedFit{}, err
	}
	s, criterion := b.data.best(o.ML)
	if math.IsInf(criterion, 0) || math.IsNaN(criterion) {
		return MixedFit{}, fmt.Errorf("practice: %s: nothing is left over: %w", m.Name, dispersion.ErrDegenerate)
	}
	return b.fit(m, o, s, criterion)
}

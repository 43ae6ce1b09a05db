package dispersion

import (
	"errors"
	"fmt"
)

// ErrDegenerate is returned where the points, or the many of them that an answer
// rests on, are identical or on one line, so that no area can be given. Points count as on one line when 1-r² is below
// 1e-13, with r the correlation of side and carry: closer than that, rounding
// of the input alone decides.
var ErrDegenerate = errors.New("identical points, or points on one line, cover no area")

// ErrLevel is returned for a level outside (0, 1). Levels are fractions: 0.95,
// not 95.
var ErrLevel = errors.New("the level must be a fraction between 0 and 1, such as 0.95")

// ErrOverflow is returned where the answer is too large for a float64.
var ErrOverflow = errors.New("the answer is too large to be represented")

// A TooFewError tells how many shots there are, how many are needed and what
// for. It is always returned as *TooFewError, wrapped.
type TooFewError struct {
	Have, Need int    // shots, or values, there were
	For        string // what it is that needs them
}

func (e *TooFewError) Error() string {
	return fmt.Sprintf("%s needs at least %s, not %d", e.For, shots(e.Need), e.Have)
}

func tooFew(have, need int, what string) error {
	return fmt.Errorf("dispersion: %w", &TooFewError{Have: have, Need: need, For: what})
}

// A FewShotsWarning accompanies a region that is so wide for want of shots that
// it says little.
type FewShotsWarning struct {
	Have  int     // shots there were
	Need  int     // the fewest shots with which Times is at most 2
	Times float64 // how many times as wide the region is as it would be with a known spread
}

func (w *FewShotsWarning) Error() string {
	return fmt.Sprintf("with %s this region is %.1f times as wide as with a known spread; %d bring that below 2", shots(w.Have), w.Times, w.Need)
}

func shots(n int) string {
	if n == 1 {
		return "1 shot"
	}
	return fmt.Sprintf("%d shots", n)
}

func checkLevel(level float64) error {
	if level > 0 && level < 1 { // false for NaN
		return nil
	}
	return fmt.Errorf("dispersion: level %g: %w", level, ErrLevel)
}

// warningTexts is how results write their warnings to JSON.
func warningTexts(warnings []error) []string {
	texts := make([]string, len(warnings))
	for i, w := range warnings {
		texts[i] = w.Error()
	}
	return texts
}

package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

func (e Effect) ratio() bool { return e.Null == 1 }

// worth tells whether there is a smallest change worth having to be drawn.
func (e Effect) worth() bool { return e.Smallest != 0 && e.Smallest != e.Null }

func checkEffect(e Effect, where string) error {
	if e.Null != 0 && e.Null != 1 {
		return &InputError{where, fmt.Sprintf("the null is %g: give 0 for a gain, 1 for a ratio", e.Null)}
	}
	for _, v := range []struct {
		value float64
		what  string
	}{
		{e.Estimate, "estimate"}, {e.Narrow.Low, "low end of the narrow interval"}, {e.Narrow.High, "high end of the narrow interval"},
		{e.Wide.Low, "low end of the wide interval"}, {e.Wide.High, "high end of the wide interval"}, {e.Smallest, "smallest change worth having"},
	} {
		if err := checkNumber(v.value, where, v.what); err != nil {
			return err
		}
	}
	for _, i := range []dispersion.Interval{e.Narrow, e.Wide} {
		if !(i.Level > 0 && i.Level < 1) {
			return &InputError{where, fmt.Sprintf("level %g: %v", i.Level, dispersion.ErrLevel)}
		}
		if !(i.Low <= e.Estimate && e.Estimate <= i.High) {
			return &InputError{where, fmt.Sprintf("the estimate %g is outside its interval from %g to %g", e.Estimate, i.Low, i.High)}
		}
	}
	if e.Narrow.Level >= e.Wide.Level || e.Narrow.Low < e.Wide.Low || e.Narrow.High > e.Wide.High {
		return &InputError{where, "the narrow interval is not inside the wide one, or not at a lower level: swap them"}
	}
	if e.ratio() && (e.Wide.Low < 1/largest || e.Smallest < 0) {
		return &InputError{where, fmt.Sprintf("a ratio, its interval and the smallest one worth having must be above 0: the interval starts at %g", e.Wide.Low)}
	}
	return nil
}

// value writes a value of the effect: a gain with its sign, a ratio with the
// sign of multiplication.
func (e Effect) value(v float64) string {
	if e.ratio() {
		return ratioText(v)
	}
	return signed(v, e.decimals())
}

func ratioText(v float64) string {
	switch {
	case v >= 10:
		return "×" + number(v, 0)
	case v >= 0.1:
		return "×" + number(v, 2)
	}
	return "×" + strconv.FormatFloat(v, 'g', 2, 64)
}

// signed writes a plus before what is above zero as written.
func signed(v float64, decimals int) string {
	s := number(v, decimals)
	if v > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// decimals returns how many decimals of a gain are worth showing beside its
// interval.
func (e Effect) decimals() int {
	switch size := e.Wide.High - e.Wide.Low; {
	case size >= 100:
		return 0
	case size >= 2 || size == 0:
		return 1
	case size >= 0.2:
		return 2
	default:
		return min(9, int(math.Ceil(2-math.Log10(size))))
	}
}

// details says what the bar shows.
func (e Effect) details() string {
	s := fmt.Sprintf("%s: %s to %s", share(e.Wide.Level), e.value(e.Wide.Low), e.value(e.Wide.High))
	if e.worth() {
		s += "; worth having from " + e.value(e.Smallest)
	}
	if e.N1 > 0 || e.N2 > 0 {
		s += fmt.Sprintf("; %d and %d shots", e.N1, e.N2)
	}
	return s
}

// numbers says the same with the narrow interval, for those who do not see it.
func (e Effect) numbers() string {
	s := e.value(e.Estimate)
	if e.Unit != "" && !e.ratio() {
		s += " " + e.Unit
	}
	return fmt.Sprintf("%s; %s: %s to %s; %s", s, share(e.Narrow.Level), e.value(e.Narrow.Low), e.value(e.Narrow.High), e.details())
}

// share writes a level as a percentage.
func share(level float64) string {
	decimals := 0
	if math.Abs(100*level-math.Round(100*level)) > 1e-9 {
		decimals = 1
	}
	return number(100*level, decimals) + " %"
}

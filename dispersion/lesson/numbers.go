package lesson

import (
	"fmt"
	"strconv"
	"strings"
)

// parseNumber reads a decimal number such as 150, -3.5, +.5 or 1.5e2; a minus
// sign may be the true one (−). A decimal comma is read only where commas
// don't separate fields. Otherwise fault says what is wrong and what to do.
func parseNumber(text string, decimalComma bool) (v float64, fault string) {
	if text == "" {
		return 0, "missing: fill it in, or leave the row out if no ball was hit"
	}
	plain := text
	if rest, ok := strings.CutPrefix(plain, "−"); ok {
		plain = "-" + rest
	}
	if comma := strings.IndexByte(plain, ','); comma >= 0 {
		switch {
		case !decimalComma:
			return 0, fmt.Sprintf("%q has a comma: write a decimal point, or separate the fields with ; or tab", clip(text))
		case strings.IndexByte(plain, '.') >= 0:
			return 0, fmt.Sprintf("%q has a comma and a point: write no thousands separator", clip(text))
		}
		plain = strings.Replace(plain, ",", ".", 1)
	}
	if !isDecimal(plain) {
		switch strings.ToLower(strings.TrimLeft(plain, "+-")) {
		case "nan", "inf", "infinity", "∞":
			return 0, fmt.Sprintf("%q is not a finite number: leave the cell empty if nothing was measured", clip(text))
		}
		return 0, fmt.Sprintf("%q is not a number: write digits only, the unit belongs in the header", clip(text))
	}
	v, err := strconv.ParseFloat(plain, 64)
	if err != nil { // only an overflow is left
		return 0, fmt.Sprintf("%q is too large to be a measurement", clip(text))
	}
	return v, ""
}

// isDecimal tells whether a text is a plain decimal number. strconv alone would
// also take hexadecimal digits, underscores, NaN and Inf.
func isDecimal(text string) bool {
	i := 0
	skip := func(set string) bool {
		if i < len(text) && strings.IndexByte(set, text[i]) >= 0 {
			i++
			return true
		}
		return false
	}
	digits := func() int {
		from := i
		for i < len(text) && text[i] >= '0' && text[i] <= '9' {
			i++
		}
		return i - from
	}
	skip("+-")
	n := digits()
	if skip(".") {
		n += digits()
	}
	if n == 0 {
		return false
	}
	if skip("eE") {
		skip("+-")
		if digits() == 0 {
			return false
		}
	}
	return i == len(text)
}

package review

import (
	"regexp"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// expectation is a carry gain as people write it down: "8", "+8 yd", "8 yd
// longer", "3,5 m shorter".
var expectation = regexp.MustCompile(`(?i)^([+-]?)\s*(\d{1,6}(?:[.,]\d{1,6})?)\s*(yd|yds|yards?|m|met(?:re|er)s?|ft|feet)?\s*(longer|further|farther|more|shorter|less)?\s*\.?$`)

// readExpectation returns the carry gain that a text expects, in the lesson's
// unit.
func readExpectation(text string, unit lesson.Unit) (float64, bool) {
	part := expectation.FindStringSubmatch(strings.ReplaceAll(strings.TrimSpace(text), "−", "-"))
	if part == nil {
		return 0, false
	}
	gain, err := strconv.ParseFloat(strings.Replace(part[2], ",", ".", 1), 64)
	if err != nil {
		return 0, false
	}
	shorter := strings.EqualFold(part[4], "shorter") || strings.EqualFold(part[4], "less")
	switch {
	case part[1] != "" && part[4] != "" && shorter != (part[1] == "-"): // "-8 longer" says two things
		return 0, false
	case part[1] == "-" || shorter:
		gain = -gain
	}
	switch strings.ToLower(part[3]) {
	case "":
		return gain, true
	case "m", "metre", "metres", "meter", "meters":
		gain *= lesson.Unit("m").Metres()
	case "ft", "feet":
		gain *= lesson.Unit("ft").Metres()
	default:
		gain *= lesson.Unit("yd").Metres()
	}
	return gain / unit.Metres(), true
}

// score holds what was expected of a headline's last stage against its gain; ok
// is false where nothing was expected that can be read, or nothing measured.
func (r *Review) score(p lesson.Pair, f Finding) (s compare.Score, ok bool) {
	expected, ok := readExpectation(p.After.Stage.Expect, r.Lesson.Unit)
	gain := f.gain()
	if !ok || gain == nil {
		return s, false
	}
	s, err := compare.ScoreExpectation(*gain, expected)
	return s, err == nil
}

// expectSentence says how well what was expected fits; nothing where nothing was.
func (r *Review) expectSentence(p lesson.Pair, f Finding) []string {
	text := p.After.Stage.Expect
	if text == "" {
		return nil
	}
	if s, ok := r.score(p, f); ok {
		return []string{s.Sentence()}
	}
	if _, ok := readExpectation(text, r.Lesson.Unit); !ok {
		return []string{"What was expected, " + quoted(text) + ", can't be held against the gain: write it as a gain in carry, such as +8 or “8 " + string(r.Lesson.Unit) + " longer”."}
	}
	return nil
}

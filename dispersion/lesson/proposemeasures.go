package lesson

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// nameMeasures decides which measure each column seems to be.
func nameMeasures(columns []*lookedAt) {
	best := map[string]*lookedAt{}
	sure := map[*lookedAt]bool{}
	for _, c := range columns {
		c.field = Field{Name: strings.TrimSpace(c.written), Measure: None}
		name, exact := c.byHeader()
		if name == "" {
			continue
		}
		sure[c] = exact
		was := best[name]
		switch {
		case was == nil:
			best[name] = c
		case exact && !sure[was]:
			best[name] = c
			was.doubt("%q is taken for %s, and this one may be it too", clip(c.written), name)
		default:
			c.doubt("%q is taken for %s, and this one may be it too", clip(was.written), name)
			if exact == sure[was] {
				was.doubt("%q may be %s too", clip(c.written), name)
			}
		}
	}
	for name, c := range best {
		c.field.Measure = name
		if !sure[c] {
			c.doubt("its header only holds a word for %s", name)
		}
	}
	if best["club"] != nil {
		return
	}
	for _, c := range columns {
		if distinct := slices.Compact(slices.Sorted(slices.Values(c.values))); c.field.Measure == None && len(distinct) > 0 && areClubs(distinct) {
			c.field.Measure = "club"
			c.doubt("its values look like clubs, its header does not say so")
			return
		}
	}
}

// vagueWords may be one measure or another.
var vagueWords = map[string]string{
	"distance": "carry or total", "weite": "carry or total", "lange": "carry or total", "entfernung": "carry or total", "distancia": "carry or total",
	"distanza": "carry or total", "afstand": "carry or total", "length": "carry or total", "speed": "ball_speed or club_speed", "angle": "any direction",
	"direction": "a direction or right and left", "name": "pupil, club or another", "type": "club, ball or another",
}

// byHeader returns the measure that a column's header has a word for, and
// whether it is all that the header says.
func (c *lookedAt) byHeader() (name string, exact bool) {
	if m, ok := measureOf(canonical(c.written)); ok {
		return m.name, true
	}
	phrase := headerPhrase(c.written)
	if name := headerWords[phrase]; name != "" {
		return name, true
	}
	if may := vagueWords[phrase]; may != "" {
		c.doubt("%q may be %s: say which", clip(c.written), may)
		return "", false
	}
	padded, longest := " "+phrase+" ", ""
	for words := range headerWords {
		// The longest, and of two the first in the alphabet, so that the answer
		// does not depend on the order of a map.
		if strings.Contains(padded, " "+words+" ") && (len(words) > len(longest) || len(words) == len(longest) && words < longest) {
			longest = words
		}
	}
	return headerWords[longest], false
}

// settle fills in the rest of a field once its measure is known.
func (c *lookedAt) settle() {
	m, ok := findMeasure(c.field.Measure)
	switch {
	case ok && m.kind == numberMeasure:
		c.settleNumber(m)
	case ok && m.kind == timeMeasure || c.field.Measure == "session":
		c.settleTime()
	case ok:
		c.field.Type = "string"
	case c.shape.numeric && len(c.shape.right) == 0:
		c.field.Type, c.field.Unit = "number", cmp.Or(c.unit, c.shape.unit)
		c.numberMarks()
	default:
		c.field.Type = "string"
		if len(c.shape.right) > 0 {
			c.doubt("right and left stand beside its numbers")
		}
	}
}

// numberMarks says how the numbers are written.
func (c *lookedAt) numberMarks() {
	s := c.shape
	c.field.DecimalChar, c.field.GroupChar = strings.TrimPrefix(s.decimal, "."), s.group
	c.field.UnitInCells = s.unit != ""
	if s.unclear != "" {
		c.doubt("%q is read with %q before its decimals, and nothing in the file tells whether it ends the thousands", clip(s.unclear), s.decimal)
		if s.group == "," {
			c.doubts[len(c.doubts)-1] = fmt.Sprintf("the comma in %q is read as the end of the thousands, and nothing in the file tells whether it stands before decimals", clip(s.unclear))
		}
	}
}

func (c *lookedAt) settleNumber(m measure) {
	s := c.shape
	if !s.numeric {
		if len(c.values) > 0 {
			c.doubt("its values are no numbers, such as %q", clip(c.values[0]))
		}
		c.field.Type = "number"
		return
	}
	c.field.Type = "number"
	c.numberMarks()
	unit := cmp.Or(c.unit, s.unit)
	if s.unit != "" && c.unit != "" && s.unit != c.unit {
		c.doubt("its header says %s and its cells %s", c.unit, s.unit)
		unit = s.unit
	}
	switch {
	case m.checkUnit(unit) != "":
		c.doubt("%s", m.checkUnit(unit))
		c.field.Measure, c.field.Unit = None, unit
		return
	case unit == "" && len(m.units) > 1:
		c.doubt("no unit is said: write one of %s", strings.Join(m.units, ", "))
	case unit == "" && m.units != nil:
		unit = m.units[0]
	}
	c.field.Unit = unit
	if len(s.right) > 0 {
		if !m.sided {
			c.doubt("right and left stand beside its numbers, and %s has none", m.name)
			c.field = Field{Name: c.field.Name, Measure: None, Type: "string"}
			return
		}
		c.field.Right, c.field.Left = s.right, s.left
		if s.oneSided {
			c.doubt("only one word for a side occurs: check that %s is right and %s left", quoteAll(s.right), quoteAll(s.left))
		}
	}
	c.doubtRange(m)
}

// plausible are the medians that a full shot or a short one may have, in the
// first unit of the measure; far wider than any lesson. Common practice, no
// source.
var plausible = map[string][2]float64{
	"carry": {3, 350}, "total": {3, 400}, "ball_speed": {15, 220}, "club_speed": {10, 150}, "spin_rpm": {300, 14000}, "launch_deg": {-5, 65},
	"apex": {1, 80}, "descent_deg": {5, 80}, "flight_s": {.5, 10}, "target_carry": {3, 350},
}

// inFirstUnit converts to yards and miles an hour.
var inFirstUnit = map[string]float64{"": 1, "yd": 1, "m": 1 / .9144, "ft": 1. / 3, "mph": 1, "mps": 1 / .44704, "kmh": 1 / 1.609344}

// doubtRange doubts a column whose middle is nothing that its measure could be.
func (c *lookedAt) doubtRange(m measure) {
	middle, ok := c.middle()
	limits, has := plausible[m.name]
	if !ok || !has {
		return
	}
	factor, ok := inFirstUnit[c.field.Unit]
	if !ok {
		factor = 1
	}
	if v := middle * factor; v < limits[0] || v > limits[1] {
		c.doubt("half of its values are below %.4g %s, which is unlike a %s", middle, c.field.Unit, m.name)
	}
}

// middle returns the median of a column's numbers.
func (c *lookedAt) middle() (float64, bool) {
	values := c.floats()
	if len(values) == 0 {
		return 0, false
	}
	slices.Sort(values)
	return values[len(values)/2], true
}

func (c *lookedAt) floats() []float64 {
	var values []float64
	for _, number := range c.shape.numbers {
		if v, ok := c.shape.value(number); ok {
			values = append(values, v)
		}
	}
	return values
}

// doubtSides doubts a side that is never negative and has no words: the way may
// stand in another column.
func doubtSides(columns []*lookedAt) {
	for _, c := range columns {
		values := c.floats()
		if c.field.Measure != "side" || len(c.field.Right) > 0 || len(values) < 5 {
			continue
		}
		if slices.Min(values) >= 0 || slices.Max(values) <= 0 {
			c.doubt("all balls lie on one side of the target line: does another column say which?")
		}
	}
}

// couldBe tells whether a column's numbers could be a carry or a side. In another
// unit than one of length they can't, nor under a word for something else.
func couldBe(measure string, c *lookedAt) bool {
	unit := cmp.Or(c.unit, c.shape.unit)
	if unit != "" && !slices.Contains(lengthUnits, unit) {
		return false
	}
	if may := vagueWords[headerPhrase(c.written)]; measure == "carry" && may != "" && !strings.Contains(may, measure) {
		return false
	}
	values := c.floats()
	middle, ok := c.middle()
	if !ok || !c.shape.numeric && len(c.shape.right) == 0 {
		return false
	}
	if measure == "side" {
		return len(c.shape.right) > 0 || slices.Min(values) < 0 && slices.Max(values) > 0 && math.Abs(middle) < 60
	}
	middle *= inFirstUnit[unit]
	return middle >= 20 && middle <= 350 && slices.Min(values) >= 0
}

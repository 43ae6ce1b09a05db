package lesson

import (
	"fmt"
	"math"
)

// What makes a shot hard to believe. Common practice, no source: the longest
// carries in competition stay below 450 yd.
const (
	farCarryMetres = 450 * 0.9144
	sideOverCarry  = 3
	mostUnlikely   = 20 // warnings of single shots; the rest are counted
)

// doubtShots warns of shots that are kept though they are hard to believe.
func doubtShots(shots []Shot, unit Unit) (warnings []error) {
	more := 0
	for _, s := range shots {
		reason := unlikely(s, unit)
		switch {
		case reason == "":
		case len(warnings) == mostUnlikely:
			more++
		default:
			warnings = append(warnings, &UnlikelyShot{s.Line, s.Carry, s.Side, unit, reason})
		}
	}
	if more > 0 {
		warnings = append(warnings, warning(ErrUnlikely, "%s more: is %s the unit of this file?", count(more, "shot"), unit))
	}
	return warnings
}

func unlikely(s Shot, unit Unit) string {
	switch {
	case s.Carry == 0:
		return "the ball did not fly"
	case s.Carry*unit.Metres() > farCarryMetres:
		return "a carry beyond 450 yd"
	case math.Abs(s.Side) > sideOverCarry*s.Carry:
		return fmt.Sprintf("a side of more than %d times the carry", sideOverCarry)
	}
	return ""
}

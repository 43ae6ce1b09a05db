package lesson

import "fmt"

// A Unit is a unit of length.
type Unit string

// The units of length that carry and side come in.
const (
	Yards  Unit = "yd"
	Metres Unit = "m"
	Feet   Unit = "ft"
)

// Metres returns how many metres one unit is: 0.9144, 1 or 0.3048, exactly; 0
// for a unit that is none of the three.
//
// Reference: the international yard and pound agreement of 1959; A. Thompson
// and B. N. Taylor, Guide for the Use of the International System of Units,
// NIST Special Publication 811, 2008, Appendix B.
func (u Unit) Metres() float64 { return float64(u.tenths()) / 10000 }

// tenths returns the unit in tenths of a millimetre, in which all three are
// whole, so that converting loses nothing but one rounding: 3 ft are 1 yd.
func (u Unit) tenths() int {
	switch u {
	case Yards:
		return 9144
	case Metres:
		return 10000
	case Feet:
		return 3048
	}
	return 0
}

// convert turns a length in u into one in to.
func (u Unit) convert(length float64, to Unit) float64 {
	if u == to {
		return length
	}
	return length * float64(u.tenths()) / float64(to.tenths())
}

// check returns an error for a unit of no known length.
func (u Unit) check() error {
	if u.tenths() == 0 {
		return fmt.Errorf("unit %q: write yd, m or ft", clip(string(u)))
	}
	return nil
}

// lengthSuffixes are the endings of a column's name that give a unit of length.
var lengthSuffixes = map[string]Unit{
	"yd": Yards, "yds": Yards, "yard": Yards, "yards": Yards,
	"m": Metres, "metre": Metres, "metres": Metres, "meter": Metres, "meters": Metres,
	"ft": Feet, "foot": Feet, "feet": Feet,
}

// otherSuffixes are the endings that give another unit.
var otherSuffixes = map[string]string{
	"mm": "mm", "cm": "cm", "deg": "deg", "rpm": "rpm", "s": "s", "mph": "mph", "mps": "mps", "kmh": "kmh", "ftps": "ft/s", "pct": "%",
}

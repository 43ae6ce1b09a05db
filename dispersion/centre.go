package dispersion

import (
	"encoding/json"
	"errors"
)

// ErrNotUnique is the warning that more than one point fits equally well and
// that the middle of them was taken.
var ErrNotUnique = errors.New("the centre is not unique: the middle of all that fit was taken")

// A Centre is one answer to the question where a group is.
type Centre struct {
	Method   string  // how it was found
	Point    Point   // in the unit of the shots
	Region   Region  // where the true centre lies with confidence Level; nil where none was asked for or can be given
	Level    float64 // of Region, as requested; 0 without one
	N        int     // shots used
	Warnings []error // such as ErrNotUnique
}

// MarshalJSON writes the point as side and carry, the warnings as texts, and
// null for a region that is not there.
func (c Centre) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Method   string    `json:"method"`
		Point    jsonPoint `json:"point"`
		Region   Region    `json:"region"`
		Level    float64   `json:"level"`
		N        int       `json:"n"`
		Warnings []string  `json:"warnings"`
	}{c.Method, jsonPoint{c.Point.X, c.Point.Y}, c.Region, c.Level, c.N, warningTexts(c.Warnings)})
}

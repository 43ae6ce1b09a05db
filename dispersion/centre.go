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
	Method   string // how it was found
	Point    Point
	N        int     // shots used
	Warnings []error // such as ErrNotUnique
}

// MarshalJSON writes the point as side and carry and the warnings as texts.
func (c Centre) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Method   string    `json:"method"`
		Point    jsonPoint `json:"point"`
		N        int       `json:"n"`
		Warnings []string  `json:"warnings"`
	}{c.Method, jsonPoint{c.Point.X, c.Point.Y}, c.N, warningTexts(c.Warnings)})
}

package dispersion

// An Interval holds the values of a quantity that the shots are compatible
// with at the given level: intervals made this way hold the true value in that
// share of lessons.
type Interval struct {
	Low   float64 `json:"low"`   // not above High
	High  float64 `json:"high"`  // in the unit of the quantity
	Level float64 `json:"level"` // a fraction, such as 0.95
}

package strokes

// A Spot is where a ball lies.
type Spot struct {
	Lie      Lie
	Distance float64 // to the hole, metres; 0 is in the hole
}

package strokes

import "fmt"

// A Computed is the baseline of a stated player on a generic hole. It is exact
// for that player, up to its grid, and states no standard error.
type Computed struct {
	player   Player
	hole     GenericHole
	putting  *HolingOut
	distance []float64
	expected [numLies][]float64
	warnings []error
}

const numLies = int(Green) + 1

// computedReach is how far a computed baseline goes, in metres: 656 yards.
const computedReach = 600

// Compute returns the baseline of a player: for every distance up to 600 m and
// every lie the expected strokes of playing to the hole by the best of a few
// lengths each time. It solves
//
//	E(lie, x) = min over lengths a of 1 + mean of E(lie', x')
//
// where x' and lie' are where a shot meant to go a comes to rest: its length and
// direction are spread as the player says, from the lie he plays from, and the
// lie is that of the generic hole there, whose line runs from each ball to the
// hole anew. On the green E is that of [NewHolingOut]. A ball is never holed
// from off the green, and there is no water and nothing out of bounds: what
// those cost belongs to a hole of one's own.
//
// The lengths tried are the whole distance, or the longest shot where the hole
// is out of reach, and 90, 75 and 50 % of that. The curves are made monotone in
// the distance by pooling neighbours.
//
// Errors: [ErrPlayer], naming the number; [ErrModel]. It is deterministic and
// takes some tenths of a second.
//
// Reference: D. P. Bertsekas, J. N. Tsitsiklis, "An Analysis of Stochastic
// Shortest Path Problems", Mathematics of Operations Research 16(3), 1991,
// pp. 580-595.
func Compute(p Player, h GenericHole) (*Computed, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := h.check(); err != nil {
		return nil, err
	}
	putting, err := NewHolingOut(p.Putting)
	if err != nil {
		return nil, err
	}
	p.Spreads = append([]Spread(nil), p.Spreads...)
	s := newSolver(p, h, putting)
	if err := s.solve(); err != nil {
		return nil, err
	}
	c := &Computed{player: p, hole: h, putting: putting, distance: s.grid, expected: s.expected}
	for _, lie := range []Lie{Tee, Fairway, Rough, Sand, Recovery} {
		c.warnings = append(c.warnings, levelled(lie, makeMonotone(c.expected[lie], nil))...)
	}
	return c, nil
}

// Expected implements [Baseline].
func (c *Computed) Expected(lie Lie, distance float64) (float64, error) {
	if err := checkReach(c, lie, distance); err != nil {
		return 0, err
	}
	switch {
	case distance == 0:
		return 0, nil
	case lie == Green:
		return interpolate(c.putting.distance, c.putting.expected, distance), nil
	}
	return interpolate(c.distance, c.expected[lie], distance), nil
}

// StandardError implements [Baseline]: there is none.
func (c *Computed) StandardError(lie Lie, distance float64) (float64, error) {
	if err := checkReach(c, lie, distance); err != nil {
		return 0, err
	}
	return 0, noStandardError()
}

// Reach implements [Baseline]: up to 60 m on the green, 600 m elsewhere. Off the
// green a ball nearer than 1 m is taken to be at 1 m.
func (c *Computed) Reach(lie Lie) (low, high float64) {
	switch {
	case !lie.valid():
		return 0, 0
	case lie == Green:
		return 0, greenReach
	}
	return 0, computedReach
}

// Source implements [Baseline].
func (c *Computed) Source() string {
	return fmt.Sprintf("computed for a player who is %v, on a hole with a fairway of %.0f m and a green of radius %.0f m", c.player, c.hole.Fairway, c.hole.Green)
}

// Player returns the player that the baseline was computed for.
func (c *Computed) Player() Player {
	p := c.player
	p.Spreads = append([]Spread(nil), p.Spreads...)
	return p
}

// Warnings returns a *[FallWarning] for every lie whose curve had to be levelled:
// where short shots are much wider than long ones, being nearer can cost.
func (c *Computed) Warnings() []error { return append([]error(nil), c.warnings...) }

package flight

import (
	"fmt"
	"math"
)

// A Flight is how a ball flew until it came down.
type Flight struct {
	Carry, Side float64 // where it landed: along the target line and right of it, m
	Time        float64 // s
	Speed       float64 // on landing, m/s
	Descent     float64 // on landing, radians below level
	Spin        float64 // on landing, rad/s
	Apex        float64 // its greatest height above where it lay, m
	ApexCarry   float64 // where that was, along the target line, m
}

// A HeightError says that a ball never rises to the ground it was to land on. It
// is always returned as *HeightError, wrapped.
type HeightError struct {
	Landing, Apex float64 // m above where the ball lay
}

func (e *HeightError) Error() string {
	return fmt.Sprintf("this ball rises to %.3g m and can't land on ground at %.3g m: launch it higher or land it lower", e.Apex, e.Landing)
}

// A Spot is a place on the way of a ball.
type Spot struct {
	Time                float64 // s
	Side, Carry, Height float64 // m
}

// Fly returns how the ball flies: the solution of
//
//	m·dv/dt = -m·g + ½ρA·|u|·(-C_D·u + C_L·a×u),  dω/dt = -c·ω·|u|/r
//
// with u the velocity through the air and a the axis of the spin, which keeps its
// direction. It lands where it first comes down to the height of the landing.
//
// The Earth is flat and does not turn, which moves no shot by more than inches,
// and the ball meets no upwind.
//
// Errors: [ErrMissing]; *[RangeError] for a launch or conditions that can't be;
// *[HeightError] for ground that the ball does not rise above, so for a launch
// that is not upward too, unless the landing is lower; *[CoefficientError];
// [ErrNoLanding].
//
// Fly is deterministic and takes some microseconds. The landing is within
// [Model.Precision] of the solution, as long as coefficients and wind are smooth
// all the way. Across a kink it may be several times as far off: that of a wind
// with a roughness where a ball falls below where it lay, or of a [Form] where the
// ball nearly rests in the air.
func (m Model) Fly(l Launch, c Conditions) (Flight, error) {
	flown, err := m.ready(l, c, nil)
	if err != nil {
		return Flight{}, err
	}
	return flown.flight, nil
}

// Path returns the flight and so many spots on its way, from the launch to the
// landing, equally long apart in time. It takes from 2 to 10,000 spots.
//
// Errors: those of [Model.Fly]; *[RangeError] for the number of spots.
func (m Model) Path(l Launch, c Conditions, spots int) (Flight, []Spot, error) {
	if err := within("number of spots", float64(spots), 2, 10000, ""); err != nil {
		return Flight{}, nil, err
	}
	var steps []step
	flown, err := m.ready(l, c, &steps)
	if err != nil {
		return Flight{}, nil, err
	}
	path, at := make([]Spot, spots), 0
	for i := range path {
		t := flown.flight.Time * float64(i) / float64(spots-1)
		for at < len(steps)-1 && t > steps[at].t+steps[at].h {
			at++
		}
		s := &steps[at]
		share := min((t-s.t)/s.h, 1)
		path[i] = Spot{t, s.at(0, share), s.at(1, share), s.at(2, share)}
	}
	last := &path[spots-1]
	last.Side, last.Carry, last.Height = flown.flight.Side, flown.flight.Carry, flown.landing
	return flown.flight, path, nil
}

// ready checks what Fly is given and follows the ball.
func (m Model) ready(l Launch, c Conditions, keep *[]step) (*follower, error) {
	m, err := m.resolved()
	if err != nil {
		return nil, err
	}
	if err := l.check(); err != nil {
		return nil, err
	}
	if c, err = c.resolved(); err != nil {
		return nil, err
	}
	from, axis := l.start()
	f := &follower{field: newField(m, c, axis), landing: c.Landing, keep: keep}
	f.scale = stepScale(m.Precision, l)
	if err := f.follow(from); err != nil {
		return nil, fmt.Errorf("flight: %w", err)
	}
	return f, nil
}

// stepScale says how much a step may be wrong in each component. An error of
// the velocity or of the spin grows until the ball lands; the shares are such
// that random flights land within the precision, as a test shows.
func stepScale(precision float64, l Launch) (scale state) {
	for i := range 3 {
		scale[i], scale[i+3] = precision/5, precision/500
	}
	scale[6] = precision / 150 * max(l.Spin, 1)
	return scale
}

const (
	longestFlight = 60.0 // s
	mostSteps     = 50000
	firstStep     = 0.2 // s
	longestStep   = 2.0 // s
	shortestStep  = 1e-7
)

// A follower follows one ball to the ground.
type follower struct {
	*field
	scale   state
	landing float64
	keep    *[]step
	flight  Flight
}

// follow takes steps as long as their estimated errors allow. Each is looked
// through for the top of the flight and for the ground.
func (f *follower) follow(from state) error {
	s := step{h: firstStep, from: from}
	f.rate(&s.from, &s.k[0])
	if from[5] <= 0 && f.landing >= 0 {
		return &HeightError{Landing: f.landing}
	}
	for range mostSteps {
		s.take(f.field)
		if f.bad != nil {
			return f.bad
		}
		miss := s.miss(&f.scale)
		if !(miss <= 1) { // true for NaN
			s.h *= max(.2, .9*math.Pow(miss, -.2))
			if !(s.h >= shortestStep) {
				return ErrNoLanding
			}
			continue
		}
		down, err := f.look(&s)
		if down || err != nil {
			return err
		}
		if f.keep != nil {
			*f.keep = append(*f.keep, s)
		}
		s.t += s.h
		if s.t > longestFlight {
			return ErrNoLanding
		}
		s.from, s.k[0] = s.to, s.k[6]
		s.h = min(s.h*min(5, .9*math.Pow(max(miss, 1e-10), -.2)), longestStep)
	}
	return ErrNoLanding
}

// look looks through a step, in two parts where the ball stops rising or falling
// in it. It tells whether the ball came down.
func (f *follower) look(s *step) (down bool, err error) {
	turn := 1.0
	if (s.from[5] > 0) != (s.to[5] > 0) {
		turn = s.crossing(5, 0, 0, 1)
		top := Spot{Carry: s.at(1, turn), Height: s.at(2, turn)}
		if s.from[5] > 0 {
			if top.Height > f.flight.Apex {
				f.flight.Apex, f.flight.ApexCarry = top.Height, top.Carry
			}
			if top.Height < f.landing {
				return false, &HeightError{Landing: f.landing, Apex: f.flight.Apex}
			}
		}
	}
	low, high := 0.0, turn
	if s.from[5] > 0 { // rising first
		low, high = turn, 1
	}
	if low == high || !(s.at(2, low) >= f.landing && s.at(2, high) < f.landing) {
		return false, nil
	}
	f.land(s, s.crossing(2, f.landing, low, high))
	return true, nil
}

// land takes the last step anew, as long as it takes to the ground, since a step
// is truer at its end than the extension is between. What is left to the ground
// is less than a hair and is gone straight.
func (f *follower) land(s *step, share float64) {
	s.h *= share
	s.take(f.field)
	if f.keep != nil {
		*f.keep = append(*f.keep, *s)
	}
	rest := 0.0
	if s.to[5] < 0 {
		rest = (f.landing - s.to[2]) / s.to[5]
	}
	for i := range s.to {
		s.to[i] += rest * s.k[6][i]
	}
	level := math.Hypot(s.to[3], s.to[4])
	f.flight.Side, f.flight.Carry = s.to[0], s.to[1]
	f.flight.Time = s.t + s.h + rest
	f.flight.Speed = math.Hypot(level, s.to[5])
	f.flight.Descent = math.Atan2(-s.to[5], level)
	f.flight.Spin = s.to[6]
}

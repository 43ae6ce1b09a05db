package strokes

import (
	"fmt"
	"math"
	"strings"
)

// A Spread is how wide a player's shots of one length are.
type Spread struct {
	Length float64 // metres, as meant
	Angle  float64 // standard deviation of the direction, radians
	Share  float64 // standard deviation of the length, as a share of the length
}

// A From is what a lie does to shots, held against the same shots from the
// fairway.
type From struct {
	Wider  float64 // spread of direction and length, times as wide
	Length float64 // longest shot, as a share of that from the fairway, up to 1
}

// A Player is described by numbers that a coach can measure or state. Lengths
// are where the ball comes to rest.
type Player struct {
	Drive   float64            // longest shot from the tee, metres
	Longest float64            // longest shot from the fairway, metres
	Spreads []Spread           // by growing length; straight lines between, constant beyond the ends
	Rough   From               // what a lie takes off the longest shot and adds to the spread
	Sand    From               // beside a fairway and beside a green alike
	Putting AngleDistanceModel // when the ball is on the green

	// TailDF makes the tails of the pattern heavy: direction and length then
	// follow t laws of so many degrees of freedom, scaled so that half of the
	// shots lie where they would with the normal law. A robust spread such as
	// the scaled MAD then describes either. 0 means the normal law.
	TailDF float64

	// Mishits is the share of shots meant to go more than 30 m that are mishit:
	// they go MishitLength times what was meant, with the spread of shots of
	// that length.
	Mishits      float64
	MishitLength float64

	// Blocked is the share of recovery lies from which the player must play
	// out sideways: a stroke that brings the ball Punch metres nearer at most,
	// onto the fairway. From the others he plays as from the rough.
	Blocked float64
	Punch   float64
}

// chip is the length in metres up to which no shot is mishit in the sense of
// Player.Mishits.
const chip = 30

// String describes the player by the numbers that matter most: the spread at the
// middle one of the lengths stated, the drive, the mishits and the putting.
func (p Player) String() string {
	var text strings.Builder
	if n := len(p.Spreads); n > 0 {
		s := p.Spreads[n/2]
		fmt.Fprintf(&text, "%.1f° and %.0f %% wide at %.0f m, ", degrees(s.Angle), 100*s.Share, s.Length)
	}
	fmt.Fprintf(&text, "drives %.0f m, mishits %.0f %%, putts %.1f° and %.0f %% wide", p.Drive, 100*p.Mishits, degrees(p.Putting.Angle), 100*p.Putting.Distance)
	if p.TailDF > 0 {
		fmt.Fprintf(&text, ", t tails with %g degrees of freedom", p.TailDF)
	}
	return text.String()
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// spread returns the spread of shots meant to go so far.
func (p Player) spread(length float64) Spread {
	s := p.Spreads
	if len(s) == 1 || length <= s[0].Length {
		return s[0]
	}
	for i := 1; i < len(s); i++ {
		if length <= s[i].Length {
			f := (length - s[i-1].Length) / (s[i].Length - s[i-1].Length)
			return Spread{length, (1-f)*s[i-1].Angle + f*s[i].Angle, (1-f)*s[i-1].Share + f*s[i].Share}
		}
	}
	return s[len(s)-1]
}

// check returns an error that names the number out of range.
func (p Player) check() error {
	fault := func(what string, v float64, want string) error {
		return fmt.Errorf("strokes: player: %s is %g, it must be %s: %w", what, v, want, ErrPlayer)
	}
	for _, c := range []struct {
		what      string
		v         float64
		low, high float64
	}{
		{"Drive", p.Drive, 50, 400},
		{"Longest", p.Longest, 40, p.Drive},
		{"Rough.Wider", p.Rough.Wider, 1, 5},
		{"Rough.Length", p.Rough.Length, 0.2, 1},
		{"Sand.Wider", p.Sand.Wider, 1, 5},
		{"Sand.Length", p.Sand.Length, 0.2, 1},
		{"Mishits", p.Mishits, 0, 0.6},
		{"MishitLength", p.MishitLength, 0.1, 1},
		{"Blocked", p.Blocked, 0, 1},
		{"Punch", p.Punch, 5, 150},
	} {
		if !(c.v >= c.low && c.v <= c.high) {
			return fault(c.what, c.v, fmt.Sprintf("from %g to %g", c.low, c.high))
		}
	}
	if p.TailDF != 0 && !(p.TailDF >= 1.5 && p.TailDF <= 1000) {
		return fault("TailDF", p.TailDF, "0 for the normal law, or from 1.5 to 1000")
	}
	if len(p.Spreads) == 0 {
		return fmt.Errorf("strokes: player: no Spreads: state at least one: %w", ErrPlayer)
	}
	for i, s := range p.Spreads {
		at := fmt.Sprintf("Spreads[%d].", i)
		switch {
		case !(s.Length > 0 && s.Length <= 400) || i > 0 && !(s.Length > p.Spreads[i-1].Length):
			return fault(at+"Length", s.Length, "above 0, at most 400 and above the one before")
		case !(s.Angle > 0 && s.Angle <= 0.35):
			return fault(at+"Angle", s.Angle, "above 0 and at most 0.35 radians (20°)")
		case !(s.Share > 0 && s.Share <= 0.5):
			return fault(at+"Share", s.Share, "above 0 and at most 0.5")
		}
	}
	return p.Putting.check()
}

// IllustrativePlayers returns four players from narrow to wide, each with about
// one and a half times the spread of the one before. The first is set so that
// the baseline comes near to what is remembered of professionals; the others
// are illustrations that no measurement stands behind. Change a number to see
// what it is worth.
func IllustrativePlayers() []Player {
	return []Player{
		illustrative(258, 218, 0.00, 1.0, AngleDistanceModel{Angle: 0.0178, Distance: 0.080}),
		illustrative(230, 195, 0.03, 1.5, AngleDistanceModel{Angle: 0.022, Distance: 0.100}),
		illustrative(200, 170, 0.08, 2.2, AngleDistanceModel{Angle: 0.028, Distance: 0.135}),
		illustrative(165, 140, 0.15, 3.2, AngleDistanceModel{Angle: 0.036, Distance: 0.180}),
	}
}

func illustrative(drive, longest, mishits, wider float64, putting AngleDistanceModel) Player {
	const degree = math.Pi / 180
	p := Player{
		Drive: drive, Longest: longest, Putting: putting,
		Rough:   From{Wider: 1.4, Length: 0.85},
		Sand:    From{Wider: 1.85, Length: 0.6},
		Mishits: mishits, MishitLength: 0.5,
		Blocked: 0.85, Punch: 40,
	}
	for _, s := range []Spread{{10, 5 * degree, 0.13}, {30, 3.8 * degree, 0.09}, {90, 2.7 * degree, 0.055}, {180, 3 * degree, 0.05}, {270, 3.5 * degree, 0.05}} {
		p.Spreads = append(p.Spreads, Spread{s.Length, s.Angle * wider, s.Share * wider})
	}
	return p
}

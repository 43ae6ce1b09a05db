package strokes

import (
	"fmt"
	"strings"
)

// A Lie is where the ball rests before a stroke. The zero value is no lie.
type Lie int

// The lies. Recovery is a place from which the way to the hole is blocked, such
// as among trees, wherever the ball rests there.
const (
	Tee Lie = iota + 1
	Fairway
	Rough
	Sand
	Recovery
	Green
)

var lieNames = [...]string{Tee: "tee", Fairway: "fairway", Rough: "rough", Sand: "sand", Recovery: "recovery", Green: "green"}

// Lies returns every lie, in the order tee, fairway, rough, sand, recovery,
// green.
func Lies() []Lie { return []Lie{Tee, Fairway, Rough, Sand, Recovery, Green} }

func (l Lie) valid() bool { return l >= Tee && l <= Green }

// String returns the name of the lie, as [ParseLie] reads it.
func (l Lie) String() string {
	if !l.valid() {
		return fmt.Sprintf("Lie(%d)", int(l))
	}
	return lieNames[l]
}

// ParseLie returns the lie of that name, in small or capital letters: tee,
// fairway, rough, sand (or bunker, as plans of holes have it), recovery or
// green.
//
// Errors: [ErrLie].
func ParseLie(name string) (Lie, error) {
	plain := strings.ToLower(strings.TrimSpace(name))
	if plain == "bunker" {
		return Sand, nil
	}
	for _, l := range Lies() {
		if lieNames[l] == plain {
			return l, nil
		}
	}
	return 0, fmt.Errorf("strokes: %.40q: %w", name, ErrLie)
}

// MarshalText writes the name of the lie.
func (l Lie) MarshalText() ([]byte, error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	return []byte(l.String()), nil
}

// UnmarshalText reads the name of a lie, as [ParseLie] does.
func (l *Lie) UnmarshalText(text []byte) error {
	parsed, err := ParseLie(string(text))
	if err != nil {
		return err
	}
	*l = parsed
	return nil
}

func (l Lie) check() error {
	if !l.valid() {
		return fmt.Errorf("strokes: %v: %w", l, ErrLie)
	}
	return nil
}

package strokes

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

func TestLieNames(t *testing.T) {
	for _, l := range Lies() {
		for _, name := range []string{l.String(), strings.ToUpper(l.String()), " " + l.String() + " "} {
			if got, err := ParseLie(name); err != nil || got != l {
				t.Errorf("ParseLie(%q) = %v, %v", name, got, err)
			}
		}
		text, err := json.Marshal(l)
		var back Lie
		if err != nil || json.Unmarshal(text, &back) != nil || back != l {
			t.Errorf("%v is written as %s, read as %v: %v", l, text, back, err)
		}
	}
	if l, err := ParseLie("bunker"); err != nil || l != Sand {
		t.Errorf("bunker is %v, %v", l, err)
	}
	for _, name := range []string{"", "water", "out of bounds", "Lie(3)"} {
		if l, err := ParseLie(name); !errors.Is(err, ErrLie) {
			t.Errorf("%q is %v, %v", name, l, err)
		}
	}
	for _, l := range []Lie{0, -1, Green + 1} {
		if _, err := json.Marshal(l); !errors.Is(err, ErrLie) {
			t.Errorf("%v is written: %v", l, err)
		}
	}
}

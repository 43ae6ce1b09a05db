package plaintext

import (
	"strings"
	"testing"
)

func TestVisible(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", "7-iron, näher\tam Ziel\n", "7-iron, näher\tam Ziel\n"},
		{"markup is text", "<b>&amp;</b>", "<b>&amp;</b>"},
		{"escape and bell", "a\x1b[31mb\a", `a\x1b[31mb\x07`},
		{"nul and delete", "\x00\x7f", `\x00\x7f`},
		{"second control block", "\u0085\u009b", `\x85\x9b`},
		{"windows line end", "a\r\nb", "a\nb"},
		{"lone carriage return", "10 %\r20 %", `10 %\x0d20 %`},
		{"text turned round", "gnp.\u202Efdp", `gnp.\u202efdp`},
		{"line separator", "a\u2028b", `a\u2028b`},
		{"not UTF-8", "a\xffb", "a\uFFFDb"},
		{"joiner kept", "\u0646\u200C\u0647", "\u0646\u200C\u0647"},
	} {
		if got := Visible(c.in); got != c.want {
			t.Errorf("%s: Visible(%q) = %q, want %q", c.name, c.in, got, c.want)
		}
	}
}

func TestOneLine(t *testing.T) {
	if got, want := OneLine(" old\n\tswing \x1b "), `old swing \x1b`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestCut(t *testing.T) {
	for _, c := range []struct {
		in    string
		limit int
		want  string
	}{
		{"", 0, ""},
		{"abc", 3, "abc"},
		{"äöü", 3, "äöü"}, // six bytes, three characters
		{"äöüß", 3, "äöü… (characters left out: 1)"},
		{strings.Repeat("x", 1000), 2, "xx… (characters left out: 998)"},
	} {
		if got := Cut(c.in, c.limit); got != c.want {
			t.Errorf("Cut(%.10q, %d) = %.60q, want %q", c.in, c.limit, got, c.want)
		}
	}
}

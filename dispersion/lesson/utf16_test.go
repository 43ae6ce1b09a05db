package lesson

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"
)

// Source: unicode/utf16 of Go writes the text, in both orders of bytes.
func TestUTF16(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune("aé€\U0001F3CC,\n\r\x00;")), 2, 20, -1).Draw(t, "text")
		high := rapid.Bool().Draw(t, "high")
		var raw strings.Builder
		for _, u := range utf16.Encode([]rune("\uFEFF" + text)) {
			pair := []byte{byte(u), byte(u >> 8)}
			if high {
				pair[0], pair[1] = pair[1], pair[0]
			}
			raw.Write(pair)
		}
		got, warnings, err := readText(strings.NewReader(raw.String()), "lesson file", maxBytes)
		if err != nil || got != text || len(warnings) > 0 {
			t.Fatalf("%q came back as %q, %v, %v", text, got, warnings, err)
		}
	})
}

// Half a character is shown as one that is none, and its line is told.
func TestUTF16Damaged(t *testing.T) {
	for _, tt := range []struct{ name, raw, want, line string }{
		{"an odd byte", "\xFF\xFEa\x00\n\x00b\x00c", "a\nb\uFFFD", "line 2"},
		{"the first half alone", "\xFF\xFEa\x00\x3C\xD8b\x00", "a\uFFFDb", "line 1"},
		{"the second half alone", "\xFE\xFF\x00a\x00\r\x00\n\x00\n\xDF\x00\x00b", "a\r\n\n\uFFFDb", "line 3"},
	} {
		got, warnings, err := readText(strings.NewReader(tt.raw), "lesson file", maxBytes)
		if err != nil || got != tt.want || len(warnings) != 1 || !errors.Is(warnings[0], ErrEncoding) || !strings.Contains(warnings[0].Error(), tt.line+" ") {
			t.Errorf("%s: got %q, %v, %v; want %q with a warning of %s", tt.name, got, warnings, err, tt.want, tt.line)
		}
	}
}

// A file that unpacks to more than the limit is refused before it fills the
// memory.
func TestGzipBomb(t *testing.T) {
	packed := packedZeros(t, 10<<20)
	if len(packed) > 1<<16 {
		t.Fatalf("%d bytes, want far fewer than it unpacks to", len(packed))
	}
	if _, _, err := readText(strings.NewReader(packed), "lesson file", 1<<20); !errors.Is(err, ErrTooLarge) {
		t.Errorf("got %v, want ErrTooLarge", err)
	}
	if text, _, err := readText(strings.NewReader(packed), "lesson file", 10<<20); err != nil || len(text) != 10<<20 {
		t.Errorf("%d bytes and %v at the limit", len(text), err)
	}
}

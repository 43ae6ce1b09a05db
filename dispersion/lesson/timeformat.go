package lesson

import (
	"fmt"
	"strings"
	"time"
)

// strptimeLetters are the letters of a time's format that are read, with the
// words that package time has for them.
var strptimeLetters = map[byte]string{
	'Y': "2006", 'y': "06", 'm': "1", 'd': "2", 'H': "15", 'I': "3", 'M': "4", 'S': "5", 'p': "PM", 'z': "-0700", 'b': "Jan", 'B': "January",
}

// A timeReader reads times of one format and writes them the way that needs
// none.
type timeReader struct {
	layout, canonical string
	format            string
}

// timeFormat reads a format in the letters of strptime, as a Table Schema has
// it.
//
// Reference: The Open Group, POSIX.1-2017, strptime.
func timeFormat(format string) (timeReader, error) {
	var layout strings.Builder
	has := map[byte]bool{}
	for i := 0; i < len(format); i++ {
		switch c := format[i]; {
		case c == '%' && i+1 < len(format):
			i++
			word, ok := strptimeLetters[format[i]]
			if !ok {
				return timeReader{}, fmt.Errorf("%s is not read: the letters are %%Y %%y %%m %%d %%b %%B %%H %%I %%M %%S %%p %%z", printable(strings.ToValidUTF8(format[i-1:i+1], "\uFFFD")))
			}
			has[format[i]] = true
			layout.WriteString(word)
		case strings.IndexByte(" ./-:,Th", c) >= 0:
			layout.WriteByte(c)
		default:
			return timeReader{}, fmt.Errorf("%q can't stand between the parts of a time: use %% with a letter, and blank . / - : , T or h between them", c)
		}
	}
	day := (has['Y'] || has['y']) && (has['m'] || has['b'] || has['B']) && has['d']
	clock := (has['H'] || has['I'] && has['p']) && has['M']
	var parts []string
	if day {
		parts = append(parts, "2006-01-02")
	}
	if clock {
		parts = append(parts, "15:04:05.999999999")
	}
	if len(parts) == 0 {
		return timeReader{}, fmt.Errorf("it gives neither a day (%%Y %%m %%d) nor a time (%%H %%M, or %%I %%M %%p)")
	}
	canonical := strings.Join(parts, "T")
	if has['z'] && len(parts) == 2 {
		canonical += "Z07:00"
	}
	return timeReader{layout.String(), canonical, format}, nil
}

// translate returns a time the way that needs no format.
func (r timeReader) translate(text string) (string, string) {
	t, err := time.Parse(r.layout, text)
	if err != nil { // am and pm come in both cases
		t, err = time.Parse(r.layout, strings.ToUpper(text))
	}
	if err != nil {
		return text, fmt.Sprintf("%q is no time as %s: correct the format in the mapping", clip(text), r.format)
	}
	if y := t.Year(); y < 0 || y > 9999 {
		return text, fmt.Sprintf("%q is in the year %d", clip(text), y)
	}
	return t.Format(r.canonical), ""
}

package lesson

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Limits that no lesson reaches. They keep a wrong file from filling the memory.
const (
	maxBytes   = 256 << 20 // of a file
	maxRows    = 1_000_000
	maxColumns = 1_000
)

// notText are the first bytes of files that are taken for CSV by mistake: the
// two byte orders of UTF-16, and a zip archive, which a workbook is.
var notText = []string{"\xFF\xFE", "\xFE\xFF", "PK\x03\x04"}

// readText returns the whole of a file as valid UTF-8 without its byte order
// mark. Bytes that are no UTF-8 become \xE4 and the like, so that names that
// differ stay different, with a warning. A file of more than limit bytes is
// refused.
func readText(r io.Reader, file string, limit int64) (text string, warnings []error, err error) {
	var b strings.Builder
	n, err := io.Copy(&b, io.LimitReader(r, limit+1))
	if err != nil {
		return "", nil, fmt.Errorf("reading the %s: %w", file, err)
	}
	if n > limit {
		return "", nil, fmt.Errorf("the %s has more than %d bytes: %w", file, limit, ErrTooLarge)
	}
	text = b.String()
	for _, start := range notText {
		if strings.HasPrefix(text, start) {
			return "", nil, fmt.Errorf("%s: %w", file, ErrNotText)
		}
	}
	text = strings.TrimPrefix(text, "\uFEFF")
	if !utf8.ValidString(text) {
		var line int
		text, line = escapeInvalid(text)
		warnings = append(warnings, warning(ErrEncoding,
			"line %d of the %s holds bytes that are no UTF-8, shown as \\x and two digits: save it again as CSV in UTF-8", line, file))
	}
	return text, warnings, nil
}

// escapeInvalid also returns the first line with such a byte.
func escapeInvalid(text string) (escaped string, line int) {
	var b strings.Builder
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size == 1 {
			if line == 0 {
				line = 1 + lineEnds(text[:i])
			}
			fmt.Fprintf(&b, `\x%02X`, text[i])
		} else {
			b.WriteString(text[i : i+size])
		}
		i += size
	}
	return b.String(), line
}

// lineEnds counts the ends of lines: LF, CR LF or a lone CR.
func lineEnds(text string) int {
	return strings.Count(text, "\n") + strings.Count(text, "\r") - strings.Count(text, "\r\n")
}

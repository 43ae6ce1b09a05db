package lesson

import (
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Limits that no lesson reaches. They keep a wrong file from filling the memory.
const (
	maxBytes   = 256 << 20 // of a file, unpacked
	maxRows    = 1_000_000
	maxColumns = 1_000
	maxField   = 1 << 20 // bytes of one field
)

// notText are the first bytes of files that are taken for CSV by mistake: a zip
// archive, which a workbook is, a workbook of the older kind, and a PDF.
var notText = []string{"PK\x03\x04", "\xD0\xCF\x11\xE0", "%PDF"}

// readText returns the whole of a file as valid UTF-8 without its byte order
// mark, whether it was written in UTF-8 or UTF-16 and packed with gzip or not.
// Bytes that are neither become \xE4 and the like, so that names that differ
// stay different, with a warning. A file of more than limit bytes, unpacked, is
// refused.
func readText(r io.Reader, file string, limit int64) (text string, warnings []error, err error) {
	raw, err := readUpTo(r, file, limit)
	if err != nil {
		return "", nil, err
	}
	if strings.HasPrefix(raw, "\x1F\x8B") {
		unpacked, err := gzip.NewReader(strings.NewReader(raw))
		if err != nil {
			return "", nil, fmt.Errorf("unpacking the %s: %w", file, err)
		}
		if raw, err = readUpTo(unpacked, file, limit); err != nil {
			return "", nil, err
		}
	}
	for _, start := range notText {
		if strings.HasPrefix(raw, start) {
			return "", nil, fmt.Errorf("%s: %w", file, ErrNotText)
		}
	}
	if is, bigEndian := utf16Order(raw); is {
		text, damaged := decodeUTF16(raw, bigEndian)
		if damaged > 0 {
			warnings = append(warnings, warning(ErrEncoding, "line %d of the %s holds half a character in UTF-16, shown as \uFFFD: save it again as CSV in UTF-8", damaged, file))
		}
		return text, warnings, nil
	}
	text = strings.TrimPrefix(raw, "\uFEFF")
	if !utf8.ValidString(text) {
		var line int
		text, line = escapeInvalid(text)
		warnings = append(warnings, warning(ErrEncoding,
			"line %d of the %s holds bytes that are no UTF-8, shown as \\x and two digits: save it again as CSV in UTF-8", line, file))
	}
	return text, warnings, nil
}

// readUpTo reads everything, but no more than limit bytes.
func readUpTo(r io.Reader, file string, limit int64) (string, error) {
	var b strings.Builder
	n, err := io.Copy(&b, io.LimitReader(r, limit+1))
	if err != nil {
		return "", fmt.Errorf("reading the %s: %w", file, err)
	}
	if n > limit {
		return "", fmt.Errorf("the %s has more than %d bytes: %w", file, limit, ErrTooLarge)
	}
	return b.String(), nil
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

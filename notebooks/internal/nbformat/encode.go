package nbformat

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// An encoder writes JSON as Python's json.dumps does with indent=1,
// sort_keys=True and ensure_ascii=False. The standard encoder can't: it
// escapes U+2028 and U+2029, and writes 1e-5 as 0.00001.
type encoder struct {
	buf   bytes.Buffer
	depth int
	err   error
}

func (e *encoder) value(v any) {
	switch v := v.(type) {
	case nil:
		e.buf.WriteString("null")
	case bool:
		e.buf.WriteString(strconv.FormatBool(v))
	case int:
		e.buf.WriteString(strconv.Itoa(v))
	case json.Number:
		e.number(v)
	case string:
		e.text(v)
	case []any:
		e.block('[', ']', len(v), func(i int) { e.value(v[i]) })
	case map[string]any:
		keys := slices.Sorted(maps.Keys(v))
		e.block('{', '}', len(keys), func(i int) {
			e.text(keys[i])
			e.buf.WriteString(": ")
			e.value(v[keys[i]])
		})
	default:
		e.err = fmt.Errorf("a notebook can't hold a value of type %T", v)
	}
}

func (e *encoder) block(open, end byte, n int, item func(i int)) {
	e.buf.WriteByte(open)
	e.depth++
	for i := range n {
		if i > 0 {
			e.buf.WriteByte(',')
		}
		e.newline()
		item(i)
	}
	e.depth--
	if n > 0 {
		e.newline()
	}
	e.buf.WriteByte(end)
}

func (e *encoder) newline() {
	e.buf.WriteByte('\n')
	e.buf.WriteString(strings.Repeat(" ", e.depth))
}

// number writes whole numbers as they are, and others as Python's repr: the
// shortest digits, with an exponent below 1e-4 and from 1e16.
func (e *encoder) number(n json.Number) {
	s := n.String()
	if strings.ContainsAny(s, ".eE") {
		x, err := n.Float64()
		if err != nil {
			e.err = fmt.Errorf("the number %s is out of range", s)
			return
		}
		s = strconv.FormatFloat(x, 'e', -1, 64)
		exponent, _ := strconv.Atoi(s[strings.IndexByte(s, 'e')+1:])
		if -4 <= exponent && exponent < 16 {
			s = strconv.FormatFloat(x, 'f', -1, 64)
			if !strings.Contains(s, ".") {
				s += ".0"
			}
		}
	}
	e.buf.WriteString(s)
}

func (e *encoder) text(s string) {
	e.buf.WriteByte('"')
	for _, r := range s {
		switch r {
		case '"', '\\':
			e.buf.WriteByte('\\')
			e.buf.WriteRune(r)
		case '\n':
			e.buf.WriteString(`\n`)
		case '\r':
			e.buf.WriteString(`\r`)
		case '\t':
			e.buf.WriteString(`\t`)
		case '\b':
			e.buf.WriteString(`\b`)
		case '\f':
			e.buf.WriteString(`\f`)
		default:
			if r < 0x20 {
				fmt.Fprintf(&e.buf, `\u%04x`, r)
			} else {
				e.buf.WriteRune(r)
			}
		}
	}
	e.buf.WriteByte('"')
}

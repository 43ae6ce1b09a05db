package lesson

import "strings"

// A record is one row of a separated file.
type record struct {
	line   int      // where it starts, from 1
	fields []string // without quotes and blanks around them
	over   int      // fields beyond the expected ones, up to the last that is not empty
	quote  int      // which field has a quote that is wrong; -1 for none
}

// A scanner takes a text apart into records, by the rules of RFC 4180 where
// they are kept: a field in quotes may hold separators, line ends and doubled
// quotes. Where they are broken the damage stays on one line. encoding/csv
// can't do that: one quote too many takes the rest of the file with it.
//
// A quoted field that is never closed, or that is closed and then goes on, or
// that runs over several lines without giving a row of the expected width, is
// taken as a slip: the record ends with the line it started on, and the next
// line is read afresh.
type scanner struct {
	text  string
	sep   byte
	pos   int
	line  int
	width int // fields expected; 0 when any number will do
}

// next returns the next record, and false at the end. Blank lines are no
// records.
func (s *scanner) next() (record, bool) {
	for s.pos < len(s.text) {
		start := s.pos
		if s.blankLine() {
			continue
		}
		rec, end := s.record(start)
		lines := lineEnds(s.text[start:end])
		slip := rec.quote >= 0 || (lines > 0 && s.width > 0 && (len(rec.fields) < s.width || rec.over > 0))
		if slip {
			if rec.quote < 0 {
				rec.quote = s.brokenField(start)
			}
			end, lines = s.lineEnd(start), 0
		}
		s.pos, s.line = s.skipLineEnd(end), s.line+lines+1
		return rec, true
	}
	return record{}, false
}

// record reads a record at start and returns where it ends: at a line end or at
// the end of the text, unless it is plain before that it is a slip.
func (s *scanner) record(start int) (record, int) {
	rec := record{line: s.line, fields: make([]string, 0, s.width), quote: -1}
	firstLine := s.lineEnd(start)
	for pos, n := start, 0; ; n++ {
		value, end, ok := s.field(pos)
		if !ok {
			rec.quote = n
			return rec, end
		}
		switch {
		case s.width == 0 || n < s.width:
			rec.fields = append(rec.fields, value)
		case value != "":
			rec.over = n + 1 - s.width
		}
		ends := end == len(s.text) || s.text[end] != s.sep
		tooWide := rec.over > 0 && end > firstLine // no need to read on to the end of the file
		tooMany := s.width == 0 && n == maxColumns // nor to keep a million names
		if ends || tooWide || tooMany {
			return rec, end
		}
		pos = end + 1
	}
}

// field reads one field at pos and returns where it ends: at a separator, a
// line end or the end of the text. It is not ok when its quotes are wrong.
func (s *scanner) field(pos int) (value string, end int, ok bool) {
	open := s.skipSpaces(pos)
	if open == len(s.text) || s.text[open] != '"' {
		end = pos
		for end < len(s.text) && s.text[end] != s.sep && s.text[end] != '\n' && s.text[end] != '\r' {
			end++
		}
		return strings.TrimSpace(s.text[pos:end]), end, true
	}
	doubled := false
	for i := open + 1; ; {
		q := strings.IndexByte(s.text[i:], '"')
		if q < 0 {
			return "", len(s.text), false
		}
		i += q + 1
		if i < len(s.text) && s.text[i] == '"' {
			doubled = true
			i++
			continue
		}
		value = s.text[open+1 : i-1]
		if doubled {
			value = strings.ReplaceAll(value, `""`, `"`)
		}
		end = s.skipSpaces(i)
		ok = end == len(s.text) || s.text[end] == s.sep || s.text[end] == '\n' || s.text[end] == '\r'
		return strings.TrimSpace(value), end, ok
	}
}

// brokenField returns which field of the record at start runs over its line.
func (s *scanner) brokenField(start int) int {
	line := s.lineEnd(start)
	for pos, n := start, 0; ; n++ {
		_, end, _ := s.field(pos)
		if end > line {
			return n
		}
		pos = end + 1
	}
}

// blankLine skips a line with nothing but spaces on it, tabs too unless they
// separate.
func (s *scanner) blankLine() bool {
	pos := s.pos
	for pos < len(s.text) && (s.text[pos] == ' ' || s.text[pos] == '\t' && s.sep != '\t') {
		pos++
	}
	if pos < len(s.text) && s.text[pos] != '\n' && s.text[pos] != '\r' {
		return false
	}
	s.pos, s.line = s.skipLineEnd(pos), s.line+1
	return true
}

func (s *scanner) skipSpaces(pos int) int {
	for pos < len(s.text) && s.text[pos] == ' ' {
		pos++
	}
	return pos
}

func (s *scanner) lineEnd(pos int) int {
	for pos < len(s.text) && s.text[pos] != '\n' && s.text[pos] != '\r' {
		pos++
	}
	return pos
}

func (s *scanner) skipLineEnd(pos int) int {
	if strings.HasPrefix(s.text[pos:], "\r\n") {
		return pos + 2
	}
	return min(pos+1, len(s.text))
}

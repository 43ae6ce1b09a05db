package archive

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"

	"github.com/parquet-go/parquet-go"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A meta is what a lesson holds beside its shots, as JSON in the file's
// metadata.
type meta struct {
	Format   int
	Lesson   lesson.Lesson // without Shots and Warnings
	Warnings []string
}

// An encoder writes one file. Its writer is not used for a second: after a Reset,
// parquet-go v0.32.0 leaves the names of the columns out of the footer.
type encoder struct {
	writer *parquet.GenericWriter[shotRow]
	column []parquet.Value
}

// encode returns the bytes of a session's file. The same lesson gives the same
// bytes.
func encode(l *lesson.Lesson, day string) ([]byte, error) {
	text, err := metaOf(l)
	if err != nil {
		return nil, err
	}
	var file bytes.Buffer
	e := &encoder{writer: parquet.NewGenericWriter[shotRow](&file, schema,
		parquet.CreatedBy("landfall", strconv.Itoa(format), ""),
		parquet.Compression(&parquet.Snappy),
		parquet.DataPageVersion(1), // the one that every reader knows
		parquet.MaxRowsPerRowGroup(math.MaxInt64),
		parquet.KeyValueMetadata(metaKey, text))}
	if err := e.columns(l, day); err != nil {
		return nil, err
	}
	if err := e.writer.Close(); err != nil {
		return nil, err
	}
	return file.Bytes(), nil
}

func metaOf(l *lesson.Lesson) (string, error) {
	m := meta{Format: format, Lesson: *l}
	m.Lesson.Shots, m.Lesson.Warnings = nil, nil
	for _, w := range l.Warnings {
		m.Warnings = append(m.Warnings, w.Error())
	}
	text, err := json.Marshal(m)
	return string(text), err
}

func (e *encoder) columns(l *lesson.Lesson, day string) error {
	days, dated := epochDays(day)
	mishits := mishitsOf(l)
	flat := []func(i int, s *lesson.Shot) parquet.Value{
		atPupil:   func(int, *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(l.Pupil)) },
		atSession: func(int, *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(l.Session)) },
		atDay: func(int, *lesson.Shot) parquet.Value {
			if !dated {
				return parquet.NullValue()
			}
			return parquet.Int32Value(days).Level(0, 1, atDay)
		},
		atUnit:        func(int, *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(l.Unit)) },
		atLine:        func(_ int, s *lesson.Shot) parquet.Value { return parquet.Int32Value(int32(s.Line)) },
		atBall:        func(_ int, s *lesson.Shot) parquet.Value { return parquet.Int32Value(int32(s.Ball)) },
		atStage:       func(_ int, s *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(s.Stage)) },
		atIntent:      func(_ int, s *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(s.Intent)) },
		atClub:        func(_ int, s *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(s.Club)) },
		atVoid:        func(_ int, s *lesson.Shot) parquet.Value { return parquet.ByteArrayValue([]byte(s.Void)) },
		atMishit:      func(i int, _ *lesson.Shot) parquet.Value { return parquet.BooleanValue(mishits[i]) },
		atCarryTenths: func(_ int, s *lesson.Shot) parquet.Value { return parquet.Int32Value(tenths(s.Carry)) },
		atSideTenths:  func(_ int, s *lesson.Shot) parquet.Value { return parquet.Int32Value(tenths(s.Side)) },
		atCarry:       func(_ int, s *lesson.Shot) parquet.Value { return parquet.DoubleValue(s.Carry) },
		atSide:        func(_ int, s *lesson.Shot) parquet.Value { return parquet.DoubleValue(s.Side) },
	}
	for at, value := range flat {
		e.column = e.column[:0]
		for i := range l.Shots {
			v := value(i, &l.Shots[i])
			if at != atDay {
				v = v.Level(0, 0, at)
			}
			e.column = append(e.column, v)
		}
		if err := e.write(at); err != nil {
			return err
		}
	}
	return e.further(l)
}

// further writes the maps of the further columns: their names and what a shot
// has there.
func (e *encoder) further(l *lesson.Lesson) error {
	number := func(s lesson.Shot, c lesson.Column) (parquet.Value, bool) {
		v, ok := s.Value(c.Name)
		return parquet.DoubleValue(v), ok
	}
	text := func(s lesson.Shot, c lesson.Column) (parquet.Value, bool) {
		v, ok := s.Text(c.Name)
		return parquet.ByteArrayValue([]byte(v)), ok
	}
	name := func(of func(lesson.Shot, lesson.Column) (parquet.Value, bool)) func(lesson.Shot, lesson.Column) (parquet.Value, bool) {
		return func(s lesson.Shot, c lesson.Column) (parquet.Value, bool) {
			_, ok := of(s, c)
			return parquet.ByteArrayValue([]byte(c.Name)), ok
		}
	}
	for _, m := range []struct {
		at      int
		numeric bool
		value   func(lesson.Shot, lesson.Column) (parquet.Value, bool)
	}{{atNumberName, true, name(number)}, {atNumber, true, number}, {atTextName, false, name(text)}, {atText, false, text}} {
		e.column = e.column[:0]
		for _, s := range l.Shots {
			entries := 0
			for _, c := range l.Columns {
				if c.Numeric != m.numeric {
					continue
				}
				if v, ok := m.value(s, c); ok {
					e.column = append(e.column, v.Level(min(entries, 1), 1, m.at))
					entries++
				}
			}
			if entries == 0 {
				e.column = append(e.column, parquet.NullValue().Level(0, 0, m.at))
			}
		}
		if err := e.write(m.at); err != nil {
			return err
		}
	}
	return nil
}

func (e *encoder) write(at int) error {
	_, err := e.writer.ColumnWriters()[at].WriteRowValues(e.column)
	return err
}

// tenths returns a length in tenths of its unit: the product as float64 has it,
// rounded to the nearest whole number, halves away from zero. A length written
// with one decimal gives exactly that.
func tenths(length float64) int32 { return int32(math.Round(length * 10)) }

// mishitsOf returns which shots of a lesson are mishits.
func mishitsOf(l *lesson.Lesson) []bool {
	lines := map[int]bool{} // by ball
	for _, g := range l.Groups() {
		for i, s := range g.Shots {
			if g.Mishit[i] {
				lines[s.Ball] = true
			}
		}
	}
	is := make([]bool, len(l.Shots))
	for i, s := range l.Shots {
		is[i] = lines[s.Ball] && s.Void == ""
	}
	return is
}

package lesson_test

import (
	"errors"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func TestSetCells(t *testing.T) {
	l := &lesson.Lesson{
		Unit:    lesson.Yards,
		Columns: []lesson.Column{{Name: "spin_rpm", Unit: "rpm", Numeric: true}, {Name: "note"}},
		Shots:   []lesson.Shot{{Ball: 1, Carry: 150}, {Ball: 2, Carry: 151}},
	}
	if err := l.SetCells([][]string{{"5600.5", "into the wind"}, {"", ""}}); err != nil {
		t.Fatal(err)
	}
	if v, ok := l.Shots[0].Value("spin_rpm"); v != 5600.5 || !ok {
		t.Errorf("spin %v %v", v, ok)
	}
	if v, ok := l.Shots[0].Text("note"); v != "into the wind" || !ok {
		t.Errorf("note %q %v", v, ok)
	}
	for _, column := range []string{"spin_rpm", "note", "nothing"} {
		if v, ok := l.Shots[1].Text(column); v != "" || ok {
			t.Errorf("%s of a shot without: %q %v", column, v, ok)
		}
	}
	for name, c := range map[string]struct {
		cells  [][]string
		shot   int
		column string
	}{
		"a row too few":  {[][]string{{"1", "a"}}, 1, ""},
		"a row too many": {[][]string{{"1", "a"}, {"1", "a"}, {"1", "a"}}, 2, ""},
		"a cell too few": {[][]string{{"1", "a"}, {"1"}}, 1, ""},
		"a text":         {[][]string{{"1", "a"}, {"fast", "b"}}, 1, "spin_rpm"},
		"no number":      {[][]string{{"NaN", "a"}, {"1", "b"}}, 0, "spin_rpm"},
	} {
		err := l.SetCells(c.cells)
		var e *lesson.CellError
		if !errors.As(err, &e) || e.Shot != c.shot || e.Column != c.column {
			t.Errorf("%s: %v", name, err)
		}
		if v, _ := l.Shots[0].Value("spin_rpm"); v != 5600.5 {
			t.Errorf("%s: the lesson was changed", name)
		}
	}
}

package lesson

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
)

func readAll(t *testing.T, text string, o ReadOptions, gap time.Duration) []*Lesson {
	t.Helper()
	lessons, err := ReadSessions(strings.NewReader(text), o, gap, nil)
	if err != nil {
		t.Fatal(err)
	}
	return lessons
}

// Two days are told apart before their stages are, whether a column names them
// or the clock does: a stage of the first day is no old swing of the second.
func TestReadSessionsLabelsEachBySelf(t *testing.T) {
	rows := []string{
		"2024-05-01 10:00,a,check,7i,150,1", "2024-05-01 10:01,b,full,7I,151,1",
		"2024-05-02 10:00,d,drill,7i,150,1", "2024-05-02 10:01,a,check,7i,152,1",
	}
	clock := "time,stage,intent,club,carry_yd,side_yd\n" + strings.Join(rows, "\n") + "\n"
	column := "session,time,stage,intent,club,carry_yd,side_yd\n"
	for i, r := range rows {
		column += fmt.Sprintf("2024-05-0%d,%s\n", 1+i/2, r)
	}
	for name, text := range map[string]string{"clock": clock, "column": column} {
		lessons := readAll(t, text, ReadOptions{}, 3*time.Hour)
		if len(lessons) != 2 || lessons[0].Session != "2024-05-01" || lessons[1].Session != "2024-05-02" {
			t.Fatalf("%s: %d lessons", name, len(lessons))
		}
		second := lessons[1].Stages
		if len(second) != 2 || second[1].Name != "a" || second[1].Bookend || lessons[1].Shots[1].Ball != 2 {
			t.Errorf("%s: stages of the second day %+v", name, second)
		}
		if club := lessons[0].Shots[1].Club; club != "7i" {
			t.Errorf("%s: the club is spelled %q", name, club)
		}
	}
}

// Every row is in one lesson, be it too broken to say which.
func TestReadSessionsCountsRowsOnce(t *testing.T) {
	text := "session,carry_yd,side_yd\nx,150,1\nbroken\nx,151,1\ny,152,1\naverage,,\nz,153,1\n"
	rows, rejected := 0, 0
	for _, l := range readAll(t, text, ReadOptions{}, time.Hour) {
		rows, rejected = rows+l.Rows, rejected+len(l.Rejected)
	}
	if rows != 6 || rejected != 2 {
		t.Errorf("%d rows, %d of them rejected, want 6 and 2", rows, rejected)
	}
}

// A row without a time goes with the one before it, and the order of the file
// does not matter to what is a pause.
func TestReadSessionsByTime(t *testing.T) {
	text := "time,carry_yd,side_yd\n,1,0\n2024-05-01 12:00,2,0\n,3,0\n2024-05-01 09:00,4,0\n2024-05-01 10:30,5,0\n,6,0\n2024-05-01 15:00,7,0\n"
	var got []string
	for _, l := range readAll(t, text, ReadOptions{}, 3*time.Hour) {
		carries := ""
		for _, s := range l.Shots {
			carries += fmt.Sprint(s.Carry)
		}
		got = append(got, l.Session+": "+carries)
	}
	if want := "[2024-05-01: 123456 2024-05-01 (2): 7]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %s", got, want)
	}
	for name, c := range map[string]struct {
		text string
		gap  time.Duration
	}{
		"no gap": {text, 0}, "no days": {"time,carry_yd,side_yd\n09:00,1,0\n15:00,2,0\n", time.Hour}, "no times": {lines("1,0", "2,0"), time.Hour},
	} {
		if lessons := readAll(t, c.text, ReadOptions{}, c.gap); len(lessons) != 1 || lessons[0].Session != "" {
			t.Errorf("%s: %d lessons", name, len(lessons))
		}
	}
}

func TestReadSessionsErrors(t *testing.T) {
	if _, err := ReadSessions(nil, ReadOptions{}, time.Hour, nil); err == nil {
		t.Error("no reader is no error")
	}
	if _, err := ReadSessions(strings.NewReader(lines("1,0")), ReadOptions{Stages: "1:a"}, time.Hour, nil); err == nil {
		t.Error("mark-up is no error")
	}
	if _, err := ReadSessions(strings.NewReader(""), ReadOptions{}, time.Hour, nil); !errors.Is(err, ErrEmpty) {
		t.Error(err)
	}
	var choice *ChoiceError
	if _, err := ReadSessions(strings.NewReader("session,carry_yd,side_yd\nx,1,0\ny,1,0\n"), ReadOptions{Session: "q"}, time.Hour, nil); !errors.As(err, &choice) {
		t.Error(err)
	}
	var markup *MarkupError
	if _, err := ReadSessions(strings.NewReader("session,intent,carry_yd,side_yd\nx,full,1,0\ny,fun,1,0\n"), ReadOptions{}, time.Hour, nil); !errors.As(err, &markup) || !strings.Contains(err.Error(), `"y"`) {
		t.Error(err)
	}
}

// Every way to write a time, by hand.
func TestReadTime(t *testing.T) {
	berlin := time.FixedZone("", 2*3600)
	at := time.Date(2024, 5, 1, 8, 15, 0, 0, time.UTC)
	for text, want := range map[string]Moment{
		"2024-05-01T10:15:00+02:00": {at, true, true},
		"2024-05-01T10:15:00+0200":  {at, true, true},
		"2024-05-01 10:15:00 +0200": {at, true, true},
		"2024-05-01 10:15 +0200":    {at, true, true},
		"2024-05-01 08:15:00z":      {at, true, true},
		"2024-05-01 08:15:00 Z":     {at, true, true},
		"2024-05-01t10:15":          {at, true, false},
		"2024-05-01 10:15:00":       {at, true, false},
		"10:15":                     {time.Date(0, 1, 1, 8, 15, 0, 0, time.UTC), false, false},
		"10:15 am":                  {time.Date(0, 1, 1, 8, 15, 0, 0, time.UTC), false, false},
	} {
		if got, ok := ReadTime(text, berlin); !ok || !got.Time.Equal(want.Time) || got.Day != want.Day || got.Zone != want.Zone {
			t.Errorf("%s: %+v %v, want %+v", text, got, ok, want)
		}
	}
	if got, ok := ReadTime("2024-05-01 10:15", nil); !ok || got.Time != time.Date(2024, 5, 1, 10, 15, 0, 0, time.UTC) {
		t.Errorf("in no zone: %+v", got)
	}
	if _, ok := ReadTime("noon", nil); ok {
		t.Error("noon was read")
	}
}

package practice

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the zones of the tests, on a machine without any

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// file writes rows "session time stage intent club carry" below a header.
func file(rows ...string) string {
	out := "session,time,stage,intent,club,carry_yd,side_yd\n"
	for _, r := range rows {
		out += strings.Join(strings.Fields(r), ",") + ",0\n"
	}
	return out
}

// balls repeats a row with carries from 100 up.
func balls(n int, row string) []string {
	rows := make([]string, n)
	for i := range rows {
		rows[i] = fmt.Sprintf("%s %d", row, 100+i)
	}
	return rows
}

func mustSeason(t testing.TB, text string, o SeasonOptions) *Season {
	t.Helper()
	s, err := ReadSeason(strings.NewReader(text), o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// phases writes the stages of a session as "baseline* as she came/7i 10", a star
// marking first balls.
func phases(s Session) string {
	var all []string
	for _, stage := range s.Stages {
		star := ""
		if stage.First {
			star = "*"
		}
		all = append(all, fmt.Sprintf("%s%s %s/%s %d", stage.Phase, star, stage.Group.Stage.Name, stage.Club, len(stage.Shots)))
	}
	return strings.Join(all, "; ")
}

func concat(parts ...[]string) (all []string) {
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

func TestPhases(t *testing.T) {
	lessonDay := func(day string) []string {
		return concat(balls(12, day+" 10:00 old baseline 7i"), balls(3, day+" 10:20 towel drill 7i"), balls(5, day+" 10:30 new full 7i"))
	}
	for _, c := range []struct {
		name string
		rows []string
		want []string // of each session
	}{
		{"a lesson and the next week", concat(lessonDay("2026-05-01"), balls(11, "2026-05-08 09:00 first check 7i"), balls(4, "2026-05-08 09:30 new full 7i")), []string{
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
			"retention* first/7i 10; retention first/7i 1; immediate new/7i 4",
		}},
		{"two sessions on one day", concat(lessonDay("2026-05-01_am"), balls(3, "2026-05-01_pm 17:00 first check 7i")), []string{
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
			"immediate* first/7i 3",
		}},
		{"the next day, but 23 hours later", concat(lessonDay("2026-05-01"), balls(2, "2026-05-02 09:30 first check 7i")), []string{
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
			"immediate* first/7i 2",
		}},
		{"the next day, 24 hours later", concat(lessonDay("2026-05-01"), balls(2, "2026-05-02 10:30 first check 7i")), []string{
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
			"retention* first/7i 2",
		}},
		{"intake twice before any teaching", concat(balls(4, "2026-05-01 10:00 old baseline 7i"), lessonDay("2026-05-03")), []string{
			"baseline* old/7i 4",
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
		}},
		{"another club", concat(lessonDay("2026-05-01"), balls(2, "2026-05-08 09:00 first check 5i"), balls(1, "2026-05-08 09:05 first check 7i")), []string{
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
			"transfer* first/5i 2; retention* first/7i 1",
		}},
		{"sessions without stages", concat(balls(13, "2026-05-01 10:00 all full 7i"), balls(1, "2026-05-08 10:00 all full 7i")), []string{
			"baseline* all/7i 10; practice all/7i 3",
			"retention* all/7i 1",
		}},
		{"a bookend is the old swing", concat(balls(2, "2026-05-01 10:00 old baseline 7i"), balls(2, "2026-05-01 10:10 new full 7i"), balls(2, "2026-05-01 10:20 old baseline 7i")), []string{
			"baseline* old/7i 2; immediate new/7i 2; practice old again/7i 2",
		}},
		{"unsorted", concat(balls(2, "2026-05-08 09:00 first check 7i"), lessonDay("2026-05-01")), []string{
			"baseline* old/7i 10; baseline old/7i 2; practice towel/7i 3; immediate new/7i 5",
			"retention* first/7i 2",
		}},
	} {
		s := mustSeason(t, file(c.rows...), SeasonOptions{})
		if len(s.Sessions) != len(c.want) {
			t.Errorf("%s: %d sessions, want %d", c.name, len(s.Sessions), len(c.want))
			continue
		}
		for i, session := range s.Sessions {
			if got := phases(session); got != c.want[i] {
				t.Errorf("%s, session %d:\n got %s\nwant %s", c.name, i+1, got, c.want[i])
			}
		}
		if unsorted := c.name == "unsorted"; unsorted != hasWarning(s.Warnings, ErrOrder) {
			t.Errorf("%s: warnings %v", c.name, s.Warnings)
		}
	}
}

func hasWarning(warnings []error, kind error) bool {
	for _, w := range warnings {
		if errors.Is(w, kind) {
			return true
		}
	}
	return false
}

// A column called phase has the last word.
func TestPhaseColumn(t *testing.T) {
	text := "session,phase,stage,intent,carry_yd,side_yd\n2026-05-01,baseline,a,full,100,0\n2026-05-01,Immediate,b,check,110,0\n2026-05-02,TRANSFER,c,full,105,0\n"
	s := mustSeason(t, text, SeasonOptions{})
	if got := phases(s.Sessions[0]) + " | " + phases(s.Sessions[1]); got != "baseline* a/ 1; immediate b/ 1 | transfer* c/ 1" {
		t.Error(got)
	}
	_, err := ReadSeason(strings.NewReader(strings.Replace(text, "TRANSFER", "later", 1)), SeasonOptions{})
	var bad *SeasonError
	if !errors.As(err, &bad) || bad.Line != 4 || bad.Session != "2026-05-02" {
		t.Errorf("an unknown phase: %v", err)
	}
}

// The hour comes from the column time, the date from it or from the session's name.
func TestSessionTimes(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		session string
		times   []string
		in      *time.Location
		start   string // in UTC
		end     string
		clock   bool
	}{
		{"2026-05-01", []string{"10:00:30", "10:30"}, nil, "2026-05-01T10:00:30Z", "2026-05-01T10:30:00Z", true},
		{"2026-05-01 evening", []string{"23:40:00", "00:10:00"}, nil, "2026-05-01T23:40:00Z", "2026-05-02T00:10:00Z", true},
		{"2026-05-01", []string{"", ""}, nil, "2026-05-01T00:00:00Z", "2026-05-01T00:00:00Z", false},
		{"third", []string{"2026-05-01T10:00:00+02:00", "2026-05-01T10:20:00+02:00"}, nil, "2026-05-01T08:00:00Z", "2026-05-01T08:20:00Z", true},
		{"third", []string{"2026-05-01 10:00:00", "2026-05-01 09:50:00"}, berlin, "2026-05-01T07:50:00Z", "2026-05-01T08:00:00Z", true},
		{"2026-03-29", []string{"1:30:00 AM", "3:30:00 AM"}, berlin, "2026-03-29T00:30:00Z", "2026-03-29T01:30:00Z", true}, // clocks change at two
	} {
		text := "session,time,carry_yd,side_yd\n"
		for _, at := range c.times {
			text += c.session + "," + at + ",100,0\n"
		}
		s := mustSeason(t, text, SeasonOptions{Location: c.in}).Sessions[0]
		if got := s.Start.UTC().Format(time.RFC3339); got != c.start || s.Clock != c.clock {
			t.Errorf("%s %v: starts %s, clock %v", c.session, c.times, got, s.Clock)
		}
		if got := s.End.UTC().Format(time.RFC3339); got != c.end {
			t.Errorf("%s %v: ends %s", c.session, c.times, got)
		}
	}
}

// Dates alone a day apart are taken for 24 hours, and said to be; times with and
// without a zone are said to be mixed.
func TestDoubtfulTimes(t *testing.T) {
	s := mustSeason(t, "session,stage,carry_yd,side_yd\n2026-05-01,a,100,0\n2026-05-01,b,100,0\n2026-05-02,a,100,0\n2026-05-04,a,1,0\n", SeasonOptions{})
	if !hasWarning(s.Warnings, ErrClock) || len(s.Warnings) != 1 || s.Sessions[1].Stages[0].Phase != Retention {
		t.Errorf("dates alone: %v, %s", s.Warnings, phases(s.Sessions[1]))
	}
	s = mustSeason(t, "session,time,carry_yd,side_yd\na,2026-05-01T10:00:00Z,100,0\nb,2026-05-03T10:00:00,100,0\n", SeasonOptions{})
	if !hasWarning(s.Warnings, ErrZone) {
		t.Errorf("zones: %v", s.Warnings)
	}
	// By the wall clocks 25 hours, by the sun 23: too soon.
	s = mustSeason(t, "session,time,stage,carry_yd,side_yd\na,2026-05-01T10:00:00-01:00,x,100,0\na,2026-05-01T10:01:00-01:00,y,100,0\nb,2026-05-02T11:00:00+01:00,x,100,0\n", SeasonOptions{})
	if s.Sessions[1].Stages[0].Phase != Immediate {
		t.Errorf("across zones: %s", phases(s.Sessions[1]))
	}
}

// A file without sessions comes apart at pauses of three hours, however its rows
// are sorted; a rejected row stays with its neighbours.
func TestSplitByTime(t *testing.T) {
	text := `time,stage,carry_yd,side_yd
2026-05-08T09:00:00,all,90,0
2026-05-01T10:00:00,all,100,0
2026-05-01T10:30:00,all,,0
,all,102,0
2026-05-01T13:29:59,all,103,0
2026-05-01T23:50:00,late,110,0
2026-05-02T00:10:00,late,111,0
`
	s := mustSeason(t, text, SeasonOptions{})
	var got []string
	for _, session := range s.Sessions {
		l := session.Lesson
		got = append(got, fmt.Sprintf("%s %d/%d/%d", session.Name, len(l.Shots), len(l.Rejected), len(l.Stages)))
		if l.Rows != len(l.Shots)+len(l.Rejected) {
			t.Errorf("%s: %d rows", session.Name, l.Rows)
		}
	}
	if strings.Join(got, "; ") != "2026-05-01 2/1/1; 2026-05-01 (2) 1/0/1; 2026-05-01 (3) 2/0/1; 2026-05-08 1/0/1" {
		// The ball without a time goes with 10:00; 13:29:59 is more than three hours after
		// that, since the row at 10:30 was not read; midnight splits nothing.
		t.Error(got)
	}
}

func TestSeasonOfManyFiles(t *testing.T) {
	read := func(text string) *lesson.Lesson {
		l, err := lesson.Read(strings.NewReader(text), lesson.ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	one := read("pupil,session,carry_yd,side_yd\nNila,2026-05-01,100,0\n")
	two := read("pupil,session,carry_yd,side_yd\nNila,2026-05-08,100,0\n")
	none := read("pupil,session,carry_yd,side_yd\nNila,2026-05-15,no read,0\n")
	s, err := NewSeason([]*lesson.Lesson{two, none, one}, SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Sessions) != 2 || s.Sessions[0].Name != "2026-05-01" || s.Pupil != "Nila" || s.Unit != lesson.Yards ||
		!hasWarning(s.Warnings, ErrSession) || !hasWarning(s.Warnings, ErrOrder) {
		t.Errorf("%+v", s)
	}
	mirrored, err := lesson.Read(strings.NewReader("pupil,session,carry_yd,side_yd\nNila,2026-05-08,100,3\n"), lesson.ReadOptions{Mirror: true})
	if err != nil {
		t.Fatal(err)
	}
	var wrong *SeasonError
	for name, lessons := range map[string][]*lesson.Lesson{
		"mirrored":   {one, mirrored},
		"two pupils": {one, read("pupil,session,carry_yd,side_yd\nOdo,2026-05-08,100,0\n")},
		"two units":  {one, read("pupil,session,carry_m,side_m\nNila,2026-05-08,100,0\n")},
		"no date":    {read("pupil,session,carry_yd,side_yd\nNila,third,100,0\n")},
		"no hour":    {read("pupil,session,time,carry_yd,side_yd\nNila,third,10:00,100,0\n")},
	} {
		if _, err := NewSeason(lessons, SeasonOptions{}); !errors.As(err, &wrong) || wrong.Reason == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, lessons := range map[string][]*lesson.Lesson{"none": nil, "nil": {one, nil}, "no shots": {none}} {
		if _, err := NewSeason(lessons, SeasonOptions{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := ReadSeason(nil, SeasonOptions{}); !errors.Is(err, ErrMissing) {
		t.Errorf("nil reader: %v", err)
	}
	var choice *lesson.ChoiceError
	if _, err := ReadSeason(strings.NewReader("pupil,session,carry,side\nA,1,1,1\nB,2,1,1\n"), SeasonOptions{}); !errors.As(err, &choice) {
		t.Errorf("two pupils in a file: %v", err)
	}
	if _, err := ReadSeason(strings.NewReader(""), SeasonOptions{}); !errors.Is(err, lesson.ErrEmpty) {
		t.Errorf("empty file: %v", err)
	}
}

// Times are read in every way that a lesson reads them, and a file is the same
// season with a column of sessions and without.
func TestReadSeasonTimes(t *testing.T) {
	rows := []string{
		"2024-05-01 10:00:00 +0200,a,check,7i,150,1", "2024-05-01T10:01:00+0200,b,full,7i,151,1",
		"2024-05-02 09:00 +0200,d,drill,7i,150,1", "2024-05-02 07:01:00Z,a,check,7i,152,1",
	}
	clock := "time,stage,intent,club,carry_yd,side_yd\n" + strings.Join(rows, "\n") + "\n"
	column := "session,time,stage,intent,club,carry_yd,side_yd\n"
	for i, r := range rows {
		column += []string{"2024-05-01 am,", "2024-05-02 pm,"}[i/2] + r + "\n"
	}
	byClock, err := ReadSeason(strings.NewReader(clock), SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	byColumn, err := ReadSeason(strings.NewReader(column), SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(byClock.Sessions) != 2 || len(byColumn.Sessions) != 2 {
		t.Fatalf("%d and %d sessions", len(byClock.Sessions), len(byColumn.Sessions))
	}
	for i, s := range byClock.Sessions {
		o := byColumn.Sessions[i]
		if !s.Clock || !o.Clock || !s.Start.Equal(o.Start) || len(s.Stages) != len(o.Stages) {
			t.Fatalf("session %d: %+v and %+v", i, s, o)
		}
		for k, stage := range s.Stages {
			if other := o.Stages[k]; stage.Stage.Name != other.Stage.Name || stage.Phase != other.Phase {
				t.Errorf("session %d: %q in %v and %q in %v", i, stage.Stage.Name, stage.Phase, other.Stage.Name, other.Phase)
			}
		}
	}
	if start := byClock.Sessions[1].Start; !start.Equal(time.Date(2024, 5, 2, 7, 0, 0, 0, time.UTC)) {
		t.Errorf("the second begins at %v", start)
	}
}

// Sessions are told apart by their names, in a model and in a question: two that
// come with one name, or with none on one day, get two.
func TestSessionsOfOneNameAreToldApart(t *testing.T) {
	var lessons []*lesson.Lesson
	for _, at := range []string{",2026-05-20T09:00:00", ",2026-05-20T15:00:00", "range,2026-05-22T09:00:00", "range,2026-05-24T09:00:00", "range (2),2026-05-25T09:00:00"} {
		text := "session,time,carry_yd,side_yd\n" + at + ",100,0\n"
		if strings.HasPrefix(at, ",") {
			text = "time,carry_yd,side_yd\n" + at[1:] + ",100,0\n"
		}
		l, err := lesson.Read(strings.NewReader(text), lesson.ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		lessons = append(lessons, l)
	}
	s, err := NewSeason(lessons, SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	names, levels := []string{}, map[string]bool{}
	for _, session := range s.Sessions {
		names = append(names, session.Name)
	}
	for _, m := range s.Measured("", "carry") {
		levels[m.Session] = true
	}
	if got, want := fmt.Sprintf("%q", names), `["2026-05-20" "2026-05-20 (2)" "range" "range (2)" "range (2) (2)"]`; got != want || len(levels) != 5 {
		t.Errorf("%s, want %s; %d levels", got, want, len(levels))
	}
}

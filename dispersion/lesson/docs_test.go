package lesson

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// The page that coaches read must hold what Read does.
func TestDataFormatPage(t *testing.T) {
	page, err := os.ReadFile("../../docs/data-format.md")
	if err != nil {
		t.Fatal(err)
	}
	text := string(page)

	blocks := regexp.MustCompile("(?s)```csv\n(.*?)```").FindAllStringSubmatch(text, -1)
	if len(blocks) != 3 {
		t.Fatalf("%d examples of files, want a lesson, one in other words and a stages file", len(blocks))
	}
	l := mustRead(t, blocks[0][1], ReadOptions{})
	if len(l.Shots) != 4 || len(l.Stages) != 2 || len(l.Warnings) != 0 {
		t.Errorf("the lesson: %d shots, stages %v, warnings %v", len(l.Shots), l.Stages, l.Warnings)
	}
	mapping := regexp.MustCompile("(?s)```json\n(.*?)```").FindStringSubmatch(text)
	if mapping == nil {
		t.Fatal("no example of a mapping")
	}
	l = mustRead(t, blocks[1][1], ReadOptions{Columns: mustMap(t, mapping[1])})
	clock, _ := l.Shots[0].Text("time")
	spin, measured := l.Shots[0].Value("spin_rpm")
	if len(l.Shots) != 2 || l.Unit != Metres || l.Shots[0].Club != "Eisen 7" || points(l) != "3:130.2/3.5 4:131.2/-4.5" || clock != "2024-05-13T10:15:00" || spin != 6500 || !measured {
		t.Errorf("the file in other words: %s %s, %q, time %s, spin %v", points(l), l.Unit, l.Shots[0].Club, clock, spin)
	}
	p, err := Propose(strings.NewReader(blocks[1][1]))
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range mustMap(t, mapping[1]).Fields {
		if got := p.Mapping.Fields[i]; got.Name != f.Name || got.Measure != f.Measure || got.Format != f.Format || got.GroupChar != f.GroupChar || got.Doubt != "" {
			t.Errorf("the proposal for %s is %+v", f.Name, got)
		}
	}
	const marked = "old swing/baseline: 1 2 | towel drill/drill: 3 | new swing/full: 4 | old swing again/baseline/bookend: 5"
	keepSome := func(l *Lesson) *Lesson { // one or two balls a stage are enough to look at
		short := &Lesson{Stages: l.Stages}
		for i, ball := range []int{1, 8, 9, 17, 27} {
			s := l.Shots[ball-1]
			s.Ball = i + 1
			short.Shots = append(short.Shots, s)
		}
		return short
	}
	l = mustRead(t, rowsOf(34), ReadOptions{StagesFile: strings.NewReader(blocks[2][1])})
	if got := outline(keepSome(l)); got != marked || l.Shots[18].Void != "a door slammed" {
		t.Errorf("the stages file: got %s, ball 19 void for %q", got, l.Shots[18].Void)
	}
	spec := regexp.MustCompile(`-stages "(.*?)"`).FindStringSubmatch(text)
	if spec == nil {
		t.Fatal("no example of -stages")
	}
	if got := outline(keepSome(mustRead(t, rowsOf(34), ReadOptions{Stages: spec[1]}))); got != marked {
		t.Errorf("the spec: got %s", got)
	}
}

// Every column has its place on the page, in the order it is told everywhere,
// and is known to the reader of headers.
func TestDataFormatPageColumns(t *testing.T) {
	page, err := os.ReadFile("../../docs/data-format.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(page), "## Columns")
	if !ok {
		t.Fatal("no section on columns")
	}
	for name := range strings.FieldsSeq(`pupil session time place surface ball stage intent club target_carry target_side expect feel note
		club_speed path_deg face_deg approach_deg loft_deg strike_across_mm strike_up_mm ball_speed
		start_line_deg launch_deg spin_rpm spin_tilt_deg apex descent_deg flight_s carry side total`) {
		if _, rest, ok = strings.Cut(rest, "`"+name+"`"); !ok {
			t.Fatalf("%s is missing from the page, or out of order", name)
		}
		if !knownColumn(name) {
			t.Errorf("%s is unknown to the reader of headers", name)
		}
	}
}

package practice

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
)

var demoKey = []byte("0123456789abcdef")

// Source: hmac, hashlib and base64 of Python 3.11.7.
func TestPseudonymAgainstPython(t *testing.T) {
	for role, want := range map[string]string{"pupil": "6f4boxy6wpczcl3q", "teacher": "s2p77ty5vz5rhlrn"} {
		got, err := Pseudonym(demoKey, role, " Ada Example ")
		if err != nil || got != want {
			t.Errorf("%s: %s, want %s (%v)", role, got, want, err)
		}
	}
	if _, err := Pseudonym(demoKey[:15], "pupil", "x"); !errors.Is(err, ErrKey) {
		t.Error(err)
	}
}

// Of each four pupils of a teacher one has each combination; the list follows from
// the seed.
func TestAssignIsBalanced(t *testing.T) {
	p, _, _ := demo(t, 1)
	var enrolled []Enrolment
	for i := range 40 {
		enrolled = append(enrolled, Enrolment{string(rune('a' + i)), string(rune('A' + i%5))})
	}
	first, err := p.Assign(enrolled)
	if err != nil {
		t.Fatal(err)
	}
	again, err := p.Assign(enrolled)
	if err != nil || !reflect.DeepEqual(first, again) {
		t.Error("not repeated")
	}
	count := map[string]map[string]int{}
	for _, a := range first {
		if a.Drills[0] == a.Drills[1] || !slices.Contains(p.Drills[:], a.Drills[0]) {
			t.Errorf("%+v", a)
		}
		if count[a.Teacher] == nil {
			count[a.Teacher] = map[string]int{}
		}
		count[a.Teacher][a.Drills[0]+a.Schedule]++
	}
	for teacher, c := range count {
		if len(c) != 4 {
			t.Errorf("%s: %v", teacher, c)
		}
		for kind, n := range c {
			if n != 2 {
				t.Errorf("%s: %d of %s", teacher, n, kind)
			}
		}
	}
	p.Seed++
	other, err := p.Assign(enrolled)
	if err != nil || reflect.DeepEqual(first, other) {
		t.Error("another seed, the same list")
	}
	var row *RowError
	for _, bad := range [][]Enrolment{{{"a", ""}}, {{"", "A"}}, {{"b", "A"}, {"b", "B"}}} {
		if _, err := p.Assign(bad); !errors.As(err, &row) || row.Row != len(bad) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

// What goes into a pooled file comes out again, without a name, and the analysis
// of the file is that of the trials.
func TestPoolThereAndBack(t *testing.T) {
	p, trials, _ := demo(t, 1)
	var file bytes.Buffer
	if err := WritePool(&file, p, demoKey, trials); err != nil {
		t.Fatal(err)
	}
	text := file.String()
	for _, name := range []string{"pupil 0", "teacher 0", "invented"} {
		if strings.Contains(text, name) {
			t.Errorf("the file has %q in it", name)
		}
	}
	if rows := strings.Count(text, "\n"); rows != 1+96*20 {
		t.Errorf("%d rows", rows)
	}
	back, err := ReadPool(strings.NewReader(text), p)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSortedFunc(back, func(a, b Trial) int { return strings.Compare(a.Pupil, b.Pupil) }) {
		t.Error("not in the order of the pseudonyms")
	}
	for _, x := range trials {
		name, _ := Pseudonym(demoKey, "pupil", x.Pupil)
		k := slices.IndexFunc(back, func(b Trial) bool { return b.Pupil == name && b.Period == x.Period })
		if k < 0 || !slices.Equal(back[k].Before, x.Before) || !slices.Equal(back[k].After, x.After) || back[k].Drill != x.Drill || back[k].Schedule != x.Schedule {
			t.Fatalf("%s, period %d", x.Pupil, x.Period)
		}
	}
	want, err := Crossover(p, trials, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := AnalysePool(strings.NewReader(text), p, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	agrees(t, "drill", got.Drill.Estimate, want.Drill.Estimate, 1e-9)
	agrees(t, "low", got.Drill.Interval.Low, want.Drill.Interval.Low, 1e-6)
}

func TestPoolErrors(t *testing.T) {
	p, trials, _ := demo(t, 1)
	header, whose := strings.Join(p.poolHeader(), ",")+"\n", "aaaaaaaaaaaaaaaa,bbbbbbbbbbbbbbbb,"
	var row *RowError
	for name, c := range map[string]struct {
		text, column string
		row          int
	}{
		"empty":       {"", "", 1},
		"header":      {"pupil,teacher\n", "", 1},
		"name":        {header + "Bob,bbbbbbbbbbbbbbbb,1,slow swings,random,before,1,150,2\n", "pupil", 2},
		"markup":      {header + "aaaaaaaaaaaaaaaa,<b>|</b>,1,slow swings,random,before,1,150,2\n", "teacher", 2},
		"fields":      {header + whose + "1\n", "", 2},
		"quote":       {header + "\"a,b,1\n", "", 2},
		"period":      {header + whose + "x,slow swings,random,before,1,150,2\n", "period", 2},
		"third":       {header + whose + "3,slow swings,random,before,1,150,2\n", "period", 2},
		"drill":       {header + whose + "1,hit it hard,random,before,1,150,2\n", "drill", 2},
		"schedule":    {header + whose + "1,slow swings,any,before,1,150,2\n", "schedule", 2},
		"test":        {header + whose + "1,slow swings,random,during,1,150,2\n", "test", 2},
		"ball":        {header + whose + "1,slow swings,random,before,one,150,2\n", "ball", 2},
		"ball twice":  {header + whose + "1,slow swings,random,before,1,150,2\n" + whose + "1,slow swings,random,before,1,150,2\n", "ball", 3},
		"carry":       {header + whose + "1,slow swings,random,before,1,-150,2\n", "carry_yd", 2},
		"NaN carry":   {header + whose + "1,slow swings,random,before,1,NaN,2\n", "carry_yd", 2},
		"large side":  {header + whose + "1,slow swings,random,before,1,150,1e9\n", "side_yd", 2},
		"worded side": {header + whose + "1,slow swings,random,before,1,150,2L\n", "side_yd", 2},
	} {
		if _, err := AnalysePool(strings.NewReader(c.text), p, FitOptions{}); !errors.As(err, &row) || row.Row != c.row || row.Column != c.column {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := WritePool(&bytes.Buffer{}, p, demoKey[:3], trials); !errors.Is(err, ErrKey) {
		t.Error(err)
	}
	free := slices.Clone(trials)
	free[0].Drill = "hit it like Bob"
	if err := WritePool(&bytes.Buffer{}, p, demoKey, free); !errors.As(err, &row) || row.Column != "drill" {
		t.Errorf("free text: %v", err)
	}
}

// Source: the Data Package standard, version 2.0: a Table Schema has fields with a
// name and a type each; the required ones of the header, in its order.
func TestPoolSchema(t *testing.T) {
	p, _, _ := demo(t, 1)
	text, err := p.PoolSchema()
	if err != nil {
		t.Fatal(err)
	}
	var schema struct {
		Schema string `json:"$schema"`
		Fields []struct{ Name, Type string }
	}
	if err := json.Unmarshal(text, &schema); err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range schema.Fields {
		names = append(names, f.Name)
		if !slices.Contains([]string{"string", "integer", "number"}, f.Type) {
			t.Errorf("%s has the type %s", f.Name, f.Type)
		}
	}
	if !slices.Equal(names, p.poolHeader()) || schema.Schema != "https://datapackage.org/profiles/2.0/tableschema.json" {
		t.Errorf("%v, %s", names, schema.Schema)
	}
}

func TestStudyTexts(t *testing.T) {
	p, _, _ := demo(t, 1)
	protocol, err := p.Protocol()
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := p.Preregistration()
	if err != nil {
		t.Fatal(err)
	}
	for text, wants := range map[string][]string{
		protocol: {"Each of 48 pupils", "first 10 balls", "120 balls in all within 14 days", "carry_yd, side_yd"},
		sheet:    {"| smallest difference worth having | 3 yd more |", "about 1.9 yd to either side", "seed 1"},
	} {
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
		for _, never := range []string{"significant", "proven", "no change"} {
			if strings.Contains(text, never) {
				t.Errorf("%q in\n%s", never, text)
			}
		}
	}
	p.Measure, p.DaySD, p.Smallest = MeasureRadius, .05, .1
	if sheet, err = p.Preregistration(); err != nil || !strings.Contains(sheet, "a radius 10 % smaller") {
		t.Errorf("%v\n%s", err, sheet)
	}
}

// Every fault of a plan is told.
func TestPlanErrors(t *testing.T) {
	good, _, _ := demo(t, 1)
	for name, f := range map[string]func(p *StudyPlan){
		"title":     func(p *StudyPlan) { p.Title = "" },
		"measure":   func(p *StudyPlan) { p.Measure = "luck" },
		"unit":      func(p *StudyPlan) { p.Unit = "" },
		"drills":    func(p *StudyPlan) { p.Drills[1] = p.Drills[0] },
		"pupils":    func(p *StudyPlan) { p.Pupils = 5 },
		"four":      func(p *StudyPlan) { p.TestBalls = 3 },
		"balls":     func(p *StudyPlan) { p.PracticeBalls = 0 },
		"day later": func(p *StudyPlan) { p.PracticeDays = 0 },
		"between":   func(p *StudyPlan) { p.WashoutDays = 0 },
		"differ":    func(p *StudyPlan) { p.ShotSD = 0 },
		"smallest":  func(p *StudyPlan) { p.Smallest = 0 },
	} {
		p := good
		f(&p)
		_, err := p.Protocol()
		if !errors.Is(err, ErrStudy) || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := p.HalfWidth(0); !errors.Is(err, ErrStudy) {
			t.Errorf("%s: %v", name, err)
		}
	}
	p := StudyPlan{}
	var file bytes.Buffer
	_, e1 := p.Preregistration()
	_, e2 := p.PoolSchema()
	_, e3 := ReadPool(&file, p)
	_, e4 := p.Assign(nil)
	for i, err := range []error{e1, e2, e3, e4, WritePool(&file, p, demoKey, nil)} {
		if !errors.Is(err, ErrStudy) {
			t.Errorf("%d: %v", i, err)
		}
	}
}

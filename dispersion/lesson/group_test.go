package lesson

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/dispersion"
)

// carries makes a lesson of one club from "stage/intent: carry carry …" parts.
func carries(t testing.TB, stages ...string) *Lesson {
	var b strings.Builder
	b.WriteString("stage,intent,club,carry_yd,side_yd\n")
	for _, s := range stages {
		name, list, _ := strings.Cut(s, ":")
		name, intent, _ := strings.Cut(name, "/")
		for c := range strings.FieldsSeq(list) {
			fmt.Fprintf(&b, "%s,%s,7i,%s,1\n", name, intent, c)
		}
	}
	return mustRead(t, b.String(), ReadOptions{})
}

func marked(groups []Group) string {
	var out []string
	for _, g := range groups {
		part := g.Stage.Name + ":"
		for i, s := range g.Shots {
			if g.Mishit[i] {
				part += fmt.Sprintf(" %g", s.Carry)
			}
		}
		out = append(out, part)
	}
	return strings.Join(out, " | ")
}

// By hand. The limit is the larger of 3.5 · 1.4826 · s₀ = 5.1891 · s₀, with s₀
// the pooled median distance from the groups' own medians, and 8 % of the
// median.
func TestMishits(t *testing.T) {
	tests := []struct {
		name   string
		stages []string
		want   string
	}{
		// Median 150, distances 0 0 0 0 12: s₀ = 0, limit 8 % = 12. Short by 12 is not more than 12.
		{"8 % exactly", []string{"a: 150 150 150 150 138"}, "a:"},
		{"8 % and a little", []string{"a: 150 150 150 150 137.9"}, "a: 137.9"},
		// Median 150, distances 4 2 0 2 30: sorted 0 2 2 4 30, s₀ = 2, 5.1891 · 2 = 10.4 < 12.
		{"8 % is the larger", []string{"a: 154 152 150 148 120"}, "a: 120"},
		// Medians 150: distances 8 4 0 4 20.7, sorted 0 4 4 8 20.7, s₀ = 4, limit 20.7564 > 12.
		{"σ is the larger, within", []string{"a: 158 154 150 146 129.3"}, "a:"},
		{"σ is the larger, beyond", []string{"a: 158 154 150 146 129.2"}, "a: 129.2"},
		{"one-sided", []string{"a: 150 150 150 150 300"}, "a:"},
		// b alone: distances 0 0 0 and 13, s₀ = 0, limit 12, so 137 is a mishit. Pooled
		// with a, distances 10 5 0 5 10 0 0 0 13: sorted 0 0 0 0 5 5 10 10 13, s₀ = 5,
		// limit 25.9: it is none.
		{"alone", []string{"b: 150 150 150 137"}, "b: 137"},
		{"pooled with a like stage", []string{"a: 160 155 150 145 140", "b: 150 150 150 137"}, "a: | b:"},
		{"not pooled with a drill", []string{"a/drill: 160 155 150 145 140", "b: 150 150 150 137"}, "a: | b: 137"},
		// The own median of each group: 100 is no mishit in a stage of short shots.
		{"own median", []string{"a: 150 150 150", "b: 100 100 91"}, "a: | b: 91"},
		{"one shot", []string{"a: 150"}, "a:"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := marked(carries(t, tt.stages...).Groups()); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestGroups(t *testing.T) {
	l := mustRead(t, strings.Join([]string{
		"stage,club,carry_yd,side_yd,spin_rpm",
		"a,7i,150,1,6000", "a,PW,110,2,", "b,PW,111,3,8000", "b,7i,100,4,6500", "a,pw,112,5,8100", "b,7i,152,6,6100", "b,7i,153,7,",
	}, "\n"), ReadOptions{})
	var got []string
	for _, g := range l.Groups() {
		s := g.Stage.Name + " " + g.Club + ":"
		for _, shot := range g.Shots {
			s += fmt.Sprint(" ", shot.Ball)
		}
		got = append(got, s)
	}
	if want := []string{"a 7i: 1", "a PW: 2 5", "b 7i: 4 6 7", "b PW: 3"}; !slices.Equal(got, want) {
		t.Fatalf("got %q, want %q", got, want)
	}
	g := l.Groups()[2]
	all, err := g.All()
	if err != nil {
		t.Fatal(err)
	}
	clean, err := g.Clean()
	if err != nil {
		t.Fatal(err)
	}
	if g.Mishits() != 1 || all.N() != 3 || clean.N() != 2 {
		t.Errorf("%d mishits, %d shots, %d clean; want 1, 3, 2", g.Mishits(), all.N(), clean.N())
	}
	if got := clean.Points()[0]; got != (dispersion.Point{X: 6, Y: 152}) {
		t.Errorf("first clean point %v, want side 6 and carry 152", got)
	}
	for column, want := range map[string][]float64{"carry": {152, 153}, "side": {6, 7}, "spin_rpm": {6100}, "no such": nil} {
		if got := g.Values(column); !slices.Equal(got, want) {
			t.Errorf("values of %s: %v, want %v", column, got, want)
		}
	}
}

// What Read would never make must still not panic.
func TestGroupsMadeByHand(t *testing.T) {
	var few *dispersion.TooFewError
	if _, err := (Group{}).All(); !errors.As(err, &few) {
		t.Errorf("an empty group: %v, want a TooFewError", err)
	}
	g := Group{Shots: []Shot{{Carry: 150}}}
	if clean, err := g.Clean(); err != nil || clean.N() != 1 || g.Mishits() != 0 {
		t.Errorf("a group without marks: %v", err)
	}
	l := &Lesson{Shots: []Shot{{Stage: "a", Carry: math.NaN()}, {Stage: "b", Intent: Drill, Carry: 1}}}
	groups := l.Groups()
	if len(groups) != 2 || groups[1].Stage != (Stage{Name: "b", Intent: Drill}) || groups[0].Mishits() != 0 {
		t.Errorf("got %+v", groups)
	}
	var bad *dispersion.PointError
	if _, err := groups[0].All(); !errors.As(err, &bad) {
		t.Errorf("a NaN: %v, want a PointError", err)
	}
	if (&Lesson{}).Groups() != nil || (&Lesson{}).Pairs() != nil {
		t.Error("an empty lesson has groups or pairs")
	}
}

// A ball's own number as its stage and club makes as many groups as balls, in
// their order. Looking up all pairs of stage and club, 400 million, takes far
// longer than the time allowed, which is a hundred times what sorting needs.
func TestGroupsOfManyStagesAndClubs(t *testing.T) {
	const n = 20_000
	l := &Lesson{Unit: Yards}
	for i := range n {
		l.Shots = append(l.Shots, Shot{Stage: fmt.Sprint("s", i), Club: fmt.Sprint("c", n-i), Carry: 100})
	}
	done := make(chan []Group, 1)
	go func() { done <- l.Groups() }()
	select {
	case groups := <-done:
		if len(groups) != n || groups[1].Club != l.Shots[1].Club || groups[n-1].Stage.Name != l.Shots[n-1].Stage {
			t.Errorf("%d groups", len(groups))
		}
	case <-time.After(5 * time.Second):
		t.Error("the groups take longer than 5 s")
	}
}

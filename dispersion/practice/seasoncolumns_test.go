package practice

import (
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A season in other words reads as one in ours, with the mapping that was proposed.
func TestReadSeasonWithAMapping(t *testing.T) {
	const theirs = "Tag;Zeit;Schläger;Flugweite;Abweichung\n;;;(m);(m)\n" +
		"2024-05-13;10:00:00;Eisen 7;130,2;3,5 R\n2024-05-13;10:00:40;Eisen 7;131,0;1,0 L\n" +
		"2024-05-20;10:00:00;Eisen 7;134,5;2,0 R\n2024-05-20;10:00:40;Eisen 7;133,0;0,5 L\n"
	const ours = "session,time,club,carry_m,side_m\n" +
		"2024-05-13,10:00:00,Eisen 7,130.2,3.5\n2024-05-13,10:00:40,Eisen 7,131.0,-1.0\n" +
		"2024-05-20,10:00:00,Eisen 7,134.5,2.0\n2024-05-20,10:00:40,Eisen 7,133.0,-0.5\n"
	p, err := lesson.Propose(strings.NewReader(theirs))
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range p.Mapping.Fields {
		if f.Name == "Tag" {
			p.Mapping.Fields[i].Measure, p.Mapping.Fields[i].Type, p.Mapping.Fields[i].Doubt = "session", "", ""
		}
	}
	got, err := ReadSeason(strings.NewReader(theirs), SeasonOptions{Columns: p.Mapping})
	if err != nil {
		t.Fatal(err)
	}
	want, err := ReadSeason(strings.NewReader(ours), SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if got.Unit != want.Unit || len(got.Sessions) != len(want.Sessions) {
		t.Fatalf("%s, %d sessions; want %s, %d", got.Unit, len(got.Sessions), want.Unit, len(want.Sessions))
	}
	for i, s := range got.Sessions {
		if w := want.Sessions[i]; s.Name != w.Name || !s.Start.Equal(w.Start) || len(s.Lesson.Shots) != len(w.Lesson.Shots) {
			t.Errorf("session %d: %s at %v, want %s at %v", i, s.Name, s.Start, w.Name, w.Start)
		}
		for k, shot := range s.Lesson.Shots {
			if shot.Point() != want.Sessions[i].Lesson.Shots[k].Point() {
				t.Errorf("session %d, ball %d: %v", i, k, shot.Point())
			}
		}
	}
}

package archive_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Six pupils, all of them right of the line: whoever of them is mirrored is not
// pooled with the others, and a mirrored pool says that it is one.
func TestMirroredIsNotMixed(t *testing.T) {
	file := func(pupil int) string {
		return fmt.Sprintf("pupil,session,club,carry_yd,side_yd\np%d,2024-01-01,7i,150,%d\np%d,2024-01-01,7i,151,%d\n", pupil, 10+pupil, pupil, 11+pupil)
	}
	for mirrored := range 7 {
		a, _ := filled(t, 0, 0, 0)
		for p := range 6 {
			add(t, a, read(t, file(p), lesson.ReadOptions{Mirror: p < mirrored}))
		}
		for s, err := range a.Summaries(background, archive.Query{}) {
			if err != nil {
				t.Fatal(err)
			}
			if s.Mirrored != (s.Pupil < fmt.Sprintf("p%d", mirrored)) {
				t.Errorf("%d are mirrored: %s is said to be %v", mirrored, s.Pupil, s.Mirrored)
			}
		}
		p, err := a.Pool(background, archive.Query{}, archive.MeanSide, compare.Options{})
		switch {
		case mirrored > 0 && mirrored < 6:
			if !errors.Is(err, archive.ErrMixed) {
				t.Errorf("%d of 6 are mirrored: %+v %v", mirrored, p, err)
			}
		case err != nil:
			t.Error(err)
		default:
			if said := errors.Is(errors.Join(p.Warnings...), lesson.ErrMirrored); said != (mirrored == 6) || p.Mirrored != said || (p.Estimate < 0) != said {
				t.Errorf("%d of 6 are mirrored: %+v", mirrored, p)
			}
		}
	}
}

// One pupil with plain and mirrored sessions has a total of each, and one of a
// club however it is spelled.
func TestTotalsOfOneClub(t *testing.T) {
	a, _ := filled(t, 0, 0, 0)
	for day, club := range []string{"7i", "7I", "7i"} {
		text := fmt.Sprintf("pupil,session,club,carry_yd,side_yd\nAnn,2024-01-0%d,%s,150,1\nAnn,2024-01-0%d,%s,151,2\n", day+1, club, day+1, club)
		add(t, a, read(t, text, lesson.ReadOptions{Mirror: day == 2}))
	}
	totals, err := collect(a.Totals(background, archive.Query{Club: "7I"}))
	if err != nil || len(totals) != 2 || totals[0].Club != "7i" || totals[0].Groups != 2 || totals[0].Mirrored || !totals[1].Mirrored {
		t.Errorf("%+v %v", totals, err)
	}
	for p := range 6 {
		club := []string{"7i", "7I"}[p%2]
		add(t, a, read(t, fmt.Sprintf("pupil,session,club,carry_yd,side_yd\nq%d,2024-01-01,%s,%d,1\n", p, club, 150+p), lesson.ReadOptions{}))
	}
	p, err := a.Pool(background, archive.Query{Club: "7i", From: "2024-01-01", To: "2024-01-02", Unit: lesson.Yards}, archive.MeanCarry, compare.Options{})
	if err != nil || p.Pupils != 7 {
		t.Errorf("%+v %v", p, err)
	}
}

// Sums that leave 64 bits are said to do so, within a session and in a total,
// and no total comes of them. 92,233 shots of a million yards are the most.
func TestTotalsOverflow(t *testing.T) {
	long := func(pupil, day string, shots int) string {
		return "pupil,session,club,carry_yd,side_yd\n" + strings.Repeat(pupil+","+day+",7i,1000000,0\n", shots)
	}
	a, _ := filled(t, 0, 0, 0)
	add(t, a, read(t, long("Ann", "2024-01-01", 50_000), lesson.ReadOptions{}))
	add(t, a, read(t, long("Ann", "2024-01-02", 50_000), lesson.ReadOptions{}))
	totals, errs := 0, 0
	for _, err := range a.Totals(background, archive.Query{}) {
		switch {
		case err == nil:
			totals++
		case errors.Is(err, archive.ErrOverflow):
			errs++
		default:
			t.Error(err)
		}
	}
	if totals != 0 || errs != 1 {
		t.Errorf("%d totals and %d errors", totals, errs)
	}
	add(t, a, read(t, long("Bob", "2024-01-01", 93_000), lesson.ReadOptions{}))
	_, err := collect(a.Summaries(background, archive.Query{Pupil: "Bob"}))
	if !errors.Is(err, archive.ErrOverflow) || errors.Is(err, archive.ErrForeign) || !errors.As(err, new(*archive.FileError)) {
		t.Errorf("one session: %v", err)
	}
}

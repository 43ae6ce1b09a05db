package strokes

import (
	"errors"
	"strings"
	"testing"
)

// Two holes: the first with a ball out of bounds, the second not played out.
const handLog = `round,hole,club,start_lie,start_distance_yd,start_distance_ft,end_lie,end_distance_yd,end_distance_ft,penalty
May,1,driver,tee,400,,tee,400,,1
May,1,driver,tee,400,,Fairway,150,,
May,1,7i,fairway,150,,green,,20,
May,1,putter,green,,20,hole,,,0
May,2,driver,tee,380,,bunker,140,,
May,2,8i,sand,165,,green,,30,
`

func TestReadLog(t *testing.T) {
	l, err := ReadLog(strings.NewReader(handLog))
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Shots) != 6 {
		t.Fatalf("%d shots", len(l.Shots))
	}
	first := Shot{Round: "May", Hole: "1", Club: "driver", From: Spot{Tee, 400 * yard}, To: Spot{Tee, 400 * yard}, Penalty: 1, Line: 2}
	if l.Shots[0] != first {
		t.Errorf("%+v, want %+v", l.Shots[0], first)
	}
	if s := l.Shots[3]; s.From != (Spot{Green, 20 * foot}) || s.To != (Spot{Green, 0}) {
		t.Errorf("the putt: %+v", s)
	}
	var gap *GapWarning
	if len(l.Warnings) != 1 || !errors.As(l.Warnings[0], &gap) || gap.Line != 7 || gap.Rest.Lie != Sand {
		t.Errorf("warnings %v", l.Warnings)
	}

	// From the tee 5 strokes with the penalty and 3 after it, then 2, then 1.
	outcomes := Outcomes(l.Shots)
	if len(outcomes) != 4 {
		t.Fatalf("%d outcomes", len(outcomes))
	}
	for i, want := range []float64{5, 3, 2, 1} {
		if o := outcomes[i]; o.Strokes != want || o.Spot != l.Shots[i].From || o.Cluster != outcomes[0].Cluster {
			t.Errorf("outcome %d: %+v, want %g strokes", i, o, want)
		}
	}

	c := mustCompute(t, IllustrativePlayers()[0])
	gained, err := GainedAll(c, l.Shots)
	if err != nil {
		t.Fatal(err)
	}
	totals, err := Totals(l.Shots, gained, ByHole, ByHole, 0.95)
	if err != nil || len(totals) != 2 {
		t.Fatalf("%v, %v", totals, err)
	}
	near(t, "the first hole", totals[0].Sum, mustExpect(t, c, Tee, 400*yard)-5, 1e-12)
	for _, by := range []func(Shot) string{ByRound, ByLie, ByClub} {
		totals, err := Totals(l.Shots, gained, by, ByHole, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		sum, n := 0.0, 0
		for _, x := range totals {
			sum, n = sum+x.Sum, n+x.Shots
		}
		if n != 6 {
			t.Errorf("%d shots in %v", n, totals)
		}
		var all float64
		for _, g := range gained {
			all += g
		}
		near(t, "sum of the totals", sum, all, 1e-12)
	}
}

func TestReadLogNamesThePlace(t *testing.T) {
	const header = "hole,start_lie,start_distance_yd,end_lie,end_distance_yd,penalty\n"
	for file, want := range map[string]string{
		"start_lie\n":                                     "no rows",
		"start_lie,end_lie\ntee,hole\n":                   "line 1, column start_distance_yd",
		"start_distance_m,end_lie\n1,1\n":                 "column start_lie",
		header + "1,water,400,rough,150,\n":               "line 2, column start_lie",
		header + "1,tee,0,rough,150,\n":                   "line 2, column start_distance: no shot starts",
		header + "1,tee,,rough,150,\n":                    "line 2, column start_distance",
		header + "1,tee,400,rough,,\n":                    "line 2, column end_distance",
		header + "1,tee,400,rough,-1,\n":                  "line 2, column end_distance_yd",
		header + "1,tee,400,hole,3,\n":                    "line 2, column end_distance: the ball is in the hole",
		header + "1,tee,400,rough,150,x\n":                "line 2, column penalty",
		header + "1,tee,400,rough,150,99\n":               "line 2, column penalty",
		header + "1,tee,1e9,rough,150,\n":                 "line 2, column start_distance_yd",
		header + "\n1,tee,400,rough,a,\n1,x,1,rough,1,\n": "line 4, column start_lie",
	} {
		l, err := ReadLog(strings.NewReader(file))
		var place *TableError
		if l != nil || !errors.As(err, &place) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", file, err, want)
		}
	}
	if _, err := ReadLog(nil); !errors.Is(err, ErrMissing) {
		t.Errorf("nil: %v", err)
	}
}

// By hand: 10 % or 2 m of a paced distance are let pass, another lie is not, nor
// is a shot after the ball was holed; another hole starts anew.
func TestReadLogFindsGaps(t *testing.T) {
	const header = "hole,start_lie,start_distance_m,end_lie,end_distance_m\n"
	for rows, want := range map[string]int{
		"1,tee,300,rough,100\n1,rough,110,green,9\n1,green,7.1,hole,\n": 0,
		"1,tee,300,rough,100\n1,rough,111,green,9\n":                    1,
		"1,tee,300,rough,100\n1,fairway,100,green,9\n":                  1,
		"1,green,3,hole,\n1,green,3,hole,\n":                            1,
		"1,tee,300,rough,100\n2,tee,150,green,9\n":                      0,
	} {
		l, err := ReadLog(strings.NewReader(header + rows))
		if err != nil || len(l.Warnings) != want {
			t.Errorf("%q: %v, %v, want %d warnings", rows, l, err, want)
		}
	}
}

// Shots whose hole has no name tell nothing of how a hole was played out.
func TestOutcomesNeedAHole(t *testing.T) {
	putt := Shot{From: Spot{Green, 3}, To: Spot{Green, 0}}
	if o := Outcomes([]Shot{putt, putt}); len(o) != 0 {
		t.Errorf("%v", o)
	}
	putt.Hole = "practice"
	if o := Outcomes([]Shot{putt, putt}); len(o) != 2 || o[0].Strokes != 1 {
		t.Errorf("twice from one spot: %v", o)
	}
}

// A row is missing between the fairway and the green: how many strokes the tee
// shot led to is not known, what followed the gap is.
func TestOutcomesStopAtAGap(t *testing.T) {
	got := Outcomes([]Shot{
		{Round: "1", Hole: "4", From: Spot{Tee, 400}, To: Spot{Fairway, 150}},
		{Round: "1", Hole: "4", From: Spot{Green, 5}, To: Spot{Green, 1}},
		{Round: "1", Hole: "4", From: Spot{Green, 1}, To: Spot{Green, 0}},
	})
	if len(got) != 2 || got[0].Spot != (Spot{Green, 5}) || got[0].Strokes != 2 || got[1].Strokes != 1 {
		t.Errorf("%+v", got)
	}
}

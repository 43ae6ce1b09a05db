package flight

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func read(t testing.TB, rows ...string) *lesson.Lesson {
	t.Helper()
	l, err := lesson.Read(strings.NewReader(strings.Join(rows, "\n")), lesson.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// By hand: 100 km/h are 27.7778 m/s, 30 yd are 27.432 m, 6,000 rpm are 200π a
// second, 100 yd are 91.44 m.
func TestShotsOf(t *testing.T) {
	l := read(t,
		"ball_speed_kmh,launch_deg,start_line_deg,spin_rpm,spin_tilt_deg,apex_yd,descent_deg,club_speed_mph,carry_yd,side_yd",
		"100,18,-2,6000,9,30,45,50,100,-10",
		"100,18,-2,,9,30,45,50,100,-10",
		"100,-3,-2,6000,9,30,45,50,20,-1",
		"100,18,,6000,9,30,45,50,100,-10",
		"100,18,-2,6000,9,,,,100,-10",
		"100,18,-2,600000,9,,,,100,-10")
	m, err := ShotsOf(l, l.Shots)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(m.At, []int{0, 4}) || len(m.Shots) != 2 || len(m.Left) != 4 {
		t.Fatalf("%+v", m)
	}
	for at, word := range map[int]string{1: "spin_rpm", 2: "upward", 3: "start_line_deg", 5: "rpm"} {
		if !strings.Contains(m.Left[at], word) {
			t.Errorf("shot %d left out since %q", at, m.Left[at])
		}
	}
	s := m.Shots[0]
	for _, v := range [][2]float64{
		{s.Speed, 27.777777778}, {s.Angle, math.Pi / 10}, {s.Direction, -math.Pi / 90}, {s.Spin, 200 * math.Pi}, {s.Tilt, math.Pi / 20},
		{s.Apex, 27.432}, {s.Descent, math.Pi / 4}, {s.ClubSpeed, 22.352}, {s.Carry, 91.44}, {s.Side, -9.144},
		{s.Curve(), -9.144 + 91.44*math.Tan(math.Pi/90)},
	} {
		near(t, "value", v[0], v[1], 1e-8)
	}
	if s = m.Shots[1]; s.Apex != 0 || s.Descent != 0 || s.ClubSpeed != 0 {
		t.Errorf("not measured, but %+v", s)
	}
}

func TestShotsOfRefuses(t *testing.T) {
	l := read(t, "ball_speed_mph,launch_deg,spin_rpm,carry_yd,side_yd", "90,18,n/a,100,0", "90,18,5000,100,0")
	var c *ColumnError
	if _, err := ShotsOf(l, l.Shots); !errors.As(err, &c) || !reflect.DeepEqual(c.Missing, []string{"spin_rpm"}) {
		t.Errorf("spin as text: %v", err)
	}
	l = read(t, "carry_yd,side_yd", "100,0")
	if _, err := ShotsOf(l, l.Shots); !errors.As(err, &c) || len(c.Missing) != 3 {
		t.Errorf("no columns: %v", err)
	}
	if _, err := ShotsOf(nil, l.Shots); !errors.Is(err, ErrMissing) {
		t.Errorf("no lesson: %v", err)
	}
}

// What a lesson's file rounds does no harm: shots written with one decimal are
// fitted as those with all.
func TestFitOfRoundedShots(t *testing.T) {
	shots := ironMaker().shots(t, rand.New(rand.NewPCG(5, 0)), 20)
	f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	round := func(v *float64, unit float64) { *v = math.Round(*v/unit*10) / 10 * unit }
	for i := range shots {
		s := &shots[i]
		round(&s.Speed, MPH)
		round(&s.Angle, Degree)
		round(&s.Spin, 10*RPM)
		round(&s.Carry, Yard)
		round(&s.Apex, Foot)
		round(&s.Descent, Degree)
	}
	g, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	for k := range f.Coefficients {
		near(t, f.Coefficients[k].Name, g.Coefficients[k].Value, f.Coefficients[k].Value, f.Coefficients[k].SE/2)
	}
}

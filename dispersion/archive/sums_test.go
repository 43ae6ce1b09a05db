package archive_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/archive"
)

// Source: testdata/ref/sums.py under Python 3.11.7, centred sums from their
// definition in exact fractions (module fractions), rounded once.
func TestMomentsOfSumsAgainstFractions(t *testing.T) {
	f, err := os.Open("testdata/ref/sums.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 9 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		var whole [6]int64
		var real [5]float64
		for i := range whole {
			if whole[i], err = strconv.ParseInt(row[i], 10, 64); err != nil {
				t.Fatal(err)
			}
		}
		for i := range real {
			if real[i], err = strconv.ParseFloat(row[6+i], 64); err != nil {
				t.Fatal(err)
			}
		}
		got, err := archive.Sums{N: whole[0], Side: whole[1], Carry: whole[2], SideSide: whole[3], SideCarry: whole[4], CarryCarry: whole[5]}.Moments()
		want := dispersion.Moments{N: whole[0], Mean: dispersion.Point{X: real[0], Y: real[1]}, SXX: real[2], SXY: real[3], SYY: real[4]}
		if err != nil || got != want {
			t.Errorf("%v: %+v, %v, want %+v", whole, got, err, want)
		}
	}
}

// By hand: (0.1, 0.1) and (0.2, 0.3) are 1, 1 and 2, 3 tenths, with the sums 3,
// 4 and 5, 7, 10; SXX = 2·0.05² = 0.005, SXY = 2·0.05·0.1 = 0.01, SYY = 0.02.
func TestSumsByHand(t *testing.T) {
	var s archive.Sums
	for _, p := range [][2]int32{{1, 1}, {2, 3}} {
		if err := s.Add(p[0], p[1]); err != nil {
			t.Fatal(err)
		}
	}
	if want := (archive.Sums{N: 2, Side: 3, Carry: 4, SideSide: 5, SideCarry: 7, CarryCarry: 10}); s != want {
		t.Errorf("%+v, want %+v", s, want)
	}
	m, err := s.Moments()
	if want := (dispersion.Moments{N: 2, Mean: dispersion.Point{X: 0.15, Y: 0.2}, SXX: 0.005, SXY: 0.01, SYY: 0.02}); err != nil || m != want {
		t.Errorf("%+v, %v, want %+v", m, err, want)
	}
	if m, err := (archive.Sums{}).Moments(); err != nil || m != (dispersion.Moments{}) {
		t.Errorf("no points: %+v, %v", m, err)
	}
}

func TestSumsOverflow(t *testing.T) {
	// 92,233 shots of a million yards are within 64 bits, one more is not.
	var s archive.Sums
	for range 92_233 {
		if err := s.Add(-10_000_000, 10_000_000); err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
	}
	was := s
	if err := s.Add(-10_000_000, 10_000_000); !errors.Is(err, archive.ErrOverflow) || s != was {
		t.Errorf("%+v: %v", s, err)
	}
	if err := s.Merge(was); !errors.Is(err, archive.ErrOverflow) || s != was {
		t.Errorf("%+v: %v", s, err)
	}
	if m, err := s.Moments(); err != nil || m.SXX != 0 || m.SXY != 0 || m.SYY != 0 || m.Mean.X != -1e6 {
		t.Errorf("equal points: %+v, %v", m, err)
	}
	for name, s := range map[string]archive.Sums{
		"no count":                {SideSide: 1},
		"negative count":          {N: -1},
		"squares below the sum's": {N: 2, Side: 10, SideSide: 49, Carry: 10, CarryCarry: 50},
		"negative squares":        {N: math.MaxInt64, CarryCarry: math.MinInt64},
	} {
		if _, err := s.Moments(); err == nil {
			t.Errorf("%s: no error for sums that no points have", name)
		}
	}
}

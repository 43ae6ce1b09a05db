package practice

import (
	"context"
	"math"
	"runtime"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func setCores(n int) (restore func()) {
	old := runtime.GOMAXPROCS(n)
	return func() { runtime.GOMAXPROCS(old) }
}

// Whatever the numbers, there is an error or a finite answer.
func FuzzWithinASession(f *testing.F) {
	for _, v := range []float64{0, 1, 150, -1e9, 1e200, 1e-200, 1e153, math.NaN(), math.Inf(1), math.MaxFloat64} {
		f.Add(v, 150.0, 3.0)
		f.Add(4.0, v, -v)
	}
	f.Fuzz(func(t *testing.T, a, b, c float64) {
		ctx, o := context.Background(), compare.Options{Resamples: 5}
		x := []float64{a, b, c, a, b + c, a - c, b, c, a + b, a * 0.5, b, -c}
		finite := func(what string, err error, values ...float64) {
			for _, v := range values {
				if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
					t.Errorf("%s of %v: %v without an error", what, x, v)
				}
			}
		}
		s, err := SerialInterval(0, x)
		finite("serial", err, s.R1, s.Rho, s.Interval.Low, s.Interval.High, s.Effective, s.EffectiveInterval.Low, s.EffectiveInterval.High)
		if err == nil && !(s.Interval.Low <= s.Rho && s.Rho <= s.Interval.High && s.Effective >= 1-1e-9 && s.Effective <= 12) {
			t.Errorf("%+v", s)
		}
		v, err := RankVonNeumannRatio(x)
		finite("ratio", err, v.Ratio, v.P, v.Alike)
		p, err := Pettitt(ctx, x, o)
		finite("pettitt", err, p.P, p.Before, p.After)
		e, err := ColdStart(ctx, "", "", nil, x, o)
		finite("cold start", err, e.Level, e.Off.Estimate, e.Off.Interval.Low, e.Off.Interval.High, e.Place, e.Explained)
		var points []dispersion.Point
		for i := range x {
			points = append(points, dispersion.Point{X: x[i], Y: x[(i+5)%len(x)]})
		}
		if g, err := dispersion.NewGroup(points); err == nil {
			if c, err := centred(g); err == nil {
				shots := c.hold(points, 5)
				if checkShots(shots) == nil {
					for _, s := range shots {
						if s.T2 < 0 || s.Signal != (s.Says != nil) {
							t.Errorf("T2 of %v: %+v", s.Point, s)
						}
					}
				}
			}
		}
		sheet, err := NewSheet(SheetInput{Tasks: []Task{{Balls: 1}}, Before: x, Smallest: math.Abs(b)})
		finite("sheet", err, sheet.Before, sheet.SD)
		if err == nil {
			if _, err := sheet.HTML(); err != nil {
				t.Error(err)
			}
		}
		k, i, ok := keptShare(summarise(x[:4]), summarise(x[4:8]), summarise(x[8:]), oneDay(0), 0.95)
		if ok {
			finite("share", nil, k, i.Low, i.High)
		}
	})
}

// Whatever the file, there is an error or a season whose balls all have a phase.
func FuzzReadSeason(f *testing.F) {
	f.Add("session,time,carry,side\n2026-05-01,10:00,100,0\n2026-05-02,10:00,100,0\n")
	f.Add("time,phase,stage,carry,side\n2026-05-01T10:00:00Z,baseline,a,1,1\n,,,2,2\n2026-05-01T19:00:00+05:00,,b,3,3\n")
	f.Add("time,carry,side\n25:00,1,1\n9999-12-31T23:59:59,1,1\n0000-01-01T00:00,2,2\n")
	f.Add("session,stage,intent,carry,side\n2026-02-30,a,drill,1,1\n2026-12-31x,a,check,1,1\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ReadSeason(strings.NewReader(text), SeasonOptions{})
		if err != nil {
			return
		}
		for i, session := range s.Sessions {
			shots := 0
			for _, stage := range session.Stages {
				if _, ok := readPhase(string(stage.Phase)); !ok || len(stage.Shots) != len(stage.Mishit) {
					t.Fatalf("%q: stage %+v", text, stage)
				}
				shots += len(stage.Shots)
			}
			if shots > len(session.Lesson.Shots) || session.End.Before(session.Start) || i > 0 && session.Start.Before(s.Sessions[i-1].Start) {
				t.Fatalf("%q: session %d", text, i)
			}
		}
	})
}

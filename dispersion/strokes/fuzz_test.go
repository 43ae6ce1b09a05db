package strokes

import (
	"math"
	"strings"
	"testing"
)

// FuzzReadPutts looks for a table of putts that makes the reader or a fit panic,
// or that lets a count through which can't be.
func FuzzReadPutts(f *testing.F) {
	for _, seed := range []string{
		"distance_ft,tried,holed\n2,1443,1346\n3,694,577\n20,152,24\n",
		"distance_m;tried;holed\n1,5;3;2\n1e-200;1;1\n", "distance_ft,tried,holed\n1e200,1,1\n", "distance_yd,tried,holed\n0.04,1000000000,999999999\n2,1,0\n1,1,1\n",
		"\uFEFFdistance_ft\ttried\tholed\r\n\"2\"\t3\t3\r\n", "", "\n", "a,a\n", "\"", "distance_ft,tried,holed\nNaN,Inf,0x1p3\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, file string) {
		putts, err := ReadPutts(strings.NewReader(file))
		if err != nil {
			if putts != nil || err.Error() == "" {
				t.Fatal("an error with counts, or without a text")
			}
			return
		}
		for _, p := range putts {
			if p.fault() != "" {
				t.Fatalf("%+v: %s", p, p.fault())
			}
		}
		if len(putts) > 20 {
			return
		}
		if m, fit, err := FitAngle(putts); err == nil {
			holdsFinite(t, m.Angle, fit)
		}
		if m, fit, err := FitAngleDistance(putts); err == nil {
			holdsFinite(t, m.Angle+m.Distance, fit)
		}
		if m, fit, err := FitLogistic(putts); err == nil {
			holdsFinite(t, m.Intercept+m.Slope, fit)
		}
	})
}

func holdsFinite(t *testing.T, sum float64, fit PuttFit) {
	sum += fit.LogLikelihood + fit.Deviance
	for _, p := range fit.Parameters {
		sum += p.Value + p.SE + p.Interval.Low + p.Interval.High
	}
	if math.IsNaN(sum) || math.IsInf(sum, 0) {
		t.Fatalf("%+v", fit)
	}
}

// FuzzReadBaseline looks for a table that makes the reader panic or gives a
// baseline that falls, or that has no answer within its reach.
func FuzzReadBaseline(f *testing.F) {
	for _, seed := range []string{
		handTable, "lie;distance_ft;strokes\nrough;300;2,9\nrough;600;3,4\nrough;200;3\n",
		"lie,distance_m,strokes\ngreen,1e-300,1\ngreen,2000,50\ngreen,2e-300,1\n", "lie,distance_m,distance_ft,strokes\ntee,,,4\n", "lie,distance_m,strokes\ntee,1e200,4\ntee,1e999,4\n",
		"lie;distance_ft;strokes\nrough;3;1",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, file string) {
		b, err := ReadBaseline(strings.NewReader(file), "fuzz")
		if err != nil {
			if b != nil || err.Error() == "" {
				t.Fatal("an error with a baseline, or without a text")
			}
			return
		}
		for _, lie := range Lies() {
			_, high := b.Reach(lie)
			last := 0.0
			for i := 1; i <= 40 && high > 0; i++ {
				x := high * (float64(i) / 40) // high itself at the end
				if x == 0 {
					continue
				}
				e, err := b.Expected(lie, x)
				if err != nil || !(e >= last-1e-12 && e >= 1-1e-12 && e <= 50+1e-12) {
					t.Fatalf("%v at %g m: %g after %g, %v", lie, x, e, last, err)
				}
				last = e
			}
		}
	})
}

// FuzzReadLog looks for a log that makes the reader or the scoring panic, or a
// hole that does not add up.
func FuzzReadLog(f *testing.F) {
	for _, seed := range []string{
		handLog, "start_lie,start_distance_m,end_lie,end_distance_m\ntee,300,hole,0\n", "hole;start_lie;start_distance_m;end_lie;end_distance_m\n1;tee;1e-300;green;0\n1;tee;1,5;tee;2000\n",
		"hole,start_lie,start_distance_m,end_lie,end_distance_m,penalty\n1,tee,300,rough,1e200,1\n1,tee,NaN,x,,10\n",
	} {
		f.Add(seed)
	}
	b, err := Compute(IllustrativePlayers()[0], CommonHole())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, file string) {
		l, err := ReadLog(strings.NewReader(file))
		if err != nil {
			if l != nil || err.Error() == "" {
				t.Fatal("an error with a log, or without a text")
			}
			return
		}
		for _, o := range Outcomes(l.Shots) {
			if !(o.Distance > 0 && o.Distance <= maxDistance && o.Strokes >= 1 && o.Lie.valid()) {
				t.Fatalf("%+v", o)
			}
		}
		gained, err := GainedAll(b, l.Shots)
		if err != nil {
			return
		}
		totals, err := Totals(l.Shots, gained, ByHole, ByHole, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range totals {
			if math.IsNaN(x.Mean+x.SE) || math.IsInf(x.Sum, 0) {
				t.Fatalf("%+v", x)
			}
		}
	})
}

package compare

import (
	"cmp"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Every exported function, called with data that would show a sort or a write.
func TestInputsAreNeverModified(t *testing.T) {
	before, after := sample(t, "versicolor12"), sample(t, "setosa5")
	values1, values2 := []float64{9, 2, 7, 4, 30}, []float64{12, 3, 15, 1}
	g1, g2 := group(t, before), group(t, after)
	points1, points2 := g1.Points(), g2.Points()
	e := carryEffect(3, 8, 18)
	e.Warnings = []error{ErrPlan, ErrSmallest}
	spread, area := ratioEffect(NameSpreadRatio, 1, 2), ratioEffect(NameAreaRatio, 1, 2)
	v := judge(t, e, 5).WithoutBookend()
	posterior, err := PosteriorOf(g1, Jeffreys())
	if err != nil {
		t.Fatal(err)
	}
	// A statistic may reorder what it is given.
	reordering := func(b, a []dispersion.Point) (float64, error) {
		slices.SortFunc(b, func(p, q dispersion.Point) int { return cmp.Compare(p.X, q.X) })
		slices.SortFunc(a, func(p, q dispersion.Point) int { return cmp.Compare(p.Y, q.Y) })
		return a[len(a)-1].Y - b[0].X, nil
	}
	calls := map[string]func() error{
		"CarryGain":   func() error { _, err := CarryGain(ctx, g1, g2, Options{}); return err },
		"SideShift":   func() error { _, err := SideShift(ctx, g1, g2, Options{}); return err },
		"SpreadRatio": func() error { _, err := SpreadRatio(ctx, g1, g2, Options{}); return err },
		"RobustSpreadRatio": func() error {
			tens := func(p []dispersion.Point) *dispersion.Group { return group(t, p[:12]) }
			_, err := RobustSpreadRatio(ctx, tens(sample(t, "setosa")), tens(sample(t, "versicolor")), Options{Resamples: 49})
			return err
		},
		"AreaRatio":        func() error { _, err := AreaRatio(ctx, g1, g2, Options{}); return err },
		"AngleSpreadRatio": func() error { _, err := AngleSpreadRatio(ctx, g1, g2, Options{}); return err },
		"MeanGain":         func() error { _, err := MeanGain(ctx, "", "", values1, values2, Options{}); return err },
		"MishitRateChange": func() error { _, err := MishitRateChange(1, 9, 2, 9, Options{}); return err },
		"WilsonInterval":   func() error { _, err := WilsonInterval(1, 9, 0.9); return err },
		"JudgeSpread":      func() error { _, err := JudgeSpread(spread, area, 0.2); return err },
		"BallsForCarry":    func() error { _, err := BallsForCarry(6, 5, 0.8, 0.95); return err },
		"BallsForArea":     func() error { _, err := BallsForArea(0.5, 0.8, 0.95); return err },
		"SmallestCarry":    func() error { _, err := SmallestCarry(150, 1); return err },
		"MarshalJSON":      func() error { _, err := e.MarshalJSON(); return err },
		"WithoutBookend":   func() error { v.withCaveat(WildBalls); v.WithoutBookend(); return nil },
		"MoreCautious":     func() error { _, err := v.MoreCautious(v); return err },
		"Sentence":         func() error { v.Sentence(); return nil },
		"Line":             func() error { v.Line(); return nil },
		"String":           func() error { _ = v.Kind.String() + v.Caveats[0].String(); return nil },
		"Error":            func() error { _ = (&ValueError{}).Error(); return nil },
		"Unwrap":           func() error { _ = (&NoValueError{}).Unwrap(); return nil },
		"Bootstrap":        func() error { _, err := Bootstrap(ctx, g1, g2, reordering, Options{Resamples: 99}); return err },
		"BootstrapMoments": func() error {
			_, err := BootstrapMoments(ctx, g1, g2, LogAreaRatio, Options{Resamples: 99})
			return err
		},
		"BlockLength":   func() error { BlockLength(9); return nil },
		"LogAreaRatio":  func() error { _, err := LogAreaRatio(g1.Moments(), g2.Moments()); return err },
		"Permute":       func() error { _, err := Permute(ctx, g1, g2, reordering, Options{}); return err },
		"AnyDifference": func() error { _, err := AnyDifference(ctx, g1, g2, Options{}); return err },
		"ShuffleWall":   func() error { _, err := ShuffleWall(g1, g2, Options{Level: 1 - 1e-9}); return err },
		"Key":           func() error { _ = Wall{}.Key(); return nil },
		"CentreShift":   func() error { _, err := CentreShift(ctx, g1, g2, Options{}); return err },
		"Spreads":       func() error { _, err := Spreads(ctx, []*dispersion.Group{g1, g2}, Options{}); return err },
		"HodgesLehmann": func() error { _, err := HodgesLehmann(ctx, "", "", values1, values2, Options{}); return err },
		"TrimmedGain": func() error {
			_, err := TrimmedGain(ctx, "", "", append(values1, values1...), append(values1, values1...), Options{})
			return err
		},
		"Equivalent":           func() error { _, err := Equivalent(e, 5); return err },
		"NotWorse":             func() error { _, err := NotWorse(e, 5); return err },
		"Jeffreys":             func() error { _ = Jeffreys(); return nil },
		"WeakPrior":            func() error { _, err := WeakPrior(6, 8); return err },
		"PosteriorOf":          func() error { _, err := PosteriorOf(g1, Jeffreys()); return err },
		"ExpectedCov":          func() error { _, err := posterior.ExpectedCov(); return err },
		"MeanRegion":           func() error { _, err := posterior.MeanRegion(0.9); return err },
		"PosteriorAreaRatio":   func() error { _, err := PosteriorAreaRatio(posterior, posterior, 0.9); return err },
		"ProbabilityAreaBelow": func() error { _, err := ProbabilityAreaBelow(posterior, posterior, 1); return err },
	}
	maps.Copy(calls, evidenceCalls(t, g1, g2, values1, values2, e, v))
	for _, name := range exported(t) {
		call, ok := calls[name]
		if !ok {
			t.Errorf("%s is exported, but not in this test", name)
			continue
		}
		if err := call(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		delete(calls, name)
		switch {
		case !slices.Equal(g1.Points(), points1), !slices.Equal(g2.Points(), points2):
			t.Errorf("%s changed a group", name)
		case !slices.Equal(values1, []float64{9, 2, 7, 4, 30}), !slices.Equal(values2, []float64{12, 3, 15, 1}):
			t.Errorf("%s changed its values", name)
		case len(v.Caveats) != 1 || v.Caveats[0] != NoBookend || v.Kind != CantTell:
			t.Errorf("%s changed a verdict", name)
		case !slices.Equal(e.Warnings, []error{ErrPlan, ErrSmallest}) || e.Interval != (dispersion.Interval{Low: -5, High: 11, Level: 0.95}):
			t.Errorf("%s changed an effect", name)
		}
	}
	for name := range calls {
		t.Errorf("%s is tested, but not exported", name)
	}
}

// exported returns the names of all exported functions and methods.
func exported(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.IsExported() {
				names = append(names, f.Name.Name)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// evidenceCalls are the calls of what answers more than one comparison.
func evidenceCalls(t *testing.T, g1, g2 *dispersion.Group, values1, values2 []float64, e Effect, v Verdict) map[string]func() error {
	t.Helper()
	groups := []*dispersion.Group{g1, g2}
	stages := [][]float64{values1, values2}
	old, fresh := values1[:4], values2
	at := []float64{1, 2, 3, 4}
	score := Score{Effect: e}
	p := []float64{.3, .01, .2}
	b, err := BookendGain(ctx, "", "", values1, values2, values1, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return map[string]func() error{
		"Bookend":           func() error { _, err := Bookend(ctx, g1, g2, g1, Options{}); return err },
		"BookendGain":       func() error { _, err := BookendGain(ctx, "", "", values1, values2, values1, Options{}); return err },
		"Judge":             func() error { _, err := b.Judge(5); _, also := Judge(e, 5); return errors.Join(err, also) },
		"WithThinBookend":   func() error { v.WithThinBookend(); return nil },
		"SerialCorrelation": func() error { _, err := SerialCorrelation(stages...); return err },
		"IfCorrelated":      func() error { _, err := IfCorrelated(e, 0.2); return err },
		"SerialSentence":    func() error { _, err := SerialSentence(e); return err },
		"BlockOrder":        func() error { _, err := BlockOrder(4, 0); return err },
		"PairedGain":        func() error { _, err := PairedGain(ctx, "", "", old, fresh, Options{}); return err },
		"ScoreExpectation":  func() error { _, err := ScoreExpectation(e, 3); return err },
		"Calibrate":         func() error { _, err := Calibrate([]Score{score, score, score}); return err },
		"Holm":              func() error { _, err := Holm(p); return err },
		"BenjaminiHochberg": func() error { _, err := BenjaminiHochberg(p); return err },
		"Trend":             func() error { _, err := Trend(ctx, "", [][]float64{values1, values2, old}); return err },
		"AlsoSeen":          func() error { _, err := AlsoSeen([]Verdict{v, v}); return err },
		"PickInflation":     func() error { _, err := PickInflation(Picking{BestShots, 3, 10}); return err },
		"PickedGain": func() error {
			_, err := PickedGain(ctx, "", "", values1, values2, Picking{BestShots, 4, 10}, Options{})
			return err
		},
		"DriftOrStages":        func() error { _, err := DriftOrStages("", "", []Run{{at, old}, {at, fresh}}, 0); return err },
		"LineDoesAsWell":       func() error { DriftCheck{}.LineDoesAsWell(); return nil },
		"SpeedAgainstAccuracy": func() error { _, err := SpeedAgainstAccuracy(ctx, groups, Options{}); return err },
		"Manipulation":         func() error { _, err := Manipulation(ctx, "", "", values1, values2, Options{}); return err },
		"MishitsDiffer":        func() error { MishitsDiffer(e); return nil },
		"GainBehindError":      func() error { _, err := GainBehindError(e, DeviceError{Shift: 1}); return err },
		"AreaBehindError":      func() error { _, err := AreaBehindError(ctx, g1, g2, 0.01, 0.01, Options{}); return err },
		"ShownAreaRatio":       func() error { _, err := ShownAreaRatio(0.5, 8, 2); return err },
		"PlanCarry":            func() error { _, err := PlanCarry(stages, 9, 0.8, 0.95); return err },
		"SmallestCarryShown":   func() error { _, err := SmallestCarryShown(6, 10, 0.8, 0.95); return err },
		"SmallestSpreadShown":  func() error { _, err := SmallestSpreadShown(10, 0.8, 0.95); return err },
		"BallsForSpread":       func() error { _, err := BallsForSpread(0.8, 0.8, 0.95); return err },
		"BallsForMishits":      func() error { _, err := BallsForMishits(0.5, 0.1, 0.8, 0.95); return err },
		"AnytimeGain":          func() error { _, err := AnytimeGain(ctx, "", "", values1, values2, Options{}); return err },
	}
}

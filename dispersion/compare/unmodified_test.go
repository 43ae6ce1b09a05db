package compare

import (
	"cmp"
	"go/ast"
	"go/parser"
	"go/token"
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
		"CarryGain":        func() error { _, err := CarryGain(ctx, g1, g2, Options{}); return err },
		"SideShift":        func() error { _, err := SideShift(ctx, g1, g2, Options{}); return err },
		"SpreadRatio":      func() error { _, err := SpreadRatio(ctx, g1, g2, Options{}); return err },
		"AreaRatio":        func() error { _, err := AreaRatio(ctx, g1, g2, Options{}); return err },
		"AngleSpreadRatio": func() error { _, err := AngleSpreadRatio(ctx, g1, g2, Options{}); return err },
		"MeanGain":         func() error { _, err := MeanGain(ctx, "", "", values1, values2, Options{}); return err },
		"MishitRateChange": func() error { _, err := MishitRateChange(1, 9, 2, 9, Options{}); return err },
		"WilsonInterval":   func() error { _, err := WilsonInterval(1, 9, 0.9); return err },
		"Judge":            func() error { _, err := Judge(e, 5); return err },
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
		"CentreShift":   func() error { _, err := CentreShift(ctx, g1, g2, Options{}); return err },
		"Spreads":       func() error { _, err := Spreads(ctx, []*dispersion.Group{g1, g2}, Options{}); return err },
		"HodgesLehmann": func() error { _, err := HodgesLehmann(ctx, "", "", values1, values2, Options{}); return err },
		"TrimmedGain": func() error {
			_, err := TrimmedGain(ctx, "", "", append(values1, values1...), append(values1, values1...), Options{})
			return err
		},
		"Equivalent":           func() error { _, err := Equivalent(e, 5); return err },
		"NotWorse":             func() error { _, err := NotWorse(e, 5); return err },
		"Jeffreys":             func() error { Jeffreys(); return nil },
		"WeakPrior":            func() error { _, err := WeakPrior(6, 8); return err },
		"PosteriorOf":          func() error { _, err := PosteriorOf(g1, Jeffreys()); return err },
		"ExpectedCov":          func() error { _, err := posterior.ExpectedCov(); return err },
		"MeanRegion":           func() error { _, err := posterior.MeanRegion(0.9); return err },
		"PosteriorAreaRatio":   func() error { _, err := PosteriorAreaRatio(posterior, posterior, 0.9); return err },
		"ProbabilityAreaBelow": func() error { _, err := ProbabilityAreaBelow(posterior, posterior, 1); return err },
	}
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

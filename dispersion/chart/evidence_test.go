package chart

import (
	"errors"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func TestEvidenceFiguresAreReadable(t *testing.T) {
	for what, f := range evidenceFigures(t) {
		t.Run(what, func(t *testing.T) {
			checkTexts(t, f, read(t, f))
			for _, banned := range []string{"significant", "proven", "no change", "NaN", "  "} {
				if strings.Contains(f.Alt()+f.Title, banned) {
					t.Errorf("%q in %q", banned, f.Alt())
				}
			}
		})
	}
}

// No label lies over a shot.
func TestEvidenceLabelsCoverNoShot(t *testing.T) {
	figures := evidenceFigures(t)
	checkMarkers(t, read(t, figures["Angles"]), StageLook(0))
	checkMarkers(t, read(t, figures["Angles"]), StageLook(1))
	checkMarkers(t, read(t, figures["Depths"]), StageLook(0))
	checkMarkers(t, read(t, figures["Dial"]), StageLook(1))
	checkMarkers(t, read(t, figures["Calibration"]), StageLook(0))
}

func TestEvidenceInputsAreNotModified(t *testing.T) {
	in := func() []any {
		return []any{demoShift(t), demoRatios(t), demoAngles(), demoDepths(), demoBootstrap(t), demoPermutation(t), demoDial(t), demoScores(t), demoWall(t)}
	}
	used, figure := in(), must[Figure](t)
	for i, f := range []Figure{
		figure(Shift(used[0].(ShiftInput))), figure(SpreadRatio(used[1].(SpreadRatioInput))), figure(Angles(used[2].(AnglesInput))),
		figure(Depths(used[3].(DepthsInput))), figure(Bootstrap(used[4].(BootstrapInput))), figure(Permutation(used[5].(PermutationInput))),
		figure(Dial(used[6].(DialInput))), figure(Calibration(used[7].(CalibrationInput))), figure(Wall(used[8].(WallInput))),
	} {
		if _, err := f.SVG(); err != nil {
			t.Errorf("%T: %v", used[i], err)
		}
	}
	for i, fresh := range in() {
		if !reflect.DeepEqual(used[i], fresh) {
			t.Errorf("%T was modified", fresh)
		}
	}
}

func TestEvidenceTextStaysText(t *testing.T) {
	figure := must[Figure](t)
	shift, ratios, angles, depths := demoShift(t), demoRatios(t), demoAngles(), demoDepths()
	dial, scores, wall := demoDial(t), demoScores(t), demoWall(t)
	for _, name := range hostile {
		shift.Title, shift.Unit, ratios.Title, ratios.Ratios[2].Name = name, name, name, name
		angles.Title, angles.Unit, angles.Stages[0].Name = name, name, name
		depths.Title, depths.Name, depths.Unit = name, name, name
		dial.Title, dial.Unit, wall.Title, wall.Unit, scores.Title = name, name, name, name, name
		for i := range scores.Scores {
			scores.Scores[i].Effect.Unit = name
		}
		boot := BootstrapInput{Title: name, Name: name, Unit: name, Result: compare.Bootstrapped{Replicates: []float64{1, 2, 3}, Estimate: 2, Interval: interval(1, 3, 0.9), Method: name}}
		deals := PermutationInput{Title: name, Name: name, Unit: name, Result: compare.Permutation{Values: []float64{1, 2, 3}, Statistic: 3, Splits: 3, AtLeast: 1, P: 1. / 3, Exact: true}}
		for what, f := range map[string]Figure{
			"Shift": figure(Shift(shift)), "SpreadRatio": figure(SpreadRatio(ratios)), "Angles": figure(Angles(angles)),
			"Depths": figure(Depths(depths)), "Dial": figure(Dial(dial)), "Calibration": figure(Calibration(scores)), "Wall": figure(Wall(wall)),
			"Bootstrap": figure(Bootstrap(boot)), "Permutation": figure(Permutation(deals)),
		} {
			svg, err := f.SVG()
			if err != nil || len(svg) > 200<<10 {
				t.Errorf("%s of %.20q: %d bytes, %v", what, name, len(svg), err)
			}
			checkTexts(t, f, read(t, f)) // an element of the name's own would fail here
		}
	}
}

// signedNumber reads what stands on an axis.
func signedNumber(text string) (float64, bool) {
	text, left := strings.CutSuffix(text, " left")
	text = strings.TrimSuffix(text, " right")
	v, err := strconv.ParseFloat(strings.NewReplacer("−", "-", "+", "").Replace(text), 64)
	if left {
		v = -v
	}
	return v, err == nil
}

// axis reads the small numbers of a figure whose baselines (up) or middles
// (across) lie on one line.
func axis(p picture, across bool) (values, places []float64) {
	type number struct{ value, along, line float64 }
	var all []number
	for _, x := range p.texts {
		v, ok := signedNumber(x.text)
		if !ok || x.size != smallPen.size {
			continue
		}
		l, _, r, _ := x.box()
		if across {
			all = append(all, number{v, l + (r-l)*noteSlack/2, x.y})
		} else {
			all = append(all, number{v, x.y + 0.35*x.size, r})
		}
	}
	best := 0
	for _, a := range all {
		var vs, ps []float64
		for _, b := range all {
			if math.Abs(a.line-b.line) < 0.3 {
				vs, ps = append(vs, b.value), append(ps, b.along)
			}
		}
		if len(vs) > best {
			best, values, places = len(vs), vs, ps
		}
	}
	return values, places
}

// The scales of the shift across and up are one, and so are those of what was
// expected and what was measured.
func TestOneScaleWhereSpaceIsMeant(t *testing.T) {
	for what, f := range map[string]Figure{"Shift": must[Figure](t)(Shift(demoShift(t))), "Calibration": must[Figure](t)(Calibration(demoScores(t)))} {
		p := read(t, f)
		up, upAt := axis(p, false)
		across, acrossAt := axis(p, true)
		if len(up) < 3 || len(across) < 3 {
			t.Fatalf("%s: numbers %v and %v", what, up, across)
		}
		if what == "Shift" { // sides are written without a sign, left of 0 they fall
			for i := range across {
				if i < len(across)-1 && across[i] > 0 && acrossAt[i] < zeroAt(across, acrossAt) {
					across[i] = -across[i]
				}
			}
		}
		b, worst := perUnit(up, upAt)
		d, off := perUnit(across, acrossAt)
		if math.Abs(b-d) > 0.02*b || worst > 0.3 || off > 0.6 {
			t.Errorf("%s: %.3f points a unit up and %.3f across (off by %.2f and %.2f)", what, b, d, worst, off)
		}
	}
}

// No label lies over the arrow of a shift, whichever way it points.
func TestShiftLabelsCoverNoArrow(t *testing.T) {
	for turn := range 12 {
		in := demoShift(t)
		sin, cos := math.Sincos(float64(turn) * math.Pi / 6)
		in.Shift.Shift = dispersion.Point{X: 9 * cos, Y: 9 * sin}
		in.Shift.Region.Centre = in.Shift.Shift
		p := read(t, must[Figure](t)(Shift(in)))
		arrows := 0
		for _, path := range p.paths {
			x, y := path.corners()
			if path.style["stroke-width"] != "1.2" || len(x) != 2 {
				continue
			}
			arrows++
			for k := range 51 {
				u, v := x[0]+(x[1]-x[0])*float64(k)/50, y[0]+(y[1]-y[0])*float64(k)/50
				for _, text := range p.texts {
					if l, b, r, top := text.box(); l < u && u < r && b < v && v < top {
						t.Errorf("turn %d: %q lies over the arrow at (%.1f, %.1f)", turn, text.text, u, v)
					}
				}
			}
		}
		if arrows != 1 {
			t.Errorf("turn %d: %d arrows", turn, arrows)
		}
	}
}

func zeroAt(values, places []float64) float64 {
	for i, v := range values {
		if v == 0 {
			return places[i]
		}
	}
	return math.Inf(-1)
}

// An area ratio is drawn as the ratio of radii: bars of a ratio r² by area and r
// by radius are equally long.
func TestAreaRatioIsDrawnAsARadius(t *testing.T) {
	e := compare.Effect{Name: compare.NameSpreadRatio, Null: 1, Estimate: 0.8, Interval: interval(0.6, 1.1, 0.95)}
	area := compare.Effect{Name: compare.NameAreaRatio, Null: 1, Estimate: 0.64, Interval: interval(0.36, 1.21, 0.95)}
	p := read(t, must[Figure](t)(SpreadRatio(SpreadRatioInput{Ratios: []compare.Effect{e, area}})))
	var bars [][]float64
	for _, path := range p.paths {
		if x, _ := path.corners(); path.style["fill"] == hex(StageLook(0)) && len(x) >= 4 {
			bars = append(bars, x)
		}
	}
	if len(bars) != 2 || math.Abs(bars[0][0]-bars[1][0]) > 0.01 || math.Abs(bars[0][1]-bars[1][1]) > 0.01 {
		t.Errorf("bars %v", bars)
	}
}

// Where the bars of the spread lie decides what the title says, the more cautious
// of them.
func TestSpreadTitle(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{0.5, 0.79, "Tighter"}, {1.3, 2, "Wider"}, {0.85, 1.2, "Too little to matter"}, {0.9, 1.6, "No tightening worth having"}, {0.5, 0.9, "can't tell"}, {0.5, 1.5, "can't tell"},
	} {
		if got := spreadTitle([]radiusRatio{{interval: interval(c.low, c.high, 0.95)}}, 0.2); !strings.Contains(got, c.want) {
			t.Errorf("%g to %g: %q, want %q", c.low, c.high, got, c.want)
		}
	}
	both := []radiusRatio{{interval: interval(0.5, 0.7, 0.95)}, {interval: interval(0.6, 0.9, 0.95)}}
	if got := spreadTitle(both, 0.2); !strings.Contains(got, "can't tell") {
		t.Errorf("one bar in the field and one out of it: %q", got)
	}
}

// Every value is in one bar or beyond the axis, and what is filled is what the
// test counts.
func TestHistogramHoldsEveryValue(t *testing.T) {
	values := []float64{3, 3, 3, 4, 5, 5, 6, 7.5, 9, -1e6}
	for i := range 2000 {
		values = append(values, math.Sin(float64(i))*3+4)
	}
	d := newDistribution(values, span{5, 5}, 5, 5)
	in, tail, want := d.beyond, 0, 0
	for i := range d.counts {
		in += d.counts[i]
		tail += d.tails[i]
	}
	for _, v := range values {
		if v >= 5 {
			want++
		}
	}
	if in != len(values) || tail > want || tail < want-d.beyond || d.beyond == 0 {
		t.Errorf("%d of %d values, %d as large, want %d, %d beyond", in, len(values), tail, want, d.beyond)
	}
	// Equal values alone make a figure too.
	if _, err := Permutation(PermutationInput{Result: compare.Permutation{Values: []float64{2, 2}, Statistic: 2, Splits: 2, AtLeast: 2, P: 1}}); err != nil {
		t.Error(err)
	}
}

// The balls a figure of planning speaks of are those of the planner.
func TestDialSaysThePlan(t *testing.T) {
	in := demoDial(t)
	f := must[Figure](t)(Dial(in))
	shown, err := compare.SmallestCarryShown(in.Plan.SD, in.Balls, 0.8, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	p := read(t, f)
	for _, want := range []string{
		"12 balls show " + length(shown, "yd"), "5.0 yd takes " + strconv.Itoa(in.Plan.Balls) + " balls",
	} {
		if !p.has(want) {
			t.Errorf("%q is not written", want)
		}
	}
	in.Balls, in.Plan.Gain = 6, 0.5 // far off: its label stands at the rim
	if in.Plan.Balls, err = compare.BallsForCarry(in.Plan.SD, 0.5, 0.8, 0.95); err != nil {
		t.Fatal(err)
	}
	checkTexts(t, must[Figure](t)(Dial(in)), read(t, must[Figure](t)(Dial(in))))
}

// Between the numbers of balls that are computed the line is the planner's own.
func TestDialInterpolates(t *testing.T) {
	for _, balls := range []int{5, 12, 40, 300} {
		in := demoDial(t)
		in.Balls = balls
		d, err := newDial(in)
		if err != nil {
			t.Fatal(err)
		}
		for n := leastDialBalls; n <= int(d.most); n += 1 + n/6 {
			want, err := compare.SmallestCarryShown(1, n, 0.8, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			if got := d.at(float64(n)); math.Abs(got-want) > 1e-3*want {
				t.Errorf("up to %g balls: %.5f at %d, want %.5f", d.most, got, n, want)
			}
		}
	}
}

// Twelve pictures of 12 and 9 balls, and no word of which is real.
func TestWallFigureKeepsItsSecret(t *testing.T) {
	in := demoWall(t)
	f := must[Figure](t)(Wall(in))
	p := read(t, f)
	if n := p.count("fill", hex(StageLook(1))); n != 12*9 {
		t.Errorf("%d filled markers, want 108", n)
	}
	if n := p.count("stroke", hex(StageLook(0)), "fill", "none"); n != 12*12 {
		t.Errorf("%d hollow markers, want 144", n)
	}
	for i := range 12 {
		if !p.has(strconv.Itoa(i + 1)) {
			t.Errorf("no number %d", i+1)
		}
	}
	if strings.Contains(f.Alt(), in.Wall.Key()) || !strings.Contains(in.Wall.Key(), strconv.Itoa(in.Wall.Real+1)) {
		t.Errorf("key %q, alt text %q", in.Wall.Key(), f.Alt())
	}
	// Another place for the real one leaves all else as it is.
	other := in
	other.Wall.Real = (in.Wall.Real + 1) % 12
	if must[Figure](t)(Wall(other)).Alt() != f.Alt() {
		t.Error("the alt text depends on which picture is real")
	}
}

// Every kind of region has a name and an edge of its own.
func TestGroupDrawsAnyRegion(t *testing.T) {
	r := demoDepths()
	g := mustGroup(t, r.Shots)
	ellipse := must[dispersion.Ellipse](t)
	in := GroupInput{Unit: "yd", Shots: r.Shots, Regions: []dispersion.Region{
		ellipse(g.MeanEllipse(0.95)), ellipse(g.ToleranceEllipse(0.8, 0.95)), ellipse(g.MCDEllipse(0.9)), ellipse(g.TEllipse(0.9)),
		must[dispersion.Circle](t)(g.EnclosingCircle()), g.ConvexHull(), must[dispersion.Polygon](t)(g.DepthRegion(5)),
	}}
	f := must[Figure](t)(Group(in))
	p := read(t, f)
	checkTexts(t, f, p)
	for _, want := range []string{"centre, 95 %", "80 % of all shots, 95 % sure", "next good shot, 90 %", "next shot, wild ones allowed for, 90 %", "smallest circle, 25 of 25 shots", "hull, 25 of 25 shots", "depth 5, "} {
		if !strings.Contains(f.Alt(), want) {
			t.Errorf("the alt text lacks %q: %s", want, f.Alt())
		}
	}
	blue := hex(StageLook(0))
	if p.count("stroke", blue, "stroke-dasharray", "4,2.5") != 2 || p.count("stroke", blue, "stroke-dasharray", "6,2,1.5,2") != 1 || p.count("stroke", blue, "stroke-dasharray", "1.2,2.2") != 1 {
		t.Error("the edges are not told apart by their dashes")
	}
	for _, bad := range []dispersion.Region{nil, dispersion.Polygon{}, dispersion.Circle{Radius: math.NaN()}} {
		var input *InputError
		if _, err := Group(GroupInput{Shots: r.Shots, Regions: []dispersion.Region{bad}}); !errors.As(err, &input) {
			t.Errorf("region %v: %v", bad, err)
		}
	}
	if xmin, xmax, _, _ := (Ring{}).DataRange(); xmin <= xmax {
		t.Error("a ring without a region has a range")
	}
}

func TestEvidenceFiguresThatCannotBe(t *testing.T) {
	fails := func(_ Figure, err error) error { return err }
	nan := math.NaN()
	shift, ratio, angles, depths, boot, deals, dial, scores, wall := demoShift(t), demoRatios(t), demoAngles(), demoDepths(), demoBootstrap(t), demoPermutation(t), demoDial(t), demoScores(t), demoWall(t)
	nowhere, below, flat := shift, shift, shift
	nowhere.Shift.Shift.X, below.Smallest, flat.Shift.Region.SemiMinor = nan, -5, 0
	gain := ratio
	gain.Ratios = []compare.Effect{{Name: "carry_gain", Estimate: 1, Interval: interval(0, 2, 0.95)}}
	outside, share95 := ratio, ratio
	outside.Ratios = []compare.Effect{{Null: 1, Estimate: 3, Interval: interval(0.5, 2, 0.95)}}
	share95.Smallest = 20
	back := AnglesInput{Stages: []Stage{{Name: "topped", Shots: []dispersion.Point{{X: 1, Y: -3}}}}}
	many := DepthsInput{Shots: make([]dispersion.Point, 201)}
	mishits := DepthsInput{Shots: depths.Shots[:1], Mishit: []bool{true}}
	noLevel, wild := boot, boot
	noLevel.Result.Interval.Level, wild.Result.Replicates = 0, []float64{1, nan}
	short := deals
	short.Result.Splits++
	few, broken := dial, dial
	few.Balls, broken.Plan.SDBounds.High = 2, 0
	two := CalibrationInput{Scores: scores.Scores[:2]}
	eleven, lone := wall, wall
	eleven.Wall.Deals = wall.Wall.Deals[:11]
	lone.Wall.Deals = append([]compare.Deal{{Before: wall.Wall.Deals[0].Before}}, wall.Wall.Deals[1:]...)
	for _, c := range []struct {
		name  string
		err   error
		where string // of an *InputError; "" for ErrEmpty
	}{
		{"a shift of NaN", fails(Shift(nowhere)), "the shift"},
		{"a smallest gain below 0", fails(Shift(below)), "the shift"},
		{"a flat region", fails(Shift(flat)), "the region"},
		{"no ratios", fails(SpreadRatio(SpreadRatioInput{})), ""},
		{"a gain for a ratio", fails(SpreadRatio(gain)), `ratio 1, "carry_gain"`},
		{"a ratio outside", fails(SpreadRatio(outside)), `ratio 1, ""`},
		{"a share of 20", fails(SpreadRatio(share95)), "the smallest change"},
		{"many ratios", fails(SpreadRatio(SpreadRatioInput{Ratios: make([]compare.Effect, 13)})), "13 ratios"},
		{"no stages", fails(Angles(AnglesInput{})), ""},
		{"an empty stage", fails(Angles(AnglesInput{Stages: []Stage{{Name: "new"}}})), ""},
		{"many stages", fails(Angles(AnglesInput{Stages: append(append([]Stage{}, demoStages().Stages...), angles.Stages...)})), "7 stages"},
		{"a ball that went back", fails(Angles(back)), `stage 1, "topped", shot 1`},
		{"no shots", fails(Depths(DepthsInput{})), ""},
		{"mishits alone", fails(Depths(mishits)), ""},
		{"many shots", fails(Depths(many)), "the group"},
		{"no replicates", fails(Bootstrap(BootstrapInput{})), ""},
		{"a replicate of NaN", fails(Bootstrap(wild)), "value 2"},
		{"no level", fails(Bootstrap(noLevel)), "the interval"},
		{"no values", fails(Permutation(PermutationInput{})), ""},
		{"a split too many", fails(Permutation(short)), "the permutation"},
		{"two balls", fails(Dial(few)), "the dial"},
		{"no bounds", fails(Dial(broken)), "the plan"},
		{"no plan", fails(Dial(DialInput{Balls: 10})), "the plan"},
		{"no forecasts", fails(Calibration(CalibrationInput{})), ""},
		{"two forecasts", fails(Calibration(two)), "the forecasts"},
		{"many forecasts", fails(Calibration(CalibrationInput{Scores: make([]compare.Score, 61)})), "61 forecasts"},
		{"no wall", fails(Wall(WallInput{})), ""},
		{"eleven pictures", fails(Wall(eleven)), "11 pictures"},
		{"nothing after", fails(Wall(lone)), "picture 1, after"},
	} {
		var input *InputError
		switch {
		case c.where == "" && !errors.Is(c.err, ErrEmpty):
			t.Errorf("%s: %v, want ErrEmpty", c.name, c.err)
		case c.where != "" && (!errors.As(c.err, &input) || input.Where != c.where || input.Problem == ""):
			t.Errorf("%s: %v, want an *InputError for %q", c.name, c.err, c.where)
		}
	}
}

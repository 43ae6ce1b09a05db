package chart

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func mustStages(t testing.TB, in StagesInput) Figure {
	t.Helper()
	f, err := Stages(in)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Each stage shows all of its shots filled, those of the earlier like stage
// hollow, one more marker in each label where two groups share a plan, and two
// strokes across each mishit.
func TestStagesDrawsEveryShot(t *testing.T) {
	in := demoStages()
	p := read(t, mustStages(t, in))
	earlier := []int{-1, -1, 1, 0, 3} // like with like, the nearest one before
	crossed := 0
	hollow := make([]int, len(in.Stages))
	for i, s := range in.Stages {
		filled := len(s.Shots)
		shown := []Stage{s}
		if j := earlier[i]; j >= 0 {
			filled++
			hollow[j] += len(in.Stages[j].Shots) + 1
			shown = append(shown, in.Stages[j])
		}
		if got := p.count("fill", hex(StageLook(i))); got != filled {
			t.Errorf("stage %d: %d filled markers, want %d", i+1, got, filled)
		}
		for _, s := range shown {
			for _, m := range s.Mishit {
				if m {
					crossed++
				}
			}
		}
	}
	for i := range in.Stages {
		got := p.count("stroke", hex(StageLook(i)), "stroke-width", strconv.FormatFloat(hollowWidth, 'g', -1, 64), "fill", "none")
		if got != hollow[i] {
			t.Errorf("stage %d: %d hollow markers, want %d", i+1, got, hollow[i])
		}
	}
	// The far mishit is shown twice, once as the earlier one, each time with an arrowhead.
	strokes := 0
	for _, path := range p.paths {
		if x, _ := path.corners(); path.style["stroke"] == "#22201C" && path.style["stroke-width"] == "" && path.style["stroke-dasharray"] == "" && path.style["fill"] == "none" && len(x) > 1 {
			strokes++
		}
	}
	if want := 2*crossed + 2; strokes != want {
		t.Errorf("%d strokes of crosses and arrowheads, want %d", strokes, want)
	}
	if got := len(slices.DeleteFunc(slices.Clone(p.texts), func(x svgText) bool { return x.text != "71.0 yd" })); got != 2 {
		t.Errorf("the carry of the far mishit is written %d times, want 2", got)
	}
}

func hex(l Look) string {
	return fmt.Sprintf("#%02X%02X%02X", l.Colour.R, l.Colour.G, l.Colour.B)
}

// A mean ellipse is solid and a prediction ellipse dashed; below 5 clean shots
// there are neither.
func TestStagesDrawsRingsFromFiveShots(t *testing.T) {
	for n, want := range map[int]int{4: 0, 5: 1} {
		points, _ := invented(rand.New(rand.NewPCG(1, 2)), n, dispersion.Point{X: 1, Y: 150}, dispersion.Point{X: 4, Y: 4})
		p := read(t, mustStages(t, StagesInput{Unit: "m", Stages: []Stage{{Name: "one", Shots: points}}}))
		blue := hex(StageLook(0))
		dashed := p.count("stroke", blue, "stroke-dasharray", "4,2.5")
		solid := p.count("stroke", blue) - dashed
		if solid != want || dashed != want {
			t.Errorf("%d shots: %d solid and %d dashed rings, want %d of each", n, solid, dashed, want)
		}
	}
}

// planAxes reads the numbers of the axes of a figure with one plan.
func planAxes(t *testing.T, p picture) (carry, up, side, across []float64) {
	t.Helper()
	for _, x := range p.texts {
		if x.size != smallPen.size {
			continue
		}
		word, _, _ := strings.Cut(x.text, " ")
		v, err := strconv.ParseFloat(strings.Replace(word, "−", "-", 1), 64)
		left, _, right, _ := x.box()
		switch {
		case err != nil || strings.HasSuffix(x.text, "left") || strings.HasSuffix(x.text, "right"):
			// words, or the numbers at the ends, which are not centred on their place
		case right < sheetMargin+40 && right <= 60 && left >= sheetMargin-1 && x.y > 0 && !onSideAxis(p, x):
			carry, up = append(carry, v), append(up, x.y)
		default:
			// Left of the 0 the numbers are left of the target.
			side, across = append(side, v), append(across, left+(right-left)*noteSlack/2)
		}
	}
	zero := slices.Index(side, 0)
	for i := range max(zero, 0) {
		side[i] = -side[i]
	}
	return carry, up, side, across
}

// onSideAxis tells whether x stands on the line of numbers that ends in "right".
func onSideAxis(p picture, x svgText) bool {
	for _, o := range p.texts {
		if strings.HasSuffix(o.text, " right") && o.size == x.size && o.y == x.y {
			return true
		}
	}
	return false
}

func TestPlanHasEqualScales(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, sd := range []dispersion.Point{{X: 4, Y: 4}, {X: 20, Y: 3}, {X: 2, Y: 25}} {
		points, _ := invented(r, 12, dispersion.Point{X: 1, Y: 150}, sd)
		stages, err := Stages(StagesInput{Unit: "yd", Stages: []Stage{{Name: "one", Shots: points}}})
		if err != nil {
			t.Fatal(err)
		}
		group, err := Group(GroupInput{Unit: "yd", Shots: points})
		if err != nil {
			t.Fatal(err)
		}
		for what, f := range map[string]Figure{"Stages": stages, "Group": group} {
			carry, up, side, across := planAxes(t, read(t, f))
			if len(carry) < 2 || len(side) < 2 {
				t.Fatalf("%s, sd %v: numbers %v up and %v across: too few to check", what, sd, carry, side)
			}
			perCarry, worstUp := perUnit(carry, up)
			perSide, worstAcross := perUnit(side, across)
			// SVG numbers have five digits, so a place is known to 0.05 points.
			if math.Abs(perCarry/perSide-1) > 0.01 || worstUp > 0.11 || worstAcross > 0.11 {
				t.Errorf("%s, sd %v: %.3f points per unit up, %.3f across (off the line by %.2f, %.2f)", what, sd, perCarry, perSide, worstUp, worstAcross)
			}
		}
	}
}

// A mishit far short, or a wild ball far to the side, changes neither the scale
// nor the place of the others.
func TestFarShotsDoNotSquashThePlan(t *testing.T) {
	points, _ := invented(rand.New(rand.NewPCG(5, 6)), 12, dispersion.Point{X: 0, Y: 150}, dispersion.Point{X: 5, Y: 5})
	axes := func(extra dispersion.Point, mishit bool) (float64, picture) {
		all := append(slices.Clone(points), extra)
		marks := make([]bool, len(all))
		marks[len(points)] = mishit
		p := read(t, mustStages(t, StagesInput{Unit: "yd", Stages: []Stage{{Shots: all, Mishit: marks}}}))
		carry, up, _, _ := planAxes(t, p)
		b, _ := perUnit(carry, up)
		return b, p
	}
	alone, _ := axes(points[0], true)
	for _, c := range []struct {
		shot   dispersion.Point
		mishit bool
		text   string
	}{
		{dispersion.Point{X: 2, Y: 30}, true, "30.0 yd"},
		{dispersion.Point{X: -190, Y: 20}, true, "20.0 yd, 190.0 yd left"},
	} {
		scale, p := axes(c.shot, c.mishit)
		if math.Abs(scale/alone-1) > 0.01 {
			t.Errorf("%v: %.3f points per yard, %.3f without it", c.shot, scale, alone)
		}
		if !p.has(c.text) {
			t.Errorf("%v: %q is not written", c.shot, c.text)
		}
	}
	// A wild clean ball widens the rings, and so the plan, but only to the fence.
	scale, p := axes(dispersion.Point{X: 400, Y: 150}, false)
	if scale < alone/3 || !p.has("400.0 yd right") {
		t.Errorf("a ball 400 yd right: %.3f points per yard instead of %.3f, written: %v", scale, alone, p.has("400.0 yd right"))
	}
}

func TestTextsNeverOverlap(t *testing.T) {
	check := func(f Figure, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		checkTexts(t, f, read(t, f))
	}
	check(Stages(demoStages()))
	check(Effects(demoEffects()))
	check(Group(demoGroup()))
	r := rand.New(rand.NewPCG(8, 9))
	for range 60 {
		in := StagesInput{Unit: []string{"yd", "m", ""}[r.IntN(3)]}
		for i := range 1 + r.IntN(5) {
			at := dispersion.Point{X: 30 * r.NormFloat64(), Y: 60 + 180*r.Float64()}
			sd := dispersion.Point{X: 1 + 15*r.Float64(), Y: 1 + 12*r.Float64()}
			points, mishit := invented(r, 1+r.IntN(30), at, sd, []float64{20 * r.Float64(), at.Y * r.Float64(), at.Y * 0.8}[:r.IntN(4)]...)
			in.Stages = append(in.Stages, Stage{
				Name: strings.Repeat("long name ", r.IntN(8)), Sentence: strings.Repeat("A sentence to read. ", r.IntN(12)),
				Like: strconv.Itoa(i % 2), Shots: points, Mishit: mishit,
			})
		}
		check(Stages(in))
	}
}

func TestStagesComparesLikeWithLike(t *testing.T) {
	alt := mustStages(t, demoStages()).Alt()
	for _, want := range []string{
		"5 stages in the order hit", "3, half swing, ball on the tee (over stage 2): 8 shots", "4, new swing (over stage 1): 12 shots, 1 mishit",
		"5, old swing again (over stage 4): 9 shots", "1, old swing: 10 shots, 1 mishit; the others carried",
	} {
		if !strings.Contains(alt, want) {
			t.Errorf("the alt text lacks %q:\n%s", want, alt)
		}
	}
}

// Worked by hand: carries 140, 150, 160 and sides -3, 0, 9 have the means 150
// and 2; the mishit of 90 is left out.
func TestAltTextSaysTheNumbers(t *testing.T) {
	alt := mustStages(t, StagesInput{Title: "Three balls.", Unit: "m", Stages: []Stage{{
		Name: "old", Shots: []dispersion.Point{{X: -3, Y: 140}, {X: 0, Y: 150}, {X: 9, Y: 160}, {X: 1, Y: 90}}, Mishit: []bool{false, false, false, true},
	}}}).Alt()
	want := "Three balls. Plan view of 1 stage in the order hit, carry up the page, side across. " +
		"1, old: 4 shots, 1 mishit; the others carried 150.0 m on average, 2.0 m right, spread radius "
	if !strings.HasPrefix(alt, want) {
		t.Errorf("got  %q\nwant %q…", alt, want)
	}
}

// No label lies over a shot, in a plain lesson and in a crowded one that has to
// grow for it.
func TestLabelsCoverNoShot(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 5))
	points, mishit := invented(r, 30, dispersion.Point{X: 8, Y: 225}, dispersion.Point{X: 22, Y: 9}, 120, 150, 100, 90, 195)
	few, _ := invented(r, 3, dispersion.Point{X: -5, Y: 235}, dispersion.Point{X: 15, Y: 9})
	crowded := StagesInput{Unit: "yd", Stages: []Stage{
		{Name: "driver, as it was, thirty balls", Shots: append(points, dispersion.Point{X: 190, Y: 160}), Mishit: append(mishit, false)},
		{Name: "driver, three balls", Shots: few},
	}}
	for _, in := range []StagesInput{demoStages(), crowded} {
		for i := range in.Stages {
			checkMarkers(t, read(t, mustStages(t, in)), StageLook(i))
		}
	}
}

// checkMarkers fails if a text lies over a marker of the look.
func checkMarkers(t *testing.T, p picture, look Look) {
	t.Helper()
	found := 0
	for _, path := range p.paths {
		if path.style["fill"] != hex(look) && path.style["stroke-width"] != strconv.FormatFloat(hollowWidth, 'g', -1, 64) {
			continue
		}
		x, y, ok := strings.Cut(strings.TrimPrefix(path.d, "M"), ",") // a point on the outline
		y, _, _ = strings.Cut(y, "L")
		y, _, _ = strings.Cut(y, "A")
		u, errU := strconv.ParseFloat(x, 64)
		v, errV := strconv.ParseFloat(y, 64)
		if !ok || errU != nil || errV != nil {
			t.Fatalf("a marker with the outline %q", path.d)
		}
		found++
		for _, text := range p.texts {
			if l, b, r, top := text.box(); l < u && u < r && b < v && v < top {
				t.Errorf("%q lies over a marker at (%.1f, %.1f)", text.text, u, v)
			}
		}
	}
	if found == 0 {
		t.Errorf("no marker of %v", look)
	}
}

// Two stages of mean carry 150 and 163: in the plan of the second a dotted line
// stands at 150.
func TestDottedLineIsTheFirstMean(t *testing.T) {
	p := read(t, mustStages(t, StagesInput{Unit: "yd", Stages: []Stage{
		{Name: "old", Shots: []dispersion.Point{{X: -8, Y: 141}, {X: 9, Y: 159}, {X: 2, Y: 60}}, Mishit: []bool{false, false, true}},
		{Name: "new", Shots: []dispersion.Point{{X: 1, Y: 160}, {X: 3, Y: 166}}},
	}}))
	carry, up, _, _ := planAxes(t, p)
	half := len(carry) / 2 // the numbers of the second plan
	b, _ := perUnit(carry[half:], up[half:])
	want := up[half] + smallPen.size*0.35 + b*(150-carry[half])
	found := 0
	for _, path := range p.paths {
		if path.style["stroke-dasharray"] != "0.8,2.4" {
			continue
		}
		found++
		if _, y := path.corners(); math.Abs(y[0]-want) > 0.2 || y[0] != y[1] {
			t.Errorf("the dotted line runs from %.2f to %.2f, want %.2f", y[0], y[1], want)
		}
	}
	if found != 1 {
		t.Errorf("%d dotted lines, want 1", found)
	}
}

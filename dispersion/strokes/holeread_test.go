package strokes

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
)

func mustHole(t testing.TB, file []byte) *Hole {
	t.Helper()
	h, err := ReadHole(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return h
}

const marks = `{"type":"Feature","properties":{"mark":"tee"},"geometry":{"type":"Point","coordinates":[0,0]}},
{"type":"Feature","properties":{"mark":"flag"},"geometry":{"type":"Point","coordinates":[0,150]}}`

// polygonFeature writes a feature with one ring.
func polygonFeature(properties, ring string) string {
	return fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":{"type":"Polygon","coordinates":[%s]}}`, properties, ring)
}

const squareGreen = `[[-10,140],[10,140],[10,160],[-10,160],[-10,140]]`

func planOf(features ...string) string {
	return `{"type":"FeatureCollection","frame":"metres","features":[` + strings.Join(features, ",\n") + `]}`
}

func TestDemoHoles(t *testing.T) {
	pond, island := mustHole(t, datasets.DemoPondFile()), mustHole(t, datasets.DemoIslandFile())
	if pond.Name() != "The pond" || len(pond.Areas()) != 7 || len(island.Areas()) != 6 {
		t.Errorf("%q with %d areas, %q with %d", pond.Name(), len(pond.Areas()), island.Name(), len(island.Areas()))
	}
	near(t, "pond", pond.Length(), math.Hypot(14, 352), 1e-9)
	near(t, "island, drawn on a sphere", island.Length(), math.Hypot(4, 148), 0.5)
	for _, c := range []struct {
		hole *Hole
		at   dispersion.Point
		want string
	}{
		{pond, dispersion.Point{X: 14, Y: 352}, "green"},
		{pond, dispersion.Point{X: 3, Y: 200}, "fairway"},
		{pond, dispersion.Point{X: 26, Y: 205}, "bunker"},
		{pond, dispersion.Point{X: 45, Y: 335}, "water"},
		{pond, dispersion.Point{X: 60, Y: 100}, "recovery"},
		{pond, dispersion.Point{X: -60, Y: 100}, "out of bounds"},
		{pond, dispersion.Point{X: 0, Y: 50}, "rough"},
		{pond, dispersion.Point{X: 500, Y: 50}, "rough"},
		{island, dispersion.Point{X: 0, Y: 100}, "water"},
		{island, dispersion.Point{X: -2, Y: 147}, "green"},
		{island, dispersion.Point{X: 0, Y: 250}, "rough"},
	} {
		if g := c.hole.Ground(c.at); g.Tag != c.want {
			t.Errorf("%s at %v is %s, want %s", c.hole.Name(), c.at, g.Tag, c.want)
		}
	}
}

// The order in the file does not matter: what lies on top is decided by what it
// is.
func TestTopmostGround(t *testing.T) {
	bunker := polygonFeature(`"lie":"bunker"`, `[[-4,141],[4,141],[4,145],[-4,145],[-4,141]]`)
	green := polygonFeature(`"lie":"Green "`, squareGreen)
	water := polygonFeature(`"lie":"water","penalty":"stroke and distance"`, `[[2,100],[30,100],[30,170],[2,170],[2,100]]`)
	for _, file := range []string{planOf(marks, bunker, green, water), planOf(water, green, bunker, marks)} {
		h := mustHole(t, []byte(file))
		for at, want := range map[dispersion.Point]string{{X: 0, Y: 142}: "bunker", {X: 0, Y: 150}: "green", {X: 3, Y: 142}: "water", {X: 2, Y: 150}: "water", {X: -4, Y: 145}: "bunker"} {
			if g := h.Ground(at); g.Tag != want || want == "water" && g.Penalty != StrokeAndDistance {
				t.Errorf("%v is %+v, want %s", at, g, want)
			}
		}
	}
}

func TestBadPlans(t *testing.T) {
	green := polygonFeature(`"lie":"green","name":"the green"`, squareGreen)
	with := func(properties, ring string) string { return planOf(marks, green, polygonFeature(properties, ring)) }
	many := "[" + strings.Repeat("[1,1],[2,3],", 500_000) + "[1,1]]"
	for name, c := range map[string]struct {
		file    string
		feature int
		says    string
	}{
		"empty":                  {"", 0, "empty"},
		"no object":              {"[]", 0, "FeatureCollection"},
		"a feature":              {`{"type":"Feature"}`, 0, "FeatureCollection"},
		"no list":                {`{"type":"FeatureCollection","features":3}`, 0, "list"},
		"cut off":                {planOf(marks, green)[:300], 3, "no JSON"},
		"not closed":             {strings.TrimRight(strings.TrimSpace(planOf(marks, green)), "}"), 3, "no JSON"},
		"more after the end":     {planOf(marks, green) + "x", 0, "follows the end"},
		"no features":            {`{"type":"FeatureCollection","features":[]}`, 0, "marked tee"},
		"no green":               {planOf(marks, polygonFeature(`"lie":"fairway"`, squareGreen)), 0, "no green"},
		"no flag":                {planOf(marks[:strings.Index(marks, ",\n")], green), 0, "marked flag"},
		"two tees":               {planOf(marks, green, marks), 4, "already"},
		"tee no point":           {planOf(marks[strings.Index(marks, ",\n")+2:], green, polygonFeature(`"mark":"tee"`, squareGreen)), 3, "must be a Point"},
		"a point of nothing":     {planOf(marks, green, `{"type":"Feature","properties":{"mark":"tree"},"geometry":{"type":"Point","coordinates":[1,2]}}`), 4, `not "tree"`},
		"unknown lie":            {with(`"lie":"swamp","name":"left"`, squareGreen), 4, `"left": the lie "swamp" is unknown: use rough, fairway`},
		"no lie":                 {with(``, squareGreen), 4, `lie ""`},
		"lie a number":           {with(`"lie":3`, squareGreen), 4, "must be a text"},
		"null lie's geometry":    {planOf(marks, green, `{"type":"Feature","properties":{"lie":"water"},"geometry":null}`), 4, "its geometry"},
		"a line":                 {planOf(marks, green, `{"type":"Feature","properties":{"lie":"water"},"geometry":{"type":"LineString","coordinates":[[1,2],[3,4]]}}`), 4, "LineString"},
		"unknown penalty":        {with(`"lie":"water","penalty":"two"`, squareGreen), 4, "penalty"},
		"penalty on a lie":       {with(`"lie":"fairway","penalty":"drop on the line"`, squareGreen), 4, "no penalty"},
		"bow tie":                {with(`"lie":"water"`, `[[0,0],[9,9],[9,0],[0,9],[0,0]]`), 4, "crosses or touches itself"},
		"touching corner":        {with(`"lie":"water"`, `[[0,0],[4,0],[2,2],[4,4],[0,4],[2,2],[0,0]]`), 4, "crosses or touches itself"},
		"spike":                  {with(`"lie":"water"`, `[[0,0],[4,0],[9,0],[4,0],[4,4],[0,0]]`), 4, "folds back"},
		"hole crossing":          {with(`"lie":"water"`, `[[0,0],[9,0],[9,9],[0,9],[0,0]],[[5,5],[12,5],[12,6],[5,6],[5,5]]`), 4, "two rings"},
		"hole outside":           {with(`"lie":"water"`, `[[0,0],[9,0],[9,9],[0,9],[0,0]],[[15,5],[16,5],[16,6],[15,5]]`), 4, "hole outside"},
		"open ring":              {with(`"lie":"water"`, `[[0,0],[9,0],[9,9],[0,9]]`), 4, "open"},
		"three positions":        {with(`"lie":"water"`, `[[0,0],[9,0],[0,0]]`), 4, "at least 4"},
		"one point":              {with(`"lie":"water"`, `[[1,1],[1,1],[1,1],[1,1]]`), 4, "different corners"},
		"no ring":                {with(`"lie":"water"`, ``), 4, "no ring"},
		"short position":         {with(`"lie":"water"`, `[[0],[9,0],[9,9],[0]]`), 4, "takes two"},
		"null":                   {with(`"lie":"water"`, `[[0,null],[9,0],[9,9],[0,null]]`), 4, "null"},
		"NaN":                    {with(`"lie":"water"`, `[[0,NaN],[9,0],[9,9],[0,NaN]]`), 4, "NaN"},
		"too large":              {with(`"lie":"water"`, `[[0,1e999],[9,0],[9,9],[0,1e999]]`), 4, "coordinates"},
		"far":                    {with(`"lie":"water","name":"sea"`, `[[0,9000],[9,9000],[9,9009],[0,9000]]`), 4, "swapped"},
		"beyond metres":          {with(`"lie":"water"`, `[[0,9e9],[9,9000],[9,9009],[0,9e9]]`), 4, "metres"},
		"a million vertices":     {with(`"lie":"water","name":"the coast"`, many), 4, `"the coast": with it the plan has more than 20000 vertices`},
		"flag off the green":     {planOf(marks, polygonFeature(`"lie":"green"`, `[[-10,100],[10,100],[10,120],[-10,120],[-10,100]]`)), 2, "put the flag on the green"},
		"tee in the water":       {with(`"lie":"water"`, `[[-5,-5],[5,-5],[5,5],[-5,5],[-5,-5]]`), 1, "no play starts"},
		"flag at the tee":        {planOf(strings.Replace(marks, "150", "15", 1), polygonFeature(`"lie":"green"`, `[[-10,10],[10,10],[10,20],[-10,20],[-10,10]]`)), 2, "metres or degrees"},
		"unknown frame":          {strings.Replace(planOf(marks, green), `"metres"`, `"feet"`, 1), 0, "frame"},
		"metres without a frame": {strings.Replace(planOf(marks, polygonFeature(`"lie":"green"`, `[[-10,140],[10,140],[200,260],[-10,160],[-10,140]]`)), `"frame":"metres",`, "", 1), 2, "swapped"},
	} {
		h, err := ReadHole(strings.NewReader(c.file))
		var bad *HoleError
		if !errors.As(err, &bad) || bad.Feature != c.feature || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %v, want feature %d and %q", name, h != nil, err, c.feature, c.says)
		}
	}
	if _, err := ReadHole(nil); !errors.Is(err, ErrMissing) {
		t.Errorf("nil: %v", err)
	}
}

// Longitude and latitude in the wrong order: in one feature, and throughout
// where that can be told.
func TestSwappedCoordinates(t *testing.T) {
	island := string(datasets.DemoIslandFile())
	at := strings.LastIndex(island, `"coordinates"`)
	swapped := island[:at] + swapPairs(island[at:])
	var bad *HoleError
	if _, err := ReadHole(strings.NewReader(swapped)); !errors.As(err, &bad) || bad.Feature != 8 || bad.Name != "bunker behind" || !strings.Contains(bad.Reason, "swapped") {
		t.Errorf("one feature swapped: %v", err)
	}
	west := strings.ReplaceAll(strings.ReplaceAll(island, "-30.", "-130."), "-30,", "-130,")
	west = strings.ReplaceAll(west, "-29.", "-129.")
	if _, err := ReadHole(strings.NewReader(west)); err != nil {
		t.Errorf("the same farther west: %v", err)
	}
	if _, err := ReadHole(strings.NewReader(swapPairs(west))); !errors.As(err, &bad) || bad.Feature == 0 || !strings.Contains(bad.Reason, "swapped") {
		t.Errorf("all swapped: %v", err)
	}
}

func swapPairs(text string) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(text, "\n") {
		var x, y string
		trimmed := strings.NewReplacer("[", "", "]", "", ",", " ", `"coordinates":`, "").Replace(strings.TrimSpace(line))
		if n, _ := fmt.Sscan(trimmed, &x, &y); n == 2 && strings.Contains(line, "[") {
			line = strings.Replace(strings.Replace(line, x, "#", 1), y, x, 1)
			line = strings.Replace(line, "#", y, 1)
		}
		b.WriteString(line)
	}
	return b.String()
}

// Source: tables of the length of a degree on WGS 84, rounded to a metre, from
// memory.
func TestMetresPerDegree(t *testing.T) {
	for latitude, want := range map[float64][2]float64{0: {111320, 110574}, 45: {78847, 111132}, 60: {55800, 111412}} {
		east, north := metresPerDegree(latitude)
		near(t, "east", east, want[0], 1)
		near(t, "north", north, want[1], 1)
	}
}

func FuzzReadHole(f *testing.F) {
	f.Add(datasets.DemoPondFile())
	f.Add(datasets.DemoIslandFile())
	f.Add([]byte(planOf(marks, polygonFeature(`"lie":"green"`, squareGreen))))
	f.Add([]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":null,"geometry":{"type":"MultiPolygon","coordinates":[]}}]}`))
	f.Fuzz(func(t *testing.T, file []byte) {
		h, err := ReadHole(bytes.NewReader(file))
		if err != nil {
			return
		}
		if h.Ground(h.Flag()).Lie != Green || !(h.Length() >= nearestFlag) {
			t.Fatalf("a hole of %g m with its flag on %+v", h.Length(), h.Ground(h.Flag()))
		}
	})
}

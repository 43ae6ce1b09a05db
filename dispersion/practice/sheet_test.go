package practice

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func demoSheet() SheetInput {
	return SheetInput{
		Pupil: "Nila", Seed: 3,
		Tasks: []Task{{"room for the arms", "7 iron", "left edge of the net", 20}, {"feet together", "7 iron", "", 10}, {"start line", "5 iron", "the pole", 15}},
		Club:  "7 iron", Measure: "carry", Unit: "yd", Before: []float64{110, 114, 115, 116, 117, 118, 119, 120, 124, 117}, Smallest: 5,
	}
}

func TestSheetOrder(t *testing.T) {
	s, err := NewSheet(demoSheet())
	if err != nil {
		t.Fatal(err)
	}
	counts := make([]int, 3)
	for _, task := range s.Order {
		counts[task]++
	}
	if !slices.Equal(counts, []int{20, 10, 15}) {
		t.Errorf("balls %v", counts)
	}
	again, _ := NewSheet(demoSheet())
	in := demoSheet()
	in.Seed = 4
	other, _ := NewSheet(in)
	if !slices.Equal(s.Order, again.Order) || slices.Equal(s.Order, other.Order) || slices.IsSorted(s.Order) {
		t.Error("the order does not depend on the seed alone")
	}
}

// By hand: mean 117, squares 126, s = √(126/9) = 3.741657, e = s·√(1/5) = 1.673320,
// t(18) at .975 and .80: 2.100922 and .862049. So 5 ± 3.515515 and 5 + 1.442483.
func TestSheetMeanings(t *testing.T) {
	s, err := NewSheet(demoSheet())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", s.Before, 117, 1e-12)
	near(t, "sd", s.SD, 3.741657, 1e-6)
	want := []struct {
		verdict compare.VerdictKind
		low     float64
	}{{compare.WorthHaving, 125.515515}, {compare.Probably, 123.442483}, {compare.CantTell, 118.484485}, {compare.NoGainWorth, 108.484485}, {compare.Worse, math.Inf(-1)}}
	for i, m := range s.Meanings {
		if m.Verdict != want[i].verdict || m.HasLow == math.IsInf(want[i].low, -1) || m.Text == "" || i > 0 && m.High != s.Meanings[i-1].Low {
			t.Errorf("meaning %d: %+v", i, m)
		}
		if m.HasLow {
			near(t, "low", m.Low, want[i].low, 1e-6)
		}
	}
	// The lines are those of Judge for balls that spread as those before.
	in := demoSheet()
	in.LessIsBetter = true
	less, err := NewSheet(in)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range less.Meanings {
		mirror := s.Meanings[i]
		if m.HasHigh != mirror.HasLow || m.HasHigh && math.Abs(m.High-(234-mirror.Low)) > 1e-9 {
			t.Errorf("mirrored %d: %+v", i, m)
		}
	}
}

// A mean just above or below a line gets from Judge the verdict that the sheet
// says.
func TestSheetAgreesWithJudge(t *testing.T) {
	s, err := NewSheet(demoSheet())
	if err != nil {
		t.Fatal(err)
	}
	e := s.SD * math.Sqrt(1.0/10+1.0/10)
	half := tQuantile(0.95, 18) * e
	for i, m := range s.Meanings[:4] {
		for _, c := range []struct {
			mean float64
			want compare.VerdictKind
		}{{m.Low + 0.01, m.Verdict}, {m.Low - 0.01, s.Meanings[i+1].Verdict}} {
			gain := c.mean - s.Before
			v, err := compare.Judge(compare.Effect{Name: "gain", N1: 10, N2: 10, Estimate: gain, DF: 18,
				Interval: dispersion.Interval{Low: gain - half, High: gain + half, Level: 0.95}}, s.Smallest)
			if err != nil || v.Kind != c.want {
				t.Errorf("mean %.2f: %v, want %v; %v", c.mean, v.Kind, c.want, err)
			}
		}
	}
}

// The page is well-formed, fetches nothing, has every ball, and shows hostile text
// as text.
func TestSheetPage(t *testing.T) {
	in := demoSheet()
	in.Tasks[1].Name = `<script>alert("x")</script> & more`
	s, err := NewSheet(in)
	if err != nil {
		t.Fatal(err)
	}
	page, err := s.HTML()
	if err != nil {
		t.Fatal(err)
	}
	for _, never := range []string{"<script", "http", "src=", "href=", "url(", "ZgotmplZ"} {
		if bytes.Contains(page, []byte(never)) {
			t.Errorf("the page holds %q", never)
		}
	}
	for _, want := range []string{"Practice sheet for Nila", "&lt;script&gt;", "<td class=\"number\">126 yd or more</td><td>worth having</td>", "below 108 yd", "seed 3", "10 balls with the 7 iron", "Stop after ball 45"} {
		if !bytes.Contains(page, []byte(want)) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if got := bytes.Count(page, []byte("<li>")); got != 45+len(s.Stop) {
		t.Errorf("%d entries, want 45 balls and %d rules", got, len(s.Stop))
	}
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
	}
}

func TestSheetErrors(t *testing.T) {
	try := func(change func(*SheetInput)) error {
		in := demoSheet()
		change(&in)
		_, err := NewSheet(in)
		return err
	}
	var sheet *SheetError
	for name, change := range map[string]func(*SheetInput){
		"no tasks":     func(in *SheetInput) { in.Tasks = nil },
		"many tasks":   func(in *SheetInput) { in.Tasks = make([]Task, 27) },
		"no balls":     func(in *SheetInput) { in.Tasks[1].Balls = 0 },
		"many balls":   func(in *SheetInput) { in.Tasks[1].Balls = 280 },
		"no smallest":  func(in *SheetInput) { in.Smallest = 0 },
		"NaN smallest": func(in *SheetInput) { in.Smallest = math.NaN() },
	} {
		if err := try(change); !errors.As(err, &sheet) || sheet.Reason == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	var few *dispersion.TooFewError
	if err := try(func(in *SheetInput) { in.Before = in.Before[:3] }); !errors.As(err, &few) {
		t.Errorf("three balls: %v", err)
	}
	var value *ValueError
	if err := try(func(in *SheetInput) { in.Before[4] = math.Inf(1) }); !errors.As(err, &value) || value.Index != 4 {
		t.Errorf("infinite: %v", err)
	}
	if err := try(func(in *SheetInput) { in.Before = slices.Repeat([]float64{9}, 5) }); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no spread: %v", err)
	}
	if s := fmt.Sprint(try(func(in *SheetInput) { in.Tasks[1].Balls = 0 })); !strings.Contains(s, `task 2, "feet together"`) {
		t.Error(s)
	}
}

package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// BootstrapInput is what Bootstrap draws. The zero value of Title stands for one
// made from the numbers.
type BootstrapInput struct {
	Title  string
	Name   string // of the statistic, such as "gain in carry"
	Unit   string
	Null   float64              // where the statistic stands without any change, drawn as a line
	Result compare.Bootstrapped // of compare.Bootstrap; its replicates are drawn
}

// Bootstrap returns a figure of what resampling the shots does to a statistic: a
// histogram of its value in every resample, the value seen as an upright line,
// and below the histogram its interval as a bar. How broad the histogram is, is
// how far the statistic wanders when the same swing is hit again; where it stands
// is where these shots happened to lie.
//
// The few most extreme values may lie beyond the axis, and are then counted below.
//
// Errors: [ErrEmpty] for no replicates; *[InputError] for a number that is not
// finite or too large, or an estimate outside its interval.
//
// Bootstrap does not modify its input.
func Bootstrap(in BootstrapInput) (Figure, error) {
	r := in.Result
	if err := checkReplicates(r.Replicates, r.Estimate, in.Null); err != nil {
		return Figure{}, err
	}
	for _, v := range []float64{r.Interval.Low, r.Interval.High} {
		if err := checkNumber(v, "the interval", "end"); err != nil {
			return Figure{}, err
		}
	}
	if i := r.Interval; !(i.Low <= i.High && i.Level > 0 && i.Level < 1) {
		return Figure{}, &InputError{"the interval", fmt.Sprintf("%g to %g at level %g is none", i.Low, i.High, i.Level)}
	}
	d := newDistribution(r.Replicates, span{r.Interval.Low, r.Interval.High}, r.Estimate, in.Null)
	d.name, d.unit = plain(in.Name, longestName), plain(in.Unit, 12)
	d.bar, d.hasBar = span{r.Interval.Low, r.Interval.High}, true
	title := plain(in.Title, longestText)
	if title == "" {
		title = fmt.Sprintf("These shots fit anything from %s to %s", d.value(r.Interval.Low), d.withUnit(r.Interval.High))
	}
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.distribution(d)
	key := fmt.Sprintf("%s from %d and %d shots. Bold line: the value seen.%s Bar: what these shots fit, at %s (%s).%s",
		count(len(r.Replicates), "resample"), r.N1, r.N2, d.nullText(), share(r.Interval.Level), plain(r.Method, longestName), d.beyondText())
	sheet.prose(smallPen, key, 5)
	alt := fmt.Sprintf("%s. Histogram of the %s in %s; half of them lie from %s to %s. Seen: %s; %s: %s to %s. %d and %d shots.",
		strings.TrimRight(title, "."), d.statistic(), count(len(r.Replicates), "resample"), d.value(d.quartiles.low), d.withUnit(d.quartiles.high),
		d.withUnit(d.seen), share(r.Interval.Level), d.value(r.Interval.Low), d.withUnit(r.Interval.High), r.N1, r.N2)
	return sheet.figure(title, alt), nil
}

// PermutationInput is what Permutation draws. The zero value of Title stands for
// one made from the numbers.
type PermutationInput struct {
	Title  string
	Name   string // of the statistic, such as "gain in carry, either way"
	Unit   string
	Result compare.Permutation // of compare.Permute, which keeps the values
}

// Permutation returns a figure of what dealing the same shots anew into a before
// and an after does to a statistic: a histogram of its value in every deal, and
// the value seen as an upright line. The bars from there on are filled: their
// share of all is how often luck alone gives as much.
//
// Errors: [ErrEmpty] for no values; *[InputError] for a number that is not finite
// or too large, or a count that doesn't fit.
//
// Permutation does not modify its input.
func Permutation(in PermutationInput) (Figure, error) {
	r := in.Result
	if err := checkReplicates(r.Values, r.Statistic, r.Statistic); err != nil {
		return Figure{}, err
	}
	if len(r.Values) != r.Splits || r.AtLeast < 0 || r.AtLeast > r.Splits || !(r.P > 0 && r.P <= 1) {
		return Figure{}, &InputError{"the permutation", fmt.Sprintf("%d values of %d splits, %d of them as large, and p = %g don't fit together", len(r.Values), r.Splits, r.AtLeast, r.P)}
	}
	d := newDistribution(r.Values, span{r.Statistic, r.Statistic}, r.Statistic, r.Statistic)
	d.name, d.unit, d.fills = plain(in.Name, longestName), plain(in.Unit, 12), true
	title := plain(in.Title, longestText)
	if title == "" {
		title = "Dealt anew at random, the same balls show as much in " + often(r.P)
	}
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.distribution(d)
	deals := fmt.Sprintf("All %d ways to deal", r.Splits)
	if !r.Exact {
		deals = fmt.Sprintf("%d random ways to deal", r.Splits)
	}
	deals += fmt.Sprintf(" these balls into %d before and %d after.", r.N1, r.N2)
	sheet.prose(smallPen, fmt.Sprintf("%s Bold line: the value seen. Filled: %d as large or larger.%s", deals, r.AtLeast, d.beyondText()), 4)
	alt := fmt.Sprintf("%s. Histogram of the %s. %s Half lie from %s to %s. Seen: %s; as large or larger: %d.",
		strings.TrimRight(title, "."), d.statistic(), deals, d.value(d.quartiles.low), d.withUnit(d.quartiles.high), d.withUnit(d.seen), r.AtLeast)
	return sheet.figure(title, alt), nil
}

func checkReplicates(values []float64, seen, null float64) error {
	if len(values) == 0 {
		return fmt.Errorf("chart: no values of the statistic: %w", ErrEmpty)
	}
	for i, v := range values {
		if err := checkNumber(v, fmt.Sprintf("value %d", i+1), "statistic"); err != nil {
			return err
		}
	}
	if err := checkNumber(seen, "the value seen", "statistic"); err != nil {
		return err
	}
	return checkNumber(null, "the value without a change", "statistic")
}

// often writes a chance as a person says it.
func often(p float64) string {
	switch {
	case p < 0.0005:
		return "fewer than 1 of 1000 deals"
	case p < 0.0995:
		return number(1000*p, 0) + " of 1000 deals"
	}
	if p < 1 {
		p = min(p, 0.99) // not all of them
	}
	return number(100*p, 0) + " of 100 deals"
}

// A distribution is a histogram with the value seen.
type distribution struct {
	name, unit  string
	x           span
	width       float64 // of a bin
	first       float64 // where the first bin begins
	counts      []int
	tails       []int // of each bin, how many are as large as the value seen
	total       int
	beyond      int // values off the axis
	quartiles   span
	seen        float64
	null        float64
	bar         span
	hasBar      bool
	fills       bool // fill what is as large as the value seen
	decimals    int
	greatestBin float64 // share
}

const bins = 40

// newDistribution counts values into bins over an axis that holds all that must
// be seen and all but the most extreme thousandth of the values at either end.
func newDistribution(values []float64, must span, seen, null float64) distribution {
	sorted := slices.Sorted(slices.Values(values))
	at := func(share float64) float64 { return sorted[int(share*float64(len(sorted)-1)+0.5)] }
	d := distribution{total: len(values), seen: seen, null: null, quartiles: span{at(0.25), at(0.75)}}
	d.x = must.join(span{at(0.001), at(0.999)}).join(span{seen, seen}).join(span{null, null})
	scale := max(math.Abs(d.x.low), math.Abs(d.x.high))
	d.x = d.x.widened(max(1e-6*scale, 1e-9))
	step := d.x.size() / bins
	d.width, d.first = step, d.x.low-step/2
	d.x = span{d.first, d.first + (bins+1)*step}
	d.counts, d.tails = make([]int, bins+1), make([]int, bins+1)
	limit := seen - 1e-9*math.Abs(seen) // as many as the test counts
	for _, v := range values {
		bin := int(math.Floor((v - d.first) / step))
		if bin < 0 || bin > bins {
			d.beyond++
			continue
		}
		d.counts[bin]++
		if v >= limit {
			d.tails[bin]++
		}
	}
	for _, n := range d.counts {
		d.greatestBin = max(d.greatestBin, float64(n)/float64(d.total))
	}
	d.decimals = max(0, min(9, 2-int(math.Floor(math.Log10(d.x.size())))))
	return d
}

func (d distribution) value(v float64) string { return number(v, d.decimals) }

func (d distribution) withUnit(v float64) string {
	return strings.TrimRight(d.value(v)+" "+d.unit, " ")
}

func (d distribution) statistic() string {
	if d.name == "" {
		return "statistic"
	}
	return d.name
}

func (d distribution) nullText() string {
	if d.null == d.seen {
		return ""
	}
	return " Thin line: as before."
}

func (d distribution) beyondText() string {
	if d.beyond == 0 {
		return ""
	}
	return fmt.Sprintf(" Beyond the axis: %d.", d.beyond)
}

// distribution adds the histogram, its bar and its axis.
func (s *sheet) distribution(d distribution) {
	axes := newXY(d.x, span{0, 100 * d.greatestBin * 1.2}, sideways(d.statistic(), d.unit), "of 100 resamples, in a bar", false, 0)
	if d.fills {
		axes.yName = "of 100 deals, in a bar"
	}
	axes.x = d.x
	axes.y.low = 0 // a bar stands on its zero
	axes.height = 150
	s.addXY(axes, func(c draw.Canvas) { d.paint(c, axes) })
}

func (d distribution) paint(c draw.Canvas, a xy) {
	for i, n := range d.counts {
		if n == 0 {
			continue
		}
		from := d.first + float64(i)*d.width
		low := a.at(c, from, 0)
		middle := a.at(c, from, 100*float64(d.tails[i])/float64(d.total))
		high := a.at(c, from+d.width, 100*float64(n)/float64(d.total))
		if d.fills && d.tails[i] > 0 {
			c.SetColor(stageColours[1])
			c.Fill(vg.Rectangle{Min: low, Max: vg.Point{X: high.X, Y: middle.Y}}.Path())
		}
		c.SetLineStyle(draw.LineStyle{Color: stageColours[0], Width: 0.7})
		c.Stroke(vg.Rectangle{Min: low, Max: high}.Path())
	}
	if d.null != d.seen {
		x := a.at(c, d.null, 0).X
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8}, x, c.Min.Y, x, c.Max.Y)
	}
	if d.hasBar {
		low, high := a.at(c, d.bar.low, 0), a.at(c, d.bar.high, 0)
		c.SetColor(stageColours[0])
		c.Fill(vg.Rectangle{Min: vg.Point{X: low.X, Y: low.Y + 2}, Max: vg.Point{X: high.X, Y: low.Y + 7}}.Path())
		c.SetLineStyle(draw.LineStyle{Color: paper, Width: 0.9})
		c.Stroke(vg.Rectangle{Min: vg.Point{X: low.X, Y: low.Y + 2}, Max: vg.Point{X: high.X, Y: low.Y + 7}}.Path())
	}
	x := a.at(c, d.seen, 0).X
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1.6}, x, c.Min.Y, x, c.Max.Y)
	text := "seen: " + d.withUnit(d.seen)
	w := vg.Length(notePen.width(text) * noteSlack)
	left := x + 4
	if left+w > c.Max.X {
		left = x - 4 - w
	}
	writeOver(c, notePen, left, c.Max.Y-vg.Length(notePen.size), text)
}

package dispersion

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
)

// String returns the description as aligned tables. Regions are shown by the
// radius √(area/π), since nobody sees areas.
func (d Description) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s; intervals and regions at level %g\n", shots(d.N), d.Level)
	d.table(&b, "centre\tside\tcarry\tregion's radius", len(d.Centres), func(i int) string {
		c, region := d.Centres[i], "-"
		if c.Region != nil {
			region = number(regionRadius(c.Region))
		}
		return fmt.Sprintf("%s\t%s\t%s\t%s", c.Method, number(c.Point.X), number(c.Point.Y), region)
	})
	d.table(&b, "spread per axis\tside\tcarry", len(d.PerAxis), func(i int) string {
		s := d.PerAxis[i]
		return fmt.Sprintf("%s\t%s\t%s", s.Method, number(s.Side), number(s.Carry))
	})
	d.table(&b, "spread\tvalue\tlow\thigh", len(d.Sizes), func(i int) string {
		s := d.Sizes[i]
		return fmt.Sprintf("%s\t%s\t%s\t%s", s.Name, number(s.Value), number(s.Interval.Low), number(s.Interval.High))
	})
	d.table(&b, "region\tradius\tholds", len(d.Regions), func(i int) string {
		r := d.Regions[i]
		return fmt.Sprintf("%s\t%s\t%s", r.Name, number(regionRadius(r.Region)), r.Region.Holds())
	})
	fmt.Fprintln(&b)
	if d.Axes != nil {
		fmt.Fprintf(&b, "along its own axes %s and %s, the longer one %.0f° from side toward carry\n",
			number(d.Axes.Major), number(d.Axes.Minor), d.Axes.Angle*180/math.Pi)
	}
	fmt.Fprintf(&b, "mean distance from the mean %s\n", number(d.MeanDistance))
	if d.Largest != nil {
		fmt.Fprintf(&b, "largest distance of two shots %s (for show: it grows with the number of shots)\n", number(d.Largest.Distance))
	}
	for _, w := range d.doubts() {
		fmt.Fprintf(&b, "careful: %s\n", w)
	}
	for _, m := range d.Missing {
		fmt.Fprintf(&b, "without %s: %s\n", m.What, strings.TrimPrefix(m.Why.Error(), "dispersion: "))
	}
	return b.String()
}

// doubts returns the warnings of regions that are there.
func (d Description) doubts() []string {
	var doubts []string
	for _, c := range d.Centres {
		if c.Region == nil {
			continue // the warning is the reason, in Missing
		}
		for _, w := range c.Warnings {
			doubts = append(doubts, fmt.Sprintf("%s: %s", c.Method, w))
		}
	}
	for _, r := range d.Regions {
		if e, ok := r.Region.(Ellipse); ok {
			for _, w := range e.Warnings {
				doubts = append(doubts, fmt.Sprintf("%s: %s", r.Name, w))
			}
		}
	}
	return doubts
}

func (d Description) table(b *strings.Builder, head string, rows int, row func(int) string) {
	if rows == 0 {
		return
	}
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "\n%s\n", head)
	for i := range rows {
		fmt.Fprintln(w, row(i))
	}
	w.Flush() // into a strings.Builder, which takes everything
}

func regionRadius(r Region) float64 { return math.Sqrt(r.Area() / math.Pi) }

// number writes four digits, and all before the point.
func number(v float64) string {
	if a := math.Abs(v); a >= 1000 && a < 1e7 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.4g", v)
}

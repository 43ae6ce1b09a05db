package chart

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// PairsInput is what Pairs draws. The zero value of Title stands for a general
// one.
type PairsInput struct {
	Title string
	Unit  string // of side and carry
	Pairs []Pair // numbered from 1 in this order
}

// A Pair is a before and an after, one small plan of Pairs.
type Pair struct{ Before, After []dispersion.Point }

const (
	mostPairs   = 24
	pairsAcross = 3
	pairsGap    = 7.0 // points between two plans of a row
	pairsPlan   = (textWidth - (pairsAcross-1)*pairsGap) / pairsAcross
)

// Pairs returns a figure of many small plans side by side, numbered, each a
// before and an after: for guessing which of them changed. All show the same part
// of the plane at one scale; before is hollow, after filled. There are no rings
// and no means, so that the eye is alone with the dots.
//
// A shot so far off that it would squash the rest is drawn at the edge of its plan
// with an arrowhead.
//
// Errors: [ErrEmpty] for no pairs; *[InputError] for more than 24, a side without
// shots, and a number that is not finite or too large.
//
// Pairs does not modify its input.
func Pairs(in PairsInput) (Figure, error) {
	if len(in.Pairs) == 0 {
		return Figure{}, fmt.Errorf("chart: no pairs: %w", ErrEmpty)
	}
	if len(in.Pairs) > mostPairs {
		return Figure{}, &InputError{fmt.Sprintf("%d pairs", len(in.Pairs)), fmt.Sprintf("one picture holds at most %d", mostPairs)}
	}
	var layers []layer
	for i, pair := range in.Pairs {
		for k, shots := range [][]dispersion.Point{pair.Before, pair.After} {
			where := fmt.Sprintf("pair %d, %s", i+1, []string{"before", "after"}[k])
			if len(shots) == 0 {
				return Figure{}, &InputError{where, "no shots"}
			}
			if err := checkShots(shots, nil, where); err != nil {
				return Figure{}, err
			}
			layers = append(layers, layer{shots: Shots{Points: shots}})
		}
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "Which of these changed?"
	}
	unit := plain(in.Unit, 12)
	f := newFrame(framed(layers), pairsPlan, pairsPlan)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	for first := 0; first < len(in.Pairs); first += pairsAcross {
		row := in.Pairs[first:min(first+pairsAcross, len(in.Pairs))]
		sheet.add(namePen.leading()+2, func(c draw.Canvas) {
			for i := range row {
				namePen.write(c, c.Min.X+pairLeft(i), c.Max.Y-vg.Length(namePen.size), fmt.Sprint(first+i+1))
			}
		})
		sheet.add(f.height, func(c draw.Canvas) {
			for i, pair := range row {
				left := pairLeft(i)
				paintBeforeAfter(draw.Crop(c, left, left+pairsPlan-(c.Max.X-c.Min.X), 0, 0), f, pair.Before, pair.After)
			}
		})
		sheet.skip(5)
	}
	sheet.prose(smallPen, fmt.Sprintf("Seen from above, carry up the page, lines every %s, the upright one in ink to the target. Hollow: before. Filled: after.",
		strings.TrimSpace(number(f.step, decimalsOf(f.step))+" "+unit)), 3)
	return sheet.figure(title, pairsAlt(title, unit, in.Pairs)), nil
}

// pairLeft returns where the i-th plan of a row begins.
func pairLeft(i int) vg.Length { return vg.Length(sheetMargin + float64(i)*(pairsPlan+pairsGap)) }

// pairsAlt tells each pair in numbers, so that whoever can't see it can guess too.
func pairsAlt(title, unit string, pairs []Pair) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. %s in plan view, carry up the page, side across.", strings.TrimRight(title, ".?"), count(len(pairs), "pair"))
	for i, pair := range pairs {
		fmt.Fprintf(&b, " Pair %d:", i+1)
		for k, shots := range [][]dispersion.Point{pair.Before, pair.After} {
			l := layer{detail: fmt.Sprintf(" %s, %s", []string{"before", "after"}[k], count(len(shots), "shot")), shots: Shots{Points: shots}}
			b.WriteString(groupAlt(l, unit))
		}
	}
	return b.String()
}

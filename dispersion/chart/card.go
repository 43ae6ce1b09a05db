package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// CardInput is what Card draws. The zero value of Title stands for a general
// one.
type CardInput struct {
	Title string
	Card  strokes.Card
}

const mostClubs = 20

// Card returns the carry card of a pupil as one sheet to print: for each club
// the median carry, the range that holds 8 of 10 clean shots as a bar, how often
// it is mishit, and between two clubs their gap and how much they overlap. Where
// there are too few shots it says so and how many more it takes.
//
// Errors: [ErrEmpty] for no clubs; *[InputError] for more than 20 or for a carry
// that is not finite or too large.
func Card(in CardInput) (Figure, error) {
	clubs := in.Card.Clubs
	if len(clubs) == 0 {
		return Figure{}, fmt.Errorf("chart: no clubs: %w", ErrEmpty)
	}
	if len(clubs) > mostClubs {
		return Figure{}, &InputError{fmt.Sprintf("%d clubs", len(clubs)), fmt.Sprintf("one card holds at most %d", mostClubs)}
	}
	unit := plain(string(in.Card.Unit), 12)
	title := plain(in.Title, longestText)
	if title == "" {
		title = cardTitle(in.Card)
	}
	x, err := cardExtent(clubs)
	if err != nil {
		return Figure{}, err
	}
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(6)
	step := niceStep(x.size() * 40 / textWidth)
	top := sheet.y
	for _, c := range clubs {
		sheet.cardClub(c, unit, x)
	}
	grid := part{top, sheet.y - top, func(c draw.Canvas) {
		for _, t := range ticks(x, step) {
			at := cardX(c, x, t)
			c.StrokeLine2(draw.LineStyle{Color: rule, Width: 0.6}, at, c.Min.Y, at, c.Max.Y)
		}
	}}
	sheet.parts = append([]part{grid}, sheet.parts...)
	sheet.add(smallPen.leading()+4, func(c draw.Canvas) {
		for _, t := range ticks(x, step) {
			text := number(t, decimalsOf(step))
			w := vg.Length(smallPen.width(text) * noteSlack)
			at := min(max(cardX(c, x, t)-w/2, c.Min.X+2), c.Max.X-2-w)
			smallPen.write(c, at, c.Max.Y-vg.Length(smallPen.size)-3, text)
		}
	})
	sheet.add(smallPen.leading()+4, func(c draw.Canvas) {
		text := sideways("carry", unit)
		smallPen.write(c, (c.Min.X+c.Max.X-vg.Length(smallPen.width(text)))/2, c.Max.Y-vg.Length(smallPen.size), text)
	})
	sheet.prose(smallPen, "Diamond: the median of the clean shots; half of them carry farther. Bar: 8 of 10 clean shots to come. Overlap: how often a shot with the shorter club carries farther; 50 % would be one club.", 4)
	return sheet.figure(title, cardAlt(title, in.Card)), nil
}

func cardTitle(card strokes.Card) string {
	title := "How far the clubs carry"
	if card.Pupil != "" {
		title = plain(card.Pupil, longestName) + ": how far the clubs carry"
	}
	if card.Session != "" {
		title += ", " + plain(card.Session, longestName)
	}
	return title
}

// cardExtent returns the carries that the axis must hold, with some room.
func cardExtent(clubs []strokes.CardClub) (span, error) {
	x := span{math.Inf(1), math.Inf(-1)}
	for i, c := range clubs {
		carries := []float64{c.Carry}
		if c.EightOfTen != nil {
			carries = append(carries, c.EightOfTen.Low, c.EightOfTen.High)
		}
		for _, v := range carries {
			if err := checkNumber(v, fmt.Sprintf("club %d, %q", i+1, plain(c.Club, longestName)), "carry"); err != nil {
				return x, err
			}
			if c.Clean() > 0 {
				x = x.join(span{v, v})
			}
		}
	}
	if x.size() < 0 {
		x = span{0, 1}
	}
	return x.widened(max(x.size()*1.1, 10)), nil
}

func cardX(c draw.Canvas, x span, v float64) vg.Length {
	return c.Min.X + axisInset + vg.Length((v-x.low)/x.size())*(c.Max.X-c.Min.X-2*axisInset)
}

// cardClub adds the line of a club and what is between it and the next.
func (s *sheet) cardClub(club strokes.CardClub, unit string, x span) {
	name := plain(club.Club, longestName)
	if name == "" {
		name = "club not named"
	}
	carry := "no clean shot"
	if club.Clean() > 0 {
		carry = wholeLength(club.Carry, unit)
	}
	s.add(titlePen.leading(), func(c draw.Canvas) {
		y := c.Max.Y - vg.Length(titlePen.size)
		w := titlePen.width(carry)
		writeOver(c, titlePen, c.Min.X+sheetMargin, y, titlePen.fit(name, textWidth-w-12))
		writeOver(c, titlePen, c.Max.X-sheetMargin-vg.Length(w*noteSlack), y, carry)
	})
	if club.Clean() > 0 {
		s.add(14, func(c draw.Canvas) { paintCardBar(c, club, x) })
	}
	for _, l := range smallPen.wrap(cardDetails(club, unit), textWidth, 2) {
		s.add(smallPen.leading(), func(c draw.Canvas) {
			writeOver(c, smallPen, c.Min.X+sheetMargin, c.Max.Y-vg.Length(smallPen.size), l)
		})
	}
	if next := club.Next; next != nil {
		s.skip(4)
		s.add(notePen.leading(), func(c draw.Canvas) {
			writeOver(c, notePen, c.Min.X+sheetMargin+12, c.Max.Y-vg.Length(notePen.size), notePen.fit(cardGap(*next, unit), textWidth-12))
		})
	}
	s.skip(9)
}

func paintCardBar(c draw.Canvas, club strokes.CardClub, x span) {
	y := (c.Min.Y + c.Max.Y) / 2
	if r := club.EightOfTen; r != nil {
		c.SetColor(stageColours[0])
		c.Fill(vg.Rectangle{Min: vg.Point{X: cardX(c, x, r.Low), Y: y - 3.5}, Max: vg.Point{X: cardX(c, x, r.High), Y: y + 3.5}}.Path())
	}
	paintEstimate(c, vg.Point{X: cardX(c, x, club.Carry), Y: y})
}

// cardDetails says what the bar shows, how many shots that rests on, and what is
// too little to say.
func cardDetails(club strokes.CardClub, unit string) string {
	said := "the range: too few to say, " + count(club.TooFew(), "more clean shot")
	if r := club.EightOfTen; r != nil {
		said = fmt.Sprintf("8 of 10 from %s to %s", number(r.Low, 0), wholeLength(r.High, unit))
	}
	if club.Mishits > 0 {
		return fmt.Sprintf("%s; %s, %d of them mishit", said, count(club.Shots, "shot"), club.Mishits)
	}
	return fmt.Sprintf("%s; %s, none mishit", said, count(club.Shots, "shot"))
}

func cardGap(gap strokes.CardGap, unit string) string {
	return fmt.Sprintf("gap to the %s: %s; overlap %s %%", plain(gap.Club, longestName), wholeLength(gap.Gap, unit), number(100*gap.Overlap, 0))
}

// wholeLength writes a length to the unit: a club is no finer.
func wholeLength(v float64, unit string) string {
	return strings.TrimSpace(number(v, 0) + " " + unit)
}

func cardAlt(title string, card strokes.Card) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. One line for each club, from the shortest.", strings.TrimRight(title, "."))
	unit := plain(string(card.Unit), 12)
	for _, c := range card.Clubs {
		fmt.Fprintf(&b, " %s", plain(c.Club, longestName))
		if c.Clean() > 0 {
			fmt.Fprintf(&b, ", median %s", wholeLength(c.Carry, unit))
		}
		b.WriteString(": " + cardDetails(c, unit))
		if c.Next != nil {
			b.WriteString("; " + cardGap(*c.Next, unit))
		}
		b.WriteByte('.')
	}
	return b.String()
}

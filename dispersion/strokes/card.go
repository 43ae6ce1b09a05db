package strokes

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Card is how far the clubs of a pupil carry, for the pocket.
type Card struct {
	Pupil, Session string
	Unit           lesson.Unit
	Clubs          []CardClub // from the shortest to the longest
}

// A CardClub is one line of a card. Lengths are in the unit of the card.
type CardClub struct {
	Club    string
	Stage   string // whose shots these are
	Shots   int    // all that count, mishits among them
	Mishits int    // how many of Shots

	Carry float64 // median of the clean shots; 0 with none

	// EightOfTen is the range that holds 8 of 10 clean shots, nil where there
	// are too few to say.
	EightOfTen *dispersion.Interval

	// Next compares with the next longer club; nil for the longest and where
	// there are too few clean shots of one of the two to say.
	Next *CardGap
}

// A CardGap is how two clubs differ.
type CardGap struct {
	Club    string  // the longer one
	Gap     float64 // between the median carries
	Overlap float64 // in what share of pairs the shorter club carries farther, ties counted half: 0 never, 0.5 like one club
}

// Clean returns how many shots were no mishits.
func (c CardClub) Clean() int { return c.Shots - c.Mishits }

// MishitShare returns the share of mishits.
func (c CardClub) MishitShare() float64 { return float64(c.Mishits) / float64(c.Shots) }

// CardShots are how many clean shots the range of 8 in 10 takes: the interval
// between the smallest and the largest of n shots holds (n-1)/(n+1) of those to
// come on average, and that is 8 of 10 from nine shots on.
const CardShots = 9

// TooFew returns how many more clean shots it takes to say what is missing on
// the line, 0 where nothing is.
func (c CardClub) TooFew() int { return max(CardShots-c.Clean(), 0) }

// NewCard returns the card of a lesson: for each club the shots of its last
// stage that was neither a drill nor a return to the old swing, mishits being
// those of [lesson.Lesson.Groups].
//
// The range of 8 in 10 runs between the carries of rank (n+1)/10 and
// 9(n+1)/10, between two shots in proportion. It holds 8 of 10 clean shots to
// come on average, for independent shots: whatever their law where
// (n+1)/10 is whole; otherwise within two in a hundred of normal shots, three of
// t(3), and four of laws with the tails of Cauchy's.
//
// Errors: [ErrMissing] for no lesson or for one with no such stage.
//
// Reference: S. S. Wilks, "Determination of Sample Sizes for Setting Tolerance
// Limits", Annals of Mathematical Statistics 12(1), 1941, pp. 91-96 (the share
// between two ranks).
func NewCard(l *lesson.Lesson) (Card, error) {
	if l == nil {
		return Card{}, fmt.Errorf("strokes: a carry card: %w", ErrMissing)
	}
	latest := map[string]lesson.Group{}
	for _, g := range l.Groups() {
		if g.Stage.Intent != lesson.Drill && !g.Stage.Bookend {
			latest[g.Club] = g
		}
	}
	if len(latest) == 0 {
		return Card{}, fmt.Errorf("strokes: a carry card of a lesson without a stage of full swings: %w", ErrMissing)
	}
	card := Card{Pupil: l.Pupil, Session: l.Session, Unit: l.Unit}
	carries := map[string][]float64{}
	for club, g := range latest {
		clean := g.Values("carry")
		slices.Sort(clean)
		carries[club] = clean
		c := CardClub{Club: club, Stage: g.Stage.Name, Shots: len(g.Shots), Mishits: g.Mishits()}
		if len(clean) > 0 {
			c.Carry = median(clean)
		}
		if len(clean) >= CardShots {
			c.EightOfTen = &dispersion.Interval{Low: ranked(clean, 0.1), High: ranked(clean, 0.9), Level: 0.8}
		}
		card.Clubs = append(card.Clubs, c)
	}
	slices.SortFunc(card.Clubs, func(a, b CardClub) int {
		return cmp.Or(cmp.Compare(a.Carry, b.Carry), cmp.Compare(a.Club, b.Club))
	})
	for i := range len(card.Clubs) - 1 {
		c, next := &card.Clubs[i], card.Clubs[i+1]
		if c.TooFew() == 0 && next.TooFew() == 0 {
			c.Next = &CardGap{Club: next.Club, Gap: next.Carry - c.Carry, Overlap: overlap(carries[c.Club], carries[next.Club])}
		}
	}
	return card, nil
}

// ranked returns the value of rank share·(n+1) of sorted values.
func ranked(sorted []float64, share float64) float64 {
	rank := share * float64(len(sorted)+1)
	k := int(math.Floor(rank + 1e-9))
	if k >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[k-1] + max(rank-float64(k), 0)*(sorted[k]-sorted[k-1])
}

// overlap returns the share of pairs in which the shorter club carries farther,
// ties counting half.
func overlap(shorter, longer []float64) float64 {
	sum := 0.0
	for _, s := range shorter {
		for _, l := range longer {
			switch {
			case s > l:
				sum++
			case s == l:
				sum += 0.5
			}
		}
	}
	return sum / float64(len(shorter)*len(longer))
}

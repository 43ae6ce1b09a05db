package strokes

import (
	"fmt"
	"strings"
)

// A Penalty is what a ball in a hazard costs and where it is played from next.
type Penalty int

// The penalties. Whatever the hazard, the player may go back to where the
// stroke was made; where that is not the only way he takes the cheaper one.
const (
	NoPenalty Penalty = iota

	// DropOnLine is one stroke and a drop behind the place where the ball last
	// crossed the edge of the hazard, on the line from the flag through it.
	DropOnLine

	// StrokeAndDistance is one stroke and a return to where the ball was.
	StrokeAndDistance
)

var penaltyNames = [...]string{NoPenalty: "none", DropOnLine: "drop on the line", StrokeAndDistance: "stroke and distance"}

// String returns the penalty as a plan of a hole names it.
func (p Penalty) String() string {
	if p < NoPenalty || p > StrokeAndDistance {
		return fmt.Sprintf("Penalty(%d)", int(p))
	}
	return penaltyNames[p]
}

// A Ground is what a ball finds where it lands: a lie, or a hazard with its
// penalty.
type Ground struct {
	Tag     string  // as in the plan: "fairway", "water" …
	Lie     Lie     // 0 in a hazard
	Penalty Penalty // NoPenalty on a lie
}

// grounds are the tags of a plan. Where areas overlap the later one here is on
// top: a bunker cut into a fairway needs no hole in the fairway.
var grounds = []Ground{
	{Tag: "rough", Lie: Rough},
	{Tag: "fairway", Lie: Fairway},
	{Tag: "recovery", Lie: Recovery},
	{Tag: "green", Lie: Green},
	{Tag: "bunker", Lie: Sand},
	{Tag: "water", Penalty: DropOnLine},
	{Tag: "out of bounds", Penalty: StrokeAndDistance},
}

// outside is the ground beyond every area of a plan.
var outside = grounds[0]

func groundOf(tag string) (g Ground, rank int, ok bool) {
	plain := strings.ToLower(strings.TrimSpace(tag))
	for i, g := range grounds {
		if g.Tag == plain {
			return g, i, true
		}
	}
	return Ground{}, 0, false
}

func groundTags() string {
	tags := make([]string, len(grounds))
	for i, g := range grounds {
		tags[i] = g.Tag
	}
	return strings.Join(tags, ", ")
}

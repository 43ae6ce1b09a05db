package review

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Front is what a pupil is shown first: the pair to picture, one sentence, and
// the next task.
type Front struct {
	Pair lesson.Pair
	Says string
	Next string
}

// Fronts returns the front of each club with two stages to compare. The others are
// in [Review.Uncompared].
func (r *Review) Fronts(ctx context.Context) ([]Front, error) {
	var out []Front
	for _, p := range r.Headlines() {
		f, mixture, err := r.headline(ctx, p)
		if err != nil {
			return nil, err
		}
		out = append(out, Front{Pair: p, Says: r.caption(f.headlineSentence(mixture)), Next: "Next: " + nextTask(f)})
	}
	return out, nil
}

// nextTask says what to do after a verdict. What it says of a body or of a swing
// is left to the coach.
func nextTask(f Finding) string {
	n := max(len(f.Pair.Before.Shots), len(f.Pair.After.Shots))
	switch v := f.Verdict; {
	case v == nil:
		return fmt.Sprintf("hit %d balls or more of each, the swing as it came again at the end.", fewestForVerdict)
	case v.Kind == compare.WorthHaving:
		return "open the next session with ten balls like these, before any teaching. What is still there then was learned."
	case v.Kind == compare.Worse:
		return "this one carried shorter. Ask your coach what it was for before you hit more of it."
	case v.Kind == compare.NoGainWorth:
		return "ask your coach for another change to try; more balls with this one will hardly show a gain."
	case f.Pair.Bookend == nil:
		return fmt.Sprintf("hit it once more, %s of each, and end with the swing as it came: without that nobody can tell a gain from warming up.", count(n, "ball"))
	case v.MoreBalls > 0:
		return fmt.Sprintf("%s more of each swing, in turns, would settle it.", count(v.MoreBalls, "ball"))
	}
	return fmt.Sprintf("hit both again, %s of each, in turns.", count(n, "ball"))
}

// fewestForVerdict is a stage from which a verdict may be hoped for.
const fewestForVerdict = 10

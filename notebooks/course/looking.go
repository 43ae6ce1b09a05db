package course

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// Looks say when a coach looks at the result: after Old balls with the old
// swing, at every ball of the new one from First to Last.
type Looks struct{ Old, First, Last int }

// LookTable counts how often three ways of looking find a gain, where there is
// none and where there is one, and after how many new balls. All three see the
// same lessons.
func LookTable(ctx context.Context, k Looks, sd, gain float64, lessons int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("%d balls with the old swing, then up to %d with the new one, σ = %g yd; %d lessons each. How many of 100 end with “longer”, and after how many new balls.", k.Old, k.Last, sd, lessons),
		Header:  []string{"The coach", "No gain", fmt.Sprintf("A gain of %g yd", gain), "New balls then"},
	}
	none, err := k.lookAt(ctx, sd, 0, lessons, seed, 1)
	if err != nil {
		return t, err
	}
	some, err := k.lookAt(ctx, sd, gain, lessons, seed, 2)
	if err != nil {
		return t, err
	}
	for i, name := range []string{"looks once, at the end", "looks after each ball", "looks, and pays for it"} {
		t.Rows = append(t.Rows, []string{name, fmt.Sprintf("%.1f", none[i].share(lessons)), fmt.Sprintf("%.1f", some[i].share(lessons)), fmt.Sprintf("%.0f", some[i].mean())})
	}
	return t, nil
}

// found counts the lessons in which a gain was found, and the balls till then.
type found struct{ lessons, balls int }

func (f found) share(of int) float64 { return 100 * float64(f.lessons) / float64(of) }

func (f found) mean() float64 {
	if f.lessons == 0 {
		return 0
	}
	return float64(f.balls) / float64(f.lessons)
}

// lookAt hits lessons of a true gain and looks at them: once at the end, after
// each ball, and after each ball with the interval that allows for it.
func (k Looks) lookAt(ctx context.Context, sd, gain float64, lessons int, seed, part uint64) ([3]found, error) {
	var out [3]found
	r := random(seed, 20+part)
	for range lessons {
		old, fresh := drawCarries(r, k.Old, 140, sd), drawCarries(r, k.Last, 140+gain, sd)
		var seen [3]bool
		for n := k.First; n <= k.Last; n++ {
			once, err := compare.MeanGain(ctx, compare.NameCarryGain, "yd", old, fresh[:n], quick(planLevel))
			if err != nil {
				return out, err
			}
			paid, err := compare.AnytimeGain(ctx, compare.NameCarryGain, "yd", old, fresh[:n], quick(planLevel))
			if err != nil {
				return out, err
			}
			longer := once.Interval.Low > 0
			for i, yes := range [3]bool{longer && n == k.Last, longer, paid.Interval.Low > 0} {
				if yes && !seen[i] {
					seen[i] = true
					out[i].lessons++
					out[i].balls += n
				}
			}
		}
	}
	return out, nil
}

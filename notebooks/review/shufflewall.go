package review

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A PairWall is the shuffle wall of one headline.
type PairWall struct {
	Pair lesson.Pair
	Wall *compare.Wall // nil where there is none, Says says why
	Says string        // which stages hang there
	Key  string        // which picture is the real one; "" where there is none
}

// Walls returns the shuffle wall of each headline, without its mishits, which would
// squash the pictures. Which ball counts as mishit is judged here on the balls of
// both stages as if they were one: judged stage by stage it would tell the stages
// apart, and dealing the rest anew would not be fair.
//
// Where the real picture hangs depends on the balls alone, so that it is in the
// same place whenever this lesson is opened, and in another for another lesson.
func (r *Review) Walls() ([]PairWall, error) {
	var out []PairWall
	for _, p := range r.Headlines() {
		w := PairWall{Pair: p}
		options := r.options
		options.Seed ^= fingerprint(p)
		before, after, mishits, err := unmarked(p)
		var wall compare.Wall
		if err == nil { // not where all balls of a stage are mishits of the two together
			wall, err = compare.ShuffleWall(before, after, options)
		}
		var few *dispersion.TooFewError
		switch {
		case errors.As(err, &few):
			w.Says = fmt.Sprintf("%s: no wall, %s.", pairName(p), plain(err))
		case err != nil:
			return nil, err
		default:
			w.Wall, w.Key = &wall, pairName(p)+": "+lowerFirst(wall.Key())
			w.Says = fmt.Sprintf("%s: %s before, %d after.", pairName(p), count(wall.N1, "ball"), wall.N2)
			if mishits > 0 {
				w.Says += fmt.Sprintf(" %s left out, judged on all of these balls together.", count(mishits, "mishit"))
			}
		}
		out = append(out, w)
	}
	return out, nil
}

// WallTable lists the pictures in numbers, for those who can't see them. Like the
// pictures it does not tell which one is real.
func (r *Review) WallTable(w PairWall) (show.TableData, error) {
	unit := string(r.Lesson.Unit)
	t := show.TableData{
		Caption: r.caption(fmt.Sprintf("Each picture of the wall, in %s: after less before, on average, and the radius of both.", unit)),
		Header:  []string{"Picture", "Longer by", "Further right by", "Radius before", "Radius after"},
	}
	for i, d := range w.Wall.Deals {
		var mean [2]dispersion.Point
		var radii [2]string
		for side, points := range [][]dispersion.Point{d.Before, d.After} {
			g, err := dispersion.NewGroup(points)
			if err != nil {
				return t, err
			}
			mean[side], radii[side] = g.Mean(), dash
			if radius, err := g.Radius(r.options.Level); err == nil {
				radii[side] = tenths(radius.Raw)
			}
		}
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), tenths(mean[1].Y - mean[0].Y), tenths(mean[1].X - mean[0].X), radii[0], radii[1],
		})
	}
	return t, nil
}

// unmarked returns the clean shots of a pair, and how many are none, by the rule of
// a lesson whose balls carry no mark of their stage.
func unmarked(p lesson.Pair) (before, after *dispersion.Group, mishits int, err error) {
	var l lesson.Lesson
	for _, s := range append(slices.Clone(p.Before.Shots), p.After.Shots...) {
		s.Stage = ""
		l.Shots = append(l.Shots, s)
	}
	marks := l.Groups()[0].Mishit
	n1 := len(p.Before.Shots)
	one, other := p.Before, p.After
	one.Mishit, other.Mishit = marks[:n1], marks[n1:]
	before, err = one.Clean()
	if err == nil {
		after, err = other.Clean()
	}
	return before, after, one.Mishits() + other.Mishits(), err
}

// fingerprint is a number that these balls, in this order, have and others hardly
// ever.
func fingerprint(p lesson.Pair) uint64 {
	h := fnv.New64a()
	for _, g := range []lesson.Group{p.Before, p.After} {
		for _, s := range g.Shots {
			for _, v := range []float64{s.Point().X, s.Point().Y} {
				var bits [8]byte
				binary.LittleEndian.PutUint64(bits[:], math.Float64bits(v))
				h.Write(bits[:]) // a hash never fails
			}
		}
	}
	return h.Sum64()
}

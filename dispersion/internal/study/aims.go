package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// aimSteps are the distances between two aims that are looked at, in metres.
var aimSteps = []float64{4, 2, defaultAimStep, 0.5, 0.25}

const defaultAimStep = 1.0

var aimLaws = []strokes.Law{strokes.Normal, strokes.HeavyTailed, strokes.AsHit}

// moved is the most that a finer grid changes.
type moved struct{ strokes, metres float64 }

// aimGrid writes how the best aim and what it costs move as the grid is refined.
func aimGrid(out string, seed uint64) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, `# Where to aim: how fine the grid has to be

Made by `+"`go run ./dispersion/internal/study aims`"+`, seed %d. Twenty shots are drawn around a point 4 m right of the flag,
with standard deviations of 8 m in side and 7 m in carry, and looked at as hit, as a normal and as a heavy-tailed law,
on the two invented holes of package datasets, before the computed baseline of its middle illustrative player. Aims
reach 40 m around the flag. The default step is 1 m.

What a law with a density costs settles as the steps shrink. The shots as hit are 20 points, each a twentieth of the
pattern, and the edge of the water is sharp: moving an aim by less than a step can carry one ball across it. So their
best aim follows single balls, and what it costs does not settle. Read the region of good aims, or take a law.
`, seed)
	player := strokes.IllustrativePlayers()[2]
	baseline, err := strokes.Compute(player, strokes.CommonHole())
	if err != nil {
		return err
	}
	settled := map[strokes.Law]moved{}
	var tables bytes.Buffer
	for _, plan := range []struct {
		file   []byte
		metres float64 // 0: from the tee
	}{{datasets.DemoPondFile(), 140}, {datasets.DemoPondFile(), 90}, {datasets.DemoIslandFile(), 0}} {
		hole, err := strokes.ReadHole(bytes.NewReader(plan.file))
		if err != nil {
			return err
		}
		metres := plan.metres
		if metres == 0 {
			metres = hole.Length()
		}
		view, err := hole.Approach(metres, baseline)
		if err != nil {
			return err
		}
		fmt.Fprintf(&tables, "\n## %s, from %.0f m\n\n", hole.Name(), metres)
		if err := aimRows(&tables, view, seed, settled); err != nil {
			return err
		}
	}
	fmt.Fprintf(&b, "\nFrom the default step of %g m to the finest of %g m, at most:\n\n| shots taken | strokes at the best aim move by | the best aim moves by, m |\n| --- | ---: | ---: |\n", defaultAimStep, aimSteps[len(aimSteps)-1])
	for _, law := range aimLaws {
		fmt.Fprintf(&b, "| %v | %.4f | %.2f |\n", law, settled[law].strokes, settled[law].metres)
	}
	b.Write(tables.Bytes())
	return os.WriteFile(filepath.Join(out, "aims.md"), b.Bytes(), 0o644)
}

// aimRows writes a row for every step and law.
func aimRows(b *bytes.Buffer, view *strokes.View, seed uint64, settled map[strokes.Law]moved) error {
	far := view.Distance()
	r := rand.New(rand.NewPCG(seed, uint64(far)))
	shots := make([]dispersion.Point, 20)
	for i := range shots {
		shots[i] = dispersion.Point{X: 4 + 8*r.NormFloat64(), Y: far + 7*r.NormFloat64()}
	}
	group, err := dispersion.NewGroup(shots)
	if err != nil {
		return err
	}
	fmt.Fprint(b, "| shots taken | step, m | best aim: side, m | carry, m | strokes there | at the flag | good aims: from | to, m |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	for _, law := range aimLaws {
		pattern, err := strokes.NewPattern(group, lesson.Metres, law)
		if err != nil {
			return err
		}
		var standard strokes.Aim
		for i, step := range aimSteps {
			fmt.Fprintf(os.Stderr, "aims: %v at %g m\n", law, step)
			a, err := view.BestAim(context.Background(), pattern, strokes.AimOptions{Left: -40, Right: 40, Short: far - 40, Long: far + 40, Step: step})
			if err != nil {
				return err
			}
			fmt.Fprintf(b, "| %v | %g | %.2f | %.2f | %.4f | %.4f | %.1f | %.1f |\n",
				law, step, a.Point.X, a.Point.Y, a.Expected, a.StraightExpected, a.Left, a.Right)
			if step == defaultAimStep {
				standard = a
			}
			if i == len(aimSteps)-1 {
				m := settled[law]
				settled[law] = moved{
					max(m.strokes, math.Abs(a.Expected-standard.Expected)),
					max(m.metres, math.Hypot(a.Point.X-standard.Point.X, a.Point.Y-standard.Point.Y)),
				}
			}
		}
	}
	return nil
}

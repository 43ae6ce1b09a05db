package review

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A Course is where the worth of a change is looked at: one hole, and the
// baseline that says what is still to play from where a ball lands.
type Course struct {
	Hole     *strokes.Hole
	Baseline strokes.Baseline
	Yards    []float64 // distances to play from; those beyond the hole are left out
}

// DemoCourse is the invented hole with a pond, for a player who drives 200 m,
// with approaches from 100 to 180 yards.
func DemoCourse() (Course, error) {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	if err != nil {
		return Course{}, err
	}
	player := strokes.IllustrativePlayers()[2]
	baseline, err := strokes.Compute(player, strokes.CommonHole())
	if err != nil {
		return Course{}, err
	}
	return Course{Hole: hole, Baseline: baseline, Yards: []float64{100, 120, 140, 160, 180}}, nil
}

// A CourseWorth is what the change of one headline is worth on a course.
type CourseWorth struct {
	Pair  lesson.Pair
	Worth []strokes.Worth // one for each distance; nil where there is none, Says says why
	Says  []string
}

// OnCourse says for each headline what its change is worth in strokes an
// approach, mishits counted, and where to aim with the new pattern. What can't
// be computed is said and is no error.
func (r *Review) OnCourse(ctx context.Context, c Course) ([]CourseWorth, error) {
	var all []CourseWorth
	for _, p := range r.Headlines() {
		w := CourseWorth{Pair: p}
		if err := r.onCourse(ctx, c, &w); err != nil {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			w.Worth = nil
			w.Says = []string{fmt.Sprintf("%s: what this is worth on the course can't be told: %s.", pairName(p), plain(err))}
		}
		all = append(all, w)
	}
	return all, nil
}

func (r *Review) onCourse(ctx context.Context, c Course, w *CourseWorth) error {
	var patterns [2]strokes.Pattern
	for i, g := range []lesson.Group{w.Pair.Before, w.Pair.After} {
		all, err := g.All()
		if err != nil {
			return err
		}
		if patterns[i], err = strokes.NewPattern(all, r.Lesson.Unit, strokes.AsHit); err != nil {
			return err
		}
	}
	var metres []float64
	for _, yards := range c.Yards {
		if m := yards * lesson.Yards.Metres(); m <= c.Hole.Length() {
			metres = append(metres, m)
		}
	}
	var err error
	if w.Worth, err = strokes.WorthOf(ctx, c.Hole, c.Baseline, patterns[0], patterns[1], metres, r.options); err != nil {
		return err
	}
	middle := w.Worth[len(w.Worth)/2]
	w.Says = []string{fmt.Sprintf("%s: %s", pairName(w.Pair), worthSentence(middle))}
	aim, err := r.aimSentence(ctx, c, w.Pair.After, middle.Distance)
	w.Says = append(w.Says, aim)
	if r.Lesson.Mirrored {
		w.Says = append(w.Says, upperFirst(mirrored)+" here too: for whoever hit these balls, the hole and the aim are those in a mirror.")
	}
	return err
}

// worthSentence words what the change is worth from one distance.
func worthSentence(w strokes.Worth) string {
	e := w.Change
	return fmt.Sprintf("from %.0f yd, aimed at the flag, a shot with the new pattern gains %s strokes on one with the old; these balls fit anything from %s to %s. With both patterns straightened it would be %s: that is the spread's part, the rest is the bias's.",
		yards(w.Distance), gained(e.Estimate), gained(e.Interval.Low), gained(e.Interval.High), gained(w.Spread.Estimate))
}

// aimSentence says where to aim with the shots of a group from a distance. They
// are taken to fall by the heavy-tailed law that fits them, since the aim that
// suits a dozen shots best follows each of them.
func (r *Review) aimSentence(ctx context.Context, c Course, g lesson.Group, metres float64) (string, error) {
	all, err := g.All()
	if err != nil {
		return "", err
	}
	p, err := strokes.NewPattern(all, r.Lesson.Unit, strokes.HeavyTailed)
	if err != nil {
		return fmt.Sprintf("Where to aim can't be told: %s.", plain(err)), nil
	}
	if p, err = p.Scaled(metres); err != nil {
		return "", err
	}
	v, err := c.Hole.Approach(metres, c.Baseline)
	if err != nil {
		return "", err
	}
	o := strokes.AimOptions{Left: -40, Right: 40, Short: max(metres-40, 0), Long: metres + 40}
	a, err := v.BestAim(ctx, p, o)
	if err != nil {
		return "", err
	}
	doubt, err := r.aimDoubt(ctx, v, all, o, metres)
	if err != nil {
		return "", err
	}
	best := "straight at the flag"
	if math.Round(yards(a.Point.X)) != 0 {
		best = aside(a.Point.X) + " of the flag"
	}
	return fmt.Sprintf("From there the new pattern costs least aimed %s, and any aim of a region from %s to %s of it does nearly as well. The best one saves %.2f strokes over aiming at the flag. %s",
		best, aside(a.Left), aside(a.Right), a.AimingSaves(), doubt), nil
}

// aimDoubt says how sure the aim is, by drawing the shots themselves again, on a
// grid as fine as that takes.
func (r *Review) aimDoubt(ctx context.Context, v *strokes.View, all *dispersion.Group, o strokes.AimOptions, metres float64) (string, error) {
	p, err := strokes.NewPattern(all, r.Lesson.Unit, strokes.AsHit)
	if err != nil {
		return "", err
	}
	if p, err = p.Scaled(metres); err != nil {
		return "", err
	}
	o.Step = 2
	d, err := v.AimDoubt(ctx, p, o, compare.Options{Level: r.options.Level, Resamples: 499, Seed: r.options.Seed})
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("With these balls drawn again it comes out anywhere from %s to %s of the flag and saves %.2f to %.2f (%s).",
		aside(d.Side.Low), aside(d.Side.High), d.Saves.Low, d.Saves.High, level(d.Saves.Level)), nil
}

// WorthTable lists what the change is worth from each distance.
func (w CourseWorth) WorthTable(c Course) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("Strokes gained a shot, after minus before, on the hole “%s”; the same spread in degrees and per cent from every distance, mishits counted. Expected strokes: %s.", Label(c.Hole.Name()), c.Baseline.Source()),
		Header:  []string{"From, yd", "Shots", "Change", "from", "to", "Spread's part", "from", "to"},
	}
	for _, x := range w.Worth {
		e, s := x.Change, x.Spread
		t.Rows = append(t.Rows, []string{
			whole(yards(x.Distance)), fmt.Sprintf("%d, %d", e.N1, e.N2),
			gained(e.Estimate), gained(e.Interval.Low), gained(e.Interval.High),
			gained(s.Estimate), gained(s.Interval.Low), gained(s.Interval.High),
		})
	}
	return t
}

func yards(metres float64) float64 { return metres / lesson.Yards.Metres() }

// gained writes strokes gained, with their sign.
func gained(v float64) string { return fmt.Sprintf("%+.2f", zeroed(v, .005)) }

// aside writes a side in metres of the view as a person says it.
func aside(metres float64) string {
	y := math.Round(yards(metres))
	switch {
	case y < 0:
		return fmt.Sprintf("%.0f yd left", -y)
	case y > 0:
		return fmt.Sprintf("%.0f yd right", y)
	}
	return "0 yd"
}

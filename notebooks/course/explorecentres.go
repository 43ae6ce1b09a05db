package course

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// CentreNames are the centres that [ExploreCentres] takes, the mean first.
func CentreNames() []string {
	names := make([]string, len(fiveCentres))
	for i, c := range fiveCentres {
		names[i] = c.name
	}
	return names
}

// ExploreCentres returns what [show.Explore] draws: the first n balls of one swing,
// of which the given one falls short by so many yards, with one centre and the
// region that holds the true one. A ball number of 0 leaves all balls as they are.
func ExploreCentres(most, wild int, short float64, seed uint64) func(n int, name string) (show.Picture, string, error) {
	balls := OneSwing.Draw(random(seed, 42), most)
	if wild >= 1 && wild <= most {
		balls[wild-1].Y -= short
	}
	return func(n int, name string) (show.Picture, string, error) {
		if n < 1 || n > most {
			return nil, "", fmt.Errorf("course: %d balls of %d", n, most)
		}
		for _, c := range fiveCentres {
			if c.name == name {
				return exploredCentre(c, balls[:n])
			}
		}
		return nil, "", fmt.Errorf("course: no centre is called %q", name)
	}
}

func exploredCentre(c centre, balls []dispersion.Point) (show.Picture, string, error) {
	g, err := dispersion.NewGroup(balls)
	if err != nil {
		return nil, "", err
	}
	at, err := c.of(g)
	if err != nil {
		return nil, "", err
	}
	in := chart.GroupInput{
		Title: fmt.Sprintf("%d balls: the %s", len(balls), c.name), Name: "one swing", Unit: "yd", Shots: balls,
		Centres: []chart.Mark{{Name: c.name, Point: at.Point}, {Name: "the truth", Point: OneSwing.Centre}},
	}
	says := fmt.Sprintf("The %s of %d balls lies %s yd from the true centre.", c.name, len(balls), tenths(distance(at.Point, OneSwing.Centre)))
	if at.Region == nil {
		says += " For a region that holds the true centre at 95 % these are too few balls."
	} else {
		in.Regions = []dispersion.Region{at.Region}
		holds := "does not hold it"
		if at.Region.Contains(OneSwing.Centre) {
			holds = "holds it"
		}
		says += fmt.Sprintf(" The region at 95 %% has the area of a circle with a radius of %s yd, and %s.", tenths(math.Sqrt(at.Region.Area()/math.Pi)), holds)
	}
	figure, err := chart.Group(in)
	return figure, says, err
}

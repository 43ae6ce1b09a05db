package chart

import (
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion"
)

// invented makes n clean shots around a place and a mishit at each given carry.
func invented(r *rand.Rand, n int, at, sd dispersion.Point, mishits ...float64) (points []dispersion.Point, mishit []bool) {
	for range n {
		points = append(points, dispersion.Point{X: at.X + sd.X*r.NormFloat64(), Y: at.Y + sd.Y*r.NormFloat64()})
		mishit = append(mishit, false)
	}
	for _, carry := range mishits {
		points = append(points, dispersion.Point{X: at.X + sd.X*r.NormFloat64(), Y: carry})
		mishit = append(mishit, true)
	}
	return points, mishit
}

// demoStages is an invented lesson of five stages, with a mishit near enough to
// be shown in place and one that is not.
func demoStages() StagesInput {
	r := rand.New(rand.NewPCG(7, 1))
	stage := func(name, like, sentence string, n int, at, sd dispersion.Point, mishits ...float64) Stage {
		points, mishit := invented(r, n, at, sd, mishits...)
		return Stage{Name: name, Like: like, Sentence: sentence, Shots: points, Mishit: mishit}
	}
	return StagesInput{
		Title: "The new swing carried farther, and the old one fell back when it was hit again",
		Unit:  "yd",
		Stages: []Stage{
			stage("old swing", "full", "The old swing: 148 yd on average, wide to the right.", 9, dispersion.Point{X: 4, Y: 148}, dispersion.Point{X: 7, Y: 5}, 118),
			stage("feet together", "drill", "Drill: feet together. Pictured, not judged.", 8, dispersion.Point{X: -1, Y: 128}, dispersion.Point{X: 5, Y: 6}),
			stage("half swing, ball on the tee", "drill", "Drill again, a little longer.", 8, dispersion.Point{X: 0, Y: 133}, dispersion.Point{X: 5, Y: 5}),
			stage("new swing", "full", "The new swing: these balls fit anything from 3 to 13 yd longer, so probably a gain.", 11, dispersion.Point{X: -1, Y: 156}, dispersion.Point{X: 5, Y: 4}, 71),
			stage("old swing again", "full", "The old swing again, to see what warming up did.", 9, dispersion.Point{X: 3, Y: 150}, dispersion.Point{X: 7, Y: 5}),
		},
	}
}

func interval(low, high, level float64) dispersion.Interval {
	return dispersion.Interval{Low: low, High: high, Level: level}
}

func demoEffects() EffectsInput {
	return EffectsInput{
		Title: "Longer, probably; how wide cannot be told from these balls",
		Rows: []Effect{
			{Name: "mishits", Says: "can't tell", Unit: "%", Estimate: -4, Narrow: interval(-21, 13, 0.8), Wide: interval(-31, 23, 0.95), N1: 10, N2: 12},
			{Name: "carry, clean shots", Says: "probably", Unit: "yd", Estimate: 8.1, Narrow: interval(5.3, 10.9, 0.8), Wide: interval(3.4, 12.8, 0.95), Smallest: 5.2, N1: 9, N2: 11},
			{Name: "carry, with the mishits", Says: "can't tell", Unit: "yd", Estimate: 4.2, Narrow: interval(-5.3, 13.7, 0.8), Wide: interval(-11.4, 19.8, 0.95), Smallest: 5.2, N1: 10, N2: 12},
			{Name: "side", Unit: "yd", Estimate: -3.4, Narrow: interval(-6.3, -0.5, 0.8), Wide: interval(-8, 1.2, 0.95), N1: 9, N2: 11},
			{Name: "spread radius", Says: "can't tell", Null: 1, Estimate: 0.82, Narrow: interval(0.62, 1.08, 0.8), Wide: interval(0.53, 1.27, 0.95), Smallest: 0.8, N1: 9, N2: 11},
			{Name: "area, if shots are normal", Says: "can't tell", Null: 1, Estimate: 0.61, Narrow: interval(0.34, 1.12, 0.8), Wide: interval(0.23, 1.66, 0.95), Smallest: 0.64, N1: 9, N2: 11},
		},
	}
}

func demoGroup() GroupInput {
	s := demoStages().Stages[0]
	g, err := dispersion.NewGroup(s.Shots[:9])
	if err != nil {
		panic(err)
	}
	mean, err1 := g.MeanEllipse(0.95)
	half, err2 := g.PredictionEllipse(0.5)
	most, err3 := g.PredictionEllipse(0.9)
	if err1 != nil || err2 != nil || err3 != nil {
		panic("nine shots in general position have all three ellipses")
	}
	return GroupInput{
		Title: "Half of the next balls land inside the inner dashed ring", Name: "old swing", Unit: "yd",
		Shots: s.Shots, Mishit: s.Mishit, Regions: []dispersion.Region{mean, half, most},
		Centres: []Mark{{"mean", g.Mean()}, {"geometric median", g.GeometricMedian().Point}},
	}
}

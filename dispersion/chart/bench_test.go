package chart

import "testing"

// A figure for a page, which is SVG, is to take at most 20 ms from the input on.
func BenchmarkFigures(b *testing.B) {
	shift, ratios, boot, deals, dial, scores, wall := demoShift(b), demoRatios(b), demoBootstrap(b), demoPermutation(b), demoDial(b), demoScores(b), demoWall(b)
	run, control, season, flights := demoRunChart(b), demoControlChart(b), demoSeason(b, "carry", "yd"), demoFlights(b)
	curves, worth, aim, card := demoCurves(), demoWorth(b), demoAim(b), demoCard()
	for _, c := range []struct {
		name string
		make func() (Figure, error)
	}{
		{"Stages", func() (Figure, error) { return Stages(demoStages()) }},
		{"Effects", func() (Figure, error) { return Effects(demoEffects()) }},
		{"Group", func() (Figure, error) { return Group(demoGroup()) }},
		{"Shift", func() (Figure, error) { return Shift(shift) }},
		{"SpreadRatio", func() (Figure, error) { return SpreadRatio(ratios) }},
		{"Angles", func() (Figure, error) { return Angles(demoAngles()) }},
		{"Depths", func() (Figure, error) { return Depths(demoDepths()) }},
		{"Bootstrap", func() (Figure, error) { return Bootstrap(boot) }},
		{"Permutation", func() (Figure, error) { return Permutation(deals) }},
		{"Dial", func() (Figure, error) { return Dial(dial) }},
		{"Calibration", func() (Figure, error) { return Calibration(scores) }},
		{"Wall", func() (Figure, error) { return Wall(wall) }},
		{"Change", func() (Figure, error) { return Change(demoChange()) }},
		{"Pairs", func() (Figure, error) { return Pairs(PairsInput{Unit: "yd", Pairs: somePairs(20)}) }},
		{"RunChart", func() (Figure, error) { return RunChart(run) }},
		{"ControlChart", func() (Figure, error) { return ControlChart(control) }},
		{"Season", func() (Figure, error) { return Season(season) }},
		{"MeanFlights", func() (Figure, error) { return MeanFlights(flights) }},
		{"Baselines", func() (Figure, error) { return Baselines(curves) }},
		{"Worth", func() (Figure, error) { return Worth(worth) }},
		{"Aim", func() (Figure, error) { return Aim(aim) }},
		{"Card", func() (Figure, error) { return Card(card) }},
	} {
		finish := func(write func(Figure) ([]byte, error)) func(*testing.B) {
			return func(b *testing.B) {
				for b.Loop() {
					f, err := c.make()
					if err != nil {
						b.Fatal(err)
					}
					if _, err := write(f); err != nil {
						b.Fatal(err)
					}
				}
			}
		}
		b.Run(c.name+"/SVG", finish(Figure.SVG))
		b.Run(c.name+"/PNG", finish(Figure.PNG))
	}
}

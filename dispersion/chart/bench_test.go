package chart

import "testing"

// A figure for a page, which is SVG, is to take at most 20 ms from the input on.
func BenchmarkFigures(b *testing.B) {
	for _, c := range []struct {
		name string
		make func() (Figure, error)
	}{
		{"Stages", func() (Figure, error) { return Stages(demoStages()) }},
		{"Effects", func() (Figure, error) { return Effects(demoEffects()) }},
		{"Group", func() (Figure, error) { return Group(demoGroup()) }},
	} {
		run := func(write func(Figure) ([]byte, error)) func(*testing.B) {
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
		b.Run(c.name+"/SVG", run(Figure.SVG))
		b.Run(c.name+"/PNG", run(Figure.PNG))
	}
}

package lesson

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// longFile returns a file of n shots with a dozen columns.
func longFile(n int) string {
	rng := rand.New(rand.NewPCG(1, 2))
	var b strings.Builder
	b.WriteString("pupil,time,stage,intent,club,club_speed_mph,ball_speed_mph,launch_deg,spin_rpm,note,carry_yd,side_yd\n")
	for i := range n {
		fmt.Fprintf(&b, "Mira,%02d:%02d:%02d,stage %d,full,7i,%.1f,%.1f,%.1f,%d,\"a, b\",%.1f,%.1f\n", i/3600%24, i/60%60, i%60, i/20000,
			85+rng.NormFloat64(), 120+rng.NormFloat64(), 18+rng.NormFloat64(), 6000+rng.IntN(500), 150+5*rng.NormFloat64(), 6*rng.NormFloat64())
	}
	return b.String()
}

func BenchmarkRead(b *testing.B) {
	file := longFile(100_000)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(strings.NewReader(file), ReadOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGroups(b *testing.B) {
	l := mustRead(b, longFile(100_000), ReadOptions{})
	b.ReportAllocs()
	for b.Loop() {
		l.Groups()
	}
}

// Command demobaseline computes the demo baseline from a stated player. Run it
// from the module's top folder:
//
//	go run ./datasets/internal/demobaseline
//
// It writes datasets/demo-baseline/baseline.csv. The player is invented: the
// third of strokes.IllustrativePlayers, on strokes.CommonHole.
package main

import (
	"bytes"
	"log"
	"os"
	"path/filepath"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/strokes"
)

const file = "baseline.csv"

// distances in metres, close where expected strokes rise fast.
var (
	putts = []float64{0.5, 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 40}
	short = []float64{5, 10, 15, 20, 30, 40, 60, 80}
	long  = []float64{100, 120, 140, 160, 180, 200, 250, 300, 350, 400, 450, 500, 550}
	both  = slices.Concat(short, long)
)

var distances = map[strokes.Lie][]float64{
	strokes.Tee: long, strokes.Fairway: both, strokes.Rough: both, strokes.Sand: both, strokes.Recovery: both, strokes.Green: putts,
}

func main() {
	log.SetFlags(0)
	content, err := compute()
	if err != nil {
		log.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("datasets", "demo-baseline", file), content, 0o644); err != nil {
		log.Fatalf("%v (run this from the module's top folder)", err)
	}
}

// compute returns what belongs into the file.
func compute() ([]byte, error) {
	b, err := strokes.Compute(strokes.IllustrativePlayers()[2], strokes.CommonHole())
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = strokes.WriteBaseline(&out, b, distances)
	return out.Bytes(), err
}

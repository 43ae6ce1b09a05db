// Command demoholes draws the two demo holes. Run it from the module's top
// folder:
//
//	go run ./datasets/internal/demoholes
//
// It writes datasets/demo-holes/pond.geojson and datasets/demo-holes/island.geojson.
// Both holes are invented; the second lies in the open ocean.
package main

import (
	"encoding/json"
	"log"
	"math"
	"os"
	"path/filepath"
)

// A position is a point in metres from the tee, or the same in degrees.
type position [2]float64

type feature struct {
	Type       string            `json:"type"`
	Properties map[string]string `json:"properties"`
	Geometry   geometry          `json:"geometry"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

type collection struct {
	Type     string    `json:"type"`
	Name     string    `json:"name"`
	Frame    string    `json:"frame,omitempty"`
	Features []feature `json:"features"`
}

func mark(name string, at position) feature {
	return feature{"Feature", map[string]string{"mark": name}, geometry{"Point", at}}
}

func area(name, lie string, rings ...[]position) feature {
	return feature{"Feature", map[string]string{"name": name, "lie": lie}, geometry{"Polygon", rings}}
}

// ring closes a ring.
func ring(corners ...position) []position { return append(corners, corners[0]) }

// blob is a ring of n corners around a middle, a little out of round.
func blob(n int, x, y, across, up, wobble float64) []position {
	corners := make([]position, n)
	for i := range corners {
		t := 2 * math.Pi * float64(i) / float64(n)
		r := 1 + wobble*math.Sin(3*t+x)
		corners[i] = position{x + across*r*math.Cos(t), y + up*r*math.Sin(t)}
	}
	return ring(corners...)
}

// strip is a ring along a bending middle line, from one carry to another.
func strip(from, to, width, bend float64) []position {
	const n = 12
	var left, right []position
	for i := range n + 1 {
		y := from + (to-from)*float64(i)/n
		middle := bend * y * y / 1e4
		half := width / 2 * (1 + 0.12*math.Sin(y/40))
		left = append([]position{{middle - half, y}}, left...)
		right = append(right, position{middle + half, y})
	}
	return ring(append(right, left...)...)
}

// pond is a par 4 that bends to the right, with a pond beside the green.
func pond() collection {
	return collection{Type: "FeatureCollection", Name: "The pond", Frame: "metres", Features: []feature{
		mark("tee", position{0, 0}),
		mark("flag", position{14, 352}),
		area("fairway", "fairway", strip(110, 325, 34, 1)),
		area("green", "green", blob(24, 12, 350, 13, 15, 0.06)),
		area("bunker at the drive", "bunker", blob(14, 26, 205, 6, 10, 0.1)),
		area("bunker left of the green", "bunker", blob(14, -9, 344, 5, 8, 0.12)),
		area("pond", "water", blob(28, 45, 335, 17, 38, 0.08)),
		area("trees", "recovery", ring(position{45, 70}, position{80, 70}, position{80, 270}, position{52, 270}, position{42, 180})),
		area("fence on the left", "out of bounds", ring(position{-140, -60}, position{-48, -60}, position{-44, 200}, position{-40, 460}, position{-140, 460})),
	}}
}

// island is a par 3 over water, in degrees: its green has a bunker for a
// neighbour on three sides.
func island() collection {
	const longitude, latitude = -30.0, 40.0
	// A sphere of the Earth's mean radius: some decimetres off over a hole, which is
	// invented.
	degree := math.Pi / 180 * 6371008.8
	east := degree * math.Cos(latitude*math.Pi/180)
	at := func(p position) position {
		round := func(v float64) float64 { return math.Round(v*1e7) / 1e7 }
		return position{round(longitude + p[0]/east), round(latitude + p[1]/degree)}
	}
	c := collection{Type: "FeatureCollection", Name: "The island", Features: []feature{
		mark("tee", position{0, 0}),
		mark("flag", position{-4, 148}),
		area("lake", "water", blob(36, 0, 105, 60, 75, 0.05), blob(30, -2, 146, 27, 24, 0.05)),
		area("apron", "fairway", blob(24, -2, 146, 20, 19, 0.05)),
		area("green", "green", blob(24, -2, 147, 15, 13, 0.06)),
		area("bunker in front", "bunker", blob(14, -3, 129, 9, 3.5, 0.1)),
		area("bunker on the right", "bunker", blob(14, 18, 148, 4, 8, 0.1)),
		area("bunker behind", "bunker", blob(14, -6, 165, 10, 3, 0.1)),
	}}
	for i := range c.Features {
		g := &c.Features[i].Geometry
		switch shape := g.Coordinates.(type) {
		case position:
			g.Coordinates = at(shape)
		case [][]position:
			for _, r := range shape {
				for k, p := range r {
					r[k] = at(p)
				}
			}
		}
	}
	return c
}

// files returns the content of every file by name.
func files() (map[string][]byte, error) {
	all := map[string][]byte{}
	for name, c := range map[string]collection{"pond.geojson": pond(), "island.geojson": island()} {
		if c.Frame == "metres" {
			roundOff(c)
		}
		text, err := json.MarshalIndent(c, "", " ")
		if err != nil {
			return nil, err
		}
		all[name] = append(compact(text), '\n')
	}
	return all, nil
}

// roundOff rounds metres to centimetres.
func roundOff(c collection) {
	for _, f := range c.Features {
		if rings, ok := f.Geometry.Coordinates.([][]position); ok {
			for _, r := range rings {
				for k, p := range r {
					r[k] = position{math.Round(p[0]*100) / 100, math.Round(p[1]*100) / 100}
				}
			}
		}
	}
}

func main() {
	all, err := files()
	if err != nil {
		log.Fatal(err)
	}
	for name, content := range all {
		if err := os.WriteFile(filepath.Join("datasets", "demo-holes", name), content, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}

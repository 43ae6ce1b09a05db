package datasets

import (
	"bytes"
	_ "embed"
)

//go:embed demo-holes/pond.geojson
var demoPond []byte

//go:embed demo-holes/island.geojson
var demoIsland []byte

// DemoPondFile returns a copy of the plan of an invented par 4 of 352 m with a
// pond beside the green: GeoJSON in metres, for strokes.ReadHole.
func DemoPondFile() []byte { return bytes.Clone(demoPond) }

// DemoIslandFile returns a copy of the plan of an invented par 3 of 148 m over
// water: GeoJSON in longitude and latitude, for strokes.ReadHole.
func DemoIslandFile() []byte { return bytes.Clone(demoIsland) }

package datasets

import (
	"bytes"
	_ "embed"
)

//go:embed demo-baseline/baseline.csv
var demoBaseline []byte

// DemoBaselineFile returns a copy of a table of the expected strokes of an
// invented player, as computed by the command datasets/internal/demobaseline.
// It shows what a table of one's own looks like; its descriptor holds the
// schema.
func DemoBaselineFile() []byte { return bytes.Clone(demoBaseline) }

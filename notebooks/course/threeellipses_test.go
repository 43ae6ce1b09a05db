package course

import (
	"context"
	"math"
	"testing"
)

// Each ring keeps its own promise, which is exact for normal shots.
//
// Source: the swing that the groups were drawn from.
func TestPromisesTable(t *testing.T) {
	const groups = 1000
	table, err := PromisesTable(context.Background(), 12, 0.95, 0.9, groups, 3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the mean ellipse holds the centre", cell(t, table, 0, 1), 95, fourSDs(95, groups, 0.1))
	near(t, "the prediction ellipse holds the next ball", cell(t, table, 1, 2), 90, fourSDs(90, groups, 0.1))
	// The further balls are 2000 of the swing and not the swing itself, which
	// moves the line by a point or so.
	near(t, "the tolerance ellipse holds nine tenths", cell(t, table, 2, 3), 95, fourSDs(95, groups, 0.1)+1.5)
}

// With very many balls the rings of the shots become the ring of the swing.
func TestSizesTable(t *testing.T) {
	table, err := SizesTable([]int{2000}, 0.95, 0.9, 20, 3)
	if err != nil {
		t.Fatal(err)
	}
	truth := math.Sqrt(OneSwing.SD.X * OneSwing.SD.Y * 2 * math.Ln10)
	near(t, "prediction", cell(t, table, 0, 2), truth, 0.03*truth)
	near(t, "tolerance", cell(t, table, 0, 3), truth, 0.06*truth)
	if mean := cell(t, table, 0, 1); mean > 0.6 {
		t.Errorf("the ring of the centre is still %g yd", mean)
	}
}

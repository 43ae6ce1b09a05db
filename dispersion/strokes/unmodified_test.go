package strokes

import (
	"bytes"
	"context"
	"reflect"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Every function that takes a slice or a map leaves it as it was.
func TestInputsStay(t *testing.T) {
	putts := []PuttCount{{3, 4000, 1500}, {1, 4000, 3800}, {2, 4000, 2500}, {5, 4000, 700}}
	shots := []Shot{{Round: "b", Hole: "1", From: Spot{Fairway, 200}, To: Spot{Green, 5}}, {Round: "a", Hole: "1", From: Spot{Tee, 300}, To: Spot{Green, 0}}}
	gained, clusters := []float64{2, 1}, []string{"b", "a"}
	points := []dispersion.Point{{X: 5, Y: 90}, {X: 1, Y: 80}}
	player := IllustrativePlayers()[0]
	var outcomes []Outcome
	for i := range 40 {
		outcomes = append(outcomes, Outcome{Spot: Spot{Green, float64(40 - i)}, Strokes: 2, Cluster: string(rune('z' - i%20))})
	}
	distances := map[Lie][]float64{Green: {5, 1}}
	before := []any{slices.Clone(putts), slices.Clone(shots), slices.Clone(gained), slices.Clone(clusters), slices.Clone(points), slices.Clone(player.Spreads), slices.Clone(outcomes), map[Lie][]float64{Green: {5, 1}}}

	c := mustCompute(t, player)
	_, _, err1 := FitAngle(putts)
	_, _, err2 := FitLogistic(putts)
	_, _, err3 := FitAngleDistance(putts)
	_, err4 := GainedAll(c, shots)
	_, err5 := Totals(shots, gained, ByRound, ByHole, 0.9)
	_, err6 := TotalOf("", gained, clusters, 0.9)
	_, err7 := GainedAt(c, CommonHole(), Spot{Fairway, 100}, points)
	_, err8 := FitBaseline(context.Background(), outcomes, "x", FitOptions{Resamples: 10})
	err9 := WriteBaseline(&bytes.Buffer{}, c, distances)
	Outcomes(shots)
	for i, err := range []error{err1, err2, err3, err4, err5, err6, err7, err8, err9} {
		if err != nil {
			t.Errorf("call %d: %v", i+1, err)
		}
	}
	c.Player().Spreads[0] = Spread{} // a copy: nothing inside changes

	after := []any{putts, shots, gained, clusters, points, player.Spreads, outcomes, distances}
	for i := range before {
		if !reflect.DeepEqual(before[i], after[i]) {
			t.Errorf("input %d: %v, was %v", i, after[i], before[i])
		}
	}
	if c.Player().Spreads[0] != player.Spreads[0] {
		t.Error("Player gave away the baseline's own spreads")
	}
}

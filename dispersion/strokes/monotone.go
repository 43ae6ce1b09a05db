package strokes

import (
	"fmt"
	"math"
)

// A FallWarning tells that expected strokes fell with the distance somewhere and
// were levelled there, since a baseline never falls.
type FallWarning struct {
	Lie    Lie
	Change float64 // the largest change made, strokes
}

func (w *FallWarning) Error() string {
	return fmt.Sprintf("from the %v the expected strokes fell with the distance; they were levelled, by up to %.2f", w.Lie, w.Change)
}

// levelled returns a warning if a change is one that anybody would see.
func levelled(lie Lie, change float64) []error {
	if change < 0.005 {
		return nil
	}
	return []error{&FallWarning{Lie: lie, Change: change}}
}

// makeMonotone replaces the values by the nearest ones, in weighted squares,
// that never fall, and returns the largest change. Nil weights are all alike.
//
// Reference: M. Ayer and others, "An Empirical Distribution Function for
// Sampling with Incomplete Information", Annals of Mathematical Statistics
// 26(4), 1955, pp. 641-647 (pooling of adjacent violators).
func makeMonotone(values, weights []float64) (change float64) {
	type block struct {
		mean, weight float64
		n            int
	}
	var blocks []block
	for i, v := range values {
		b := block{v, 1, 1}
		if weights != nil {
			b.weight = weights[i]
		}
		for len(blocks) > 0 && blocks[len(blocks)-1].mean > b.mean {
			last := blocks[len(blocks)-1]
			blocks = blocks[:len(blocks)-1]
			w := last.weight + b.weight
			b = block{last.mean + (b.mean-last.mean)*(b.weight/w), w, last.n + b.n}
		}
		blocks = append(blocks, b)
	}
	i := 0
	for _, b := range blocks {
		for range b.n {
			change = max(change, math.Abs(values[i]-b.mean))
			values[i] = b.mean
			i++
		}
	}
	return change
}

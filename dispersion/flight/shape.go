package flight

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A Hand is which way round a player stands. It decides which curve is called a
// draw, and nothing else: right stays right, seen facing the target.
type Hand int

// A right-handed player stands left of the ball, facing the target.
const (
	RightHanded Hand = iota
	LeftHanded
)

// A Word is what the trade calls a curve.
type Word string

const (
	Straight Word = "straight" // within [StraightWithin]
	Draw     Word = "draw"     // to the left of a right-handed player
	Fade     Word = "fade"     // to the right of a right-handed player
)

// StraightWithin is up to how much curve a shot is called straight, in radians:
// 1.5 degrees, 3 yards at 115. Common practice, no source.
const StraightWithin = 1.5 * Degree

// A Shape is how one shot started and curved; right positive.
type Shape struct {
	Start float64 // start line, radians
	Curve float64 // from the start line to where it landed, seen from the tee, radians

	// What of its side is start line and what is curve; together they are the side, m.
	StartSide, CurveSide float64

	Word Word
}

// ShapeOf returns the shape of one shot: its start line, and the curve,
//
//	curve = atan2(side, carry) - start line
//	start side = carry·tan(start line),  curve side = side - start side
//
// A shot that curves by more than straight either way, in radians, is a draw or
// a fade; 0 stands for [StraightWithin]. Wind curves a ball too, and can't be
// told from spin. One shot can't say whether its start line was measured: a 0 is
// taken for a start at the target.
//
// Errors: *[RangeError] for a shot or a threshold that can't be.
func ShapeOf(s Shot, hand Hand, straight float64) (Shape, error) {
	if straight == 0 {
		straight = StraightWithin
	}
	if err := within("threshold of a straight shot", straight/Degree, 0, 45, "degrees"); err != nil {
		return Shape{}, err
	}
	if err := s.check(); err != nil {
		return Shape{}, err
	}
	shape := Shape{
		Start: s.Direction, Curve: math.Atan2(s.Side, s.Carry) - s.Direction,
		CurveSide: s.Curve(), StartSide: s.Side - s.Curve(), Word: Straight,
	}
	right := shape.Curve
	if hand == LeftHanded {
		right = -right
	}
	switch {
	case right > straight:
		shape.Word = Fade
	case right < -straight:
		shape.Word = Draw
	}
	return shape, nil
}

// Shapes are the shapes of a stage.
type Shapes struct {
	Each  []Shape      // in the order of the shots
	Words map[Word]int // how many shots of each

	Start, Curve       float64 // means, radians
	StartSD, CurveSD   float64 // standard deviations, radians
	MeanSide, RootSide float64 // the mean side, and the root of the mean of its square: the side error; m

	// FromStart and FromCurve are which shares of the mean square of the side are
	// start line and curve; together they are 1. One is negative where it made up for
	// the other.
	FromStart, FromCurve Share

	N         int
	Straight  float64 // the threshold, radians
	Level     float64
	Resamples int
	Seed      uint64
}

// ShapesOf returns the shapes of the shots of one stage and what of their side
// error is start line and what is curve:
//
//	from start = Σ start side·side / Σ side²,  from curve = Σ curve side·side / Σ side²
//
// so a part of the side that both made is shared between them. The side is
// counted from the target line, so a start line that was aimed elsewhere shows as
// an error. Without start lines there is no telling. The intervals resample the shots, as those of [SplitGain] do.
//
// Errors: [ErrMissing]; *[dispersion.TooFewError] below 5 shots; *[ShotError];
// *[RangeError]; [ErrNoStartLine]; [ErrNoSide]; [dispersion.ErrLevel];
// [compare.ErrResamples]; the context's error.
func ShapesOf(ctx context.Context, shots []Shot, hand Hand, straight float64, o compare.Options) (Shapes, error) {
	o, err := groupOptions(ctx, shots, "the shapes of a stage", o)
	if err != nil {
		return Shapes{}, err
	}
	if !startLines(shots) {
		return Shapes{}, fmt.Errorf("flight: the shapes of a stage: %w", ErrNoStartLine)
	}
	if straight == 0 {
		straight = StraightWithin
	}
	out := Shapes{N: len(shots), Words: map[Word]int{}, Straight: straight, Level: o.Level, Resamples: o.Resamples, Seed: o.Seed}
	var m dispersion.Moments // X the start line, Y the curve
	var squares float64
	for _, s := range shots {
		shape, err := ShapeOf(s, hand, straight)
		if err != nil {
			return Shapes{}, err
		}
		out.Each = append(out.Each, shape)
		out.Words[shape.Word]++
		m.Add(dispersion.Point{X: shape.Start, Y: shape.Curve})
		out.MeanSide += s.Side / float64(len(shots))
		squares += s.Side * s.Side / float64(len(shots))
	}
	if squares == 0 {
		return Shapes{}, fmt.Errorf("flight: the shapes of a stage: %w", ErrNoSide)
	}
	cov, err := m.Cov()
	if err != nil {
		return Shapes{}, err
	}
	out.Start, out.Curve = m.Mean.X, m.Mean.Y
	out.StartSD, out.CurveSD, out.RootSide = math.Sqrt(cov.XX), math.Sqrt(cov.YY), math.Sqrt(squares)
	return out, out.resample(ctx, o)
}

// fromStart returns the share of the start line with so much weight on each shot,
// and false where none of those drawn has a side.
func (s Shapes) fromStart(weights []float64) (float64, bool) {
	var start, all float64
	for i, shape := range s.Each {
		side := shape.StartSide + shape.CurveSide
		start += weights[i] * shape.StartSide * side
		all += weights[i] * side * side
	}
	return start / all, all > 0
}

func (s *Shapes) resample(ctx context.Context, o compare.Options) error {
	slots := make([]float64, o.Resamples)
	err := resample.Chunks(ctx, o.Resamples, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		stream := resample.NewStream(o.Seed, "shapes of a stage", chunk)
		for r := lo; r < hi; r++ {
			ok := false
			for !ok { // ends, since a shot with a side is drawn sooner or later
				slots[r], ok = s.fromStart(drawWeights(stream, s.N, 0))
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	whole, _ := s.fromStart(once(s.N))
	s.FromStart = share(whole, slots, o.Level, s.N, 0)
	i := s.FromStart.Interval
	s.FromCurve = Share{Estimate: 1 - whole, Interval: dispersion.Interval{Low: 1 - i.High, High: 1 - i.Low, Level: i.Level}}
	return nil
}

package flight

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func shaped(start, curveSide float64) Shot {
	return Shot{
		Launch: Launch{Speed: 40, Angle: .3, Direction: start * Degree, Spin: 500},
		Carry:  100, Side: 100*math.Tan(start*Degree) + curveSide,
	}
}

// By hand: 2° right at 100 m are 3.492 m; 5 m of curve more are 4.85° from the
// tee, so 2.85° of curve, a fade.
func TestShapeOf(t *testing.T) {
	s, err := ShapeOf(shaped(2, 5), RightHanded, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "start", s.Start, 2*Degree, 1e-12)
	near(t, "start side", s.StartSide, 3.4921, 1e-4)
	near(t, "curve side", s.CurveSide, 5, 1e-12)
	near(t, "curve", s.Curve/Degree, 2.8538, 1e-3)
	for _, row := range []struct {
		curve          float64
		hand           Hand
		straight       float64
		want, mirrored Word
	}{
		{5, RightHanded, 0, Fade, Draw}, {-5, RightHanded, 0, Draw, Fade}, {2, RightHanded, 0, Straight, Straight},
		{2, RightHanded, .5 * Degree, Fade, Draw}, {-5, RightHanded, 4 * Degree, Straight, Straight}, {3, RightHanded, 0, Fade, Draw},
	} {
		right, err1 := ShapeOf(shaped(1, row.curve), RightHanded, row.straight)
		left, err2 := ShapeOf(shaped(1, row.curve), LeftHanded, row.straight)
		if err1 != nil || err2 != nil || right.Word != row.want || left.Word != row.mirrored {
			t.Errorf("%g m of curve: %q, left-handed %q, want %q, %q (%v, %v)", row.curve, right.Word, left.Word, row.want, row.mirrored, err1, err2)
		}
		right.Word, left.Word = "", ""
		if right != left {
			t.Errorf("the hand changes more than the word: %+v, %+v", right, left)
		}
	}
}

// By hand: start sides 2 and -2 with curve sides 2 and 1 give sides 4 and -1, so
// from start Σ = 2·4 + -2·-1 = 10 of 16 + 1 = 17.
func TestShapesOfByHand(t *testing.T) {
	angle := func(side float64) float64 { return math.Atan(side/100) / Degree }
	var shots []Shot
	for range 3 {
		shots = append(shots, shaped(angle(2), 2), shaped(angle(-2), 1))
	}
	s, err := ShapesOf(context.Background(), shots, RightHanded, 0, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from start", s.FromStart.Estimate, 10./17, 1e-9)
	near(t, "from curve", s.FromCurve.Estimate, 7./17, 1e-9)
	near(t, "mean side", s.MeanSide, 1.5, 1e-9)
	near(t, "side error", s.RootSide, math.Sqrt(8.5), 1e-9)
	near(t, "intervals", s.FromStart.Interval.Low+s.FromCurve.Interval.High, 1, 1e-12)
	if !reflect.DeepEqual(s.Words, map[Word]int{Straight: 6}) || s.N != 6 || len(s.Each) != 6 {
		t.Errorf("%+v", s)
	}
}

// Where the curve alone makes the side, all of it is curve; and the reverse.
func TestShapesOfOneCause(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 5))
	var curves, starts []Shot
	for range 10 {
		curves = append(curves, shaped(1e-9, 8*rng.NormFloat64())) // a start line of 0 for all would be none
		starts = append(starts, shaped(4*rng.NormFloat64(), 0))
	}
	for share, shots := range map[float64][]Shot{0: curves, 1: starts} {
		s, err := ShapesOf(context.Background(), shots, LeftHanded, 0, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "from start", s.FromStart.Estimate, share, 1e-9)
	}
}

func TestShapesRefuse(t *testing.T) {
	var straight, noStart []Shot
	for range 5 {
		onLine := shaped(1, 0)
		onLine.Side = 0
		straight, noStart = append(straight, onLine), append(noStart, shaped(0, 5))
	}
	ctx := context.Background()
	if _, err := ShapesOf(ctx, straight, RightHanded, 0, compare.Options{}); !errors.Is(err, ErrNoSide) {
		t.Errorf("no side: %v", err)
	}
	if s, err := ShapesOf(ctx, noStart, RightHanded, 0, compare.Options{}); !errors.Is(err, ErrNoStartLine) {
		t.Errorf("no start line: %+v, %v", s, err)
	}
	var few *dispersion.TooFewError
	if _, err := ShapesOf(ctx, straight[:4], RightHanded, 0, compare.Options{}); !errors.As(err, &few) {
		t.Errorf("four shots: %v", err)
	}
	var out *RangeError
	if _, err := ShapesOf(ctx, straight, RightHanded, -1, compare.Options{}); !errors.As(err, &out) {
		t.Errorf("a threshold below 0: %v", err)
	}
	if _, err := ShapeOf(Shot{}, RightHanded, 0); !errors.As(err, &out) {
		t.Errorf("no shot: %v", err)
	}
	for _, degrees := range []float64{90, 89.99, -46} {
		wide := shaped(1, 0)
		wide.Direction = degrees * Degree
		if s, err := ShapeOf(wide, RightHanded, 0); !errors.As(err, &out) || out.Of != "start line of a shot" {
			t.Errorf("a start line of %g degrees: %+v, %v", degrees, s, err)
		}
	}
	if _, err := ShapesOf(noContext, straight, RightHanded, 0, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
	if _, err := ShapesOf(ctx, straight, RightHanded, 0, compare.Options{Level: 2}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 2: %v", err)
	}
}

package flight

import (
	"fmt"
	"math"
)

// Coefficients are how strongly the air drags and lifts a spinning ball:
//
//	F_D = ½·ρ·V²·A·C_D,  F_L = ½·ρ·V²·A·C_L
//
// as functions of the spin ratio S = r·ω/V and the Reynolds number
// Re = ρ·V·2r/μ. An implementation of one's own must give the same answer to the
// same question, and finite numbers: a drag from 0 to 10, a lift from -10 to 10.
type Coefficients interface {
	DragLift(spinRatio, reynolds float64) (drag, lift float64)
}

// Constant are coefficients of Drag and Lift that don't change in flight, for checks and for
// things thrown without spin.
type Constant struct{ Drag, Lift float64 }

// DragLift returns the two constants.
func (c Constant) DragLift(_, _ float64) (drag, lift float64) { return c.Drag, c.Lift }

// A Form are coefficients of the shape that was published for a dimpled ball,
//
//	C_D = Drag + DragSpin·S + DragReynolds·sin(π·(Re - 90,000)/200,000)
//	C_L = Lift·S^LiftPower
//
// taking S for at most 3: a lob with the wind from behind comes nearly to rest in
// the air, where S has no bound and the air no force, and nobody has measured what
// the form says of it.
//
// The numbers differ from ball to ball by enough to move a drive by 18 m.
type Form struct {
	Drag, DragSpin, DragReynolds float64
	Lift, LiftPower              float64
}

// Illustrative returns the published numbers of one ball of long ago, .24, .18,
// .06, .54 and .4: for illustrations and as a start, not for anybody's ball.
//
// Reference: A. J. Smits, D. R. Smith, "A New Aerodynamic Model of a Golf Ball
// in Flight", Science and Golf II, 1994, pp. 340-347 (from memory).
func Illustrative() Form {
	return Form{Drag: .24, DragSpin: .18, DragReynolds: .06, Lift: .54, LiftPower: .4}
}

// mostSpinRatio is above that of any flight but near rest; our own choice, no source.
const mostSpinRatio = 3

// DragLift returns the coefficients by the form.
func (f Form) DragLift(spinRatio, reynolds float64) (drag, lift float64) {
	spinRatio = min(spinRatio, mostSpinRatio)
	drag = f.Drag + f.DragSpin*spinRatio
	if f.DragReynolds != 0 {
		drag += f.DragReynolds * math.Sin(math.Pi/2e5*(reynolds-9e4))
	}
	if spinRatio > 0 {
		lift = f.Lift * math.Exp(f.LiftPower*math.Log(spinRatio)) // half the time of math.Pow
	}
	return max(drag, 0), lift
}

// A CoefficientError says where coefficients gave no usable answer. It is always
// returned as *CoefficientError, wrapped.
type CoefficientError struct {
	SpinRatio, Reynolds float64 // what was asked
	Drag, Lift          float64 // what was answered
}

func (e *CoefficientError) Error() string {
	return fmt.Sprintf("at spin ratio %.3g and Reynolds number %.3g the coefficients give a drag of %g and a lift of %g: a drag from 0 to 10 and a lift from -10 to 10 are needed", e.SpinRatio, e.Reynolds, e.Drag, e.Lift)
}

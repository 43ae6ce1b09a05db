package flight

import "math"

// A Launch is how a ball leaves the club.
type Launch struct {
	Speed     float64 // of the ball, m/s
	Angle     float64 // above level, radians
	Direction float64 // of the start line, radians clockwise from the target line: right positive
	Spin      float64 // total, rad/s

	// Tilt is how far the axis of the spin leans, in radians, seen by the player:
	// 0 for backspin alone, positive where the right end is the lower one and the
	// ball curves to the right. The axis is taken to be square to the start of the
	// flight, so that no spin goes into drilling along it.
	Tilt float64
}

// What a launch may be: slower is no flight, faster and more spin were never
// struck.
const (
	leastSpeed = 1.0
	mostSpeed  = 150.0
	mostSpin   = 20000 * RPM
)

func (l Launch) check() error {
	for _, err := range []error{
		within("ball speed", l.Speed, leastSpeed, mostSpeed, "m/s"),
		within("launch angle", l.Angle/Degree, -89, 89, "degrees"),
		within("start line", l.Direction/Degree, -90, 90, "degrees"),
		within("spin", l.Spin/RPM, 0, mostSpin/RPM, "rpm"),
		within("tilt of the spin axis", l.Tilt/Degree, -180, 180, "degrees"),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// mirrored is the launch of a left-handed twin.
func (l Launch) mirrored() Launch {
	l.Direction, l.Tilt = -l.Direction, -l.Tilt
	return l
}

// start returns where and how fast the ball is at first, and the axis of its
// spin: to the right of the start line, leaning by the tilt.
func (l Launch) start() (s state, axis [3]float64) {
	sinA, cosA := math.Sincos(l.Angle)
	sinD, cosD := math.Sincos(l.Direction)
	sinT, cosT := math.Sincos(l.Tilt)
	s = state{3: l.Speed * cosA * sinD, 4: l.Speed * cosA * cosD, 5: l.Speed * sinA, 6: l.Spin}
	// right = (cosD, -sinD, 0); over = right × start = the way that backspin lifts
	axis = [3]float64{
		cosT*cosD + sinT*sinA*sinD,
		-cosT*sinD + sinT*sinA*cosD,
		-sinT * cosA,
	}
	return s, axis
}

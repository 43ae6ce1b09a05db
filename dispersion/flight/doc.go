// Package flight answers why a ball flew as it did: how far a launch carries in
// given air, what of a gain moved along with ball speed, launch, spin and
// direction, and what a mile an hour or a degree is worth to this pupil.
//
// [Model.Fly] integrates the flight of one [Launch] through given [Conditions].
// How a ball answers to the air is not known from first principles:
// [FitCoefficients] finds the coefficients of drag and lift that the shots at hand
// ask for, and says so where they can't tell. With them, [InAir] carries shots to
// other air, [SplitGain] takes a gain apart and [Sensitivities] says what a little
// more of each is worth; all allow for the ball being of another form than was
// fitted, see [FormDoubt]. [SplitStrike] tells swinging faster from hitting it
// better, and [ShapesOf] what of a side is start line and what is curve.
//
// Everything here is in metres, seconds, kilograms and radians; 95 * [MPH] and
// 19 * [Degree] convert, and so do the columns that [ShotsOf] reads. A point in
// the air is (side, carry, height): right of the target line, along it, and up
// from where the ball lay. The package says what moved along with a change, and
// never that it caused it.
//
// An error means that there is no answer; warnings in a result mean an answer to
// be read with care. Nothing here modifies its input.
package flight

// Package strokes answers what a pattern is worth: how many strokes are still
// to play from a distance and a lie, and how many a shot, a round or a change
// of the pattern gains.
//
// A [Baseline] gives the expected strokes. It is computed from a player
// described in numbers, read from a table of one's own, or fitted to recorded
// shots. Strokes gained are expected strokes before, minus expected strokes
// after, minus one.
//
// Every distance in this package is in metres and every angle in radians.
// Yards and feet occur only at the edges, where a file or a published table is
// read; lesson.Unit converts them. A [Lie] is where the ball rests. Water and
// out of bounds are no lies: what they cost belongs to the hole.
//
// An error means that there is no answer; warnings in a result mean an answer
// to be read with care. Nothing here modifies its input.
package strokes

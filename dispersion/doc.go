// Package dispersion describes one group of shots: where it is, how wide it
// is, and how sure that is, from three shots to ten million.
//
// A landing point is a [Point] with X the side (right of the target line is
// positive) and Y the carry. Any one unit of length will do; results are in
// the unit of the input. A [Group] is made once with [NewGroup], which checks
// every point, and then answers questions.
//
// There is one way to fail: an error means there is no answer; warnings in a
// result mean an answer to be read with care. Nothing here panics on data, and
// no result holds a NaN.
package dispersion

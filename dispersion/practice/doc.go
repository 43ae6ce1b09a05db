// Package practice answers what happens inside a session and over weeks: did the
// balls drift, when did they change, and was a gain kept?
//
// Inside a session a [RunChart] holds any measure in the order hit.
// [SerialInterval] and [RankVonNeumannRatio] say whether one ball resembled the
// one before it, [ColdStart], [WarmUp] and [Tiring] how far the first or the
// last balls were off, [Pettitt] where the balls changed, and
// [RunChart.DriftOrStages] whether the stages explain more than one long drift.
// A [ControlChart] watches landing points ball by ball and says which no longer
// belong.
//
// Over weeks a [Season] is the sessions of one pupil, each stage with its
// [Phase]. What a session shows at its end is performance. What was learned shows
// at the first balls of a later session, before any teaching: [Kept] compares
// those with the baseline. A [Sheet] says what to hit until then. [FitMixed] tells
// how much sessions and pupils differ, [PracticeCurve] draws a curve from ten
// sessions on, and [Crossover] compares two drills over many pupils.
//
// Groups and values are in any one unit. Nothing here modifies its input. An
// error means that there is no answer; warnings in a result mean an answer to be
// read with care.
package practice

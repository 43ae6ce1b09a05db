// Package compare answers what a before-and-after allows to be said: how large
// the change is, how sure that is, and how many balls would settle it.
//
// An [Effect] is an estimate with its interval and how it was obtained: a gain
// (after minus before) or a ratio of spreads (after over before). [Judge] turns
// it into one of five verdicts against the smallest change worth having, and
// [BallsForCarry] and [BallsForArea] plan the next lesson.
//
// For questions of one's own there are [Bootstrap], an interval for any statistic
// of two groups, and [Permute], its p; [CentreShift] and [AnyDifference] compare
// in the plane, [HodgesLehmann], [TrimmedGain] and [RobustSpreadRatio] where balls
// are wild, [Spreads] several stages; [Equivalent] and [NotWorse] hold an effect
// against a margin, and [PosteriorOf] against a prior that is shown.
//
// [Bookend] holds a new swing against the old one hit before and after it,
// [AlsoSeen] and [PickedGain] allow for having looked at several and for having
// picked, [DriftOrStages] and [Manipulation] ask what else may lie behind a gain,
// [Trend] whether a lesson rises from stage to stage, and [AnytimeGain] may be
// looked at after every ball. [ShuffleWall] hides the real before and after among
// others, to be picked by eye.
//
// Groups and values are in any one unit. Every function takes its inputs as
// they are and never modifies them. An error means that there is no answer;
// warnings in a result mean an answer to be read with care.
package compare

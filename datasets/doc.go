// Package datasets holds an invented lesson, season, baseline and pair of holes, and two open
// putting tables, embedded, so that examples, notebooks and tests need no file of anybody's.
// Each data set comes with a Data Package descriptor and with its source or,
// where it was drawn, with the truth it was drawn from.
package datasets

// Package datasets holds the invented demo lesson and two open tables of putts,
// embedded, so that examples, notebooks and tests need no file of anybody's.
// Each data set comes with a Data Package descriptor and with its source or,
// where it was drawn, with the truth it was drawn from.
package datasets

package datasets

import (
	"bytes"
	_ "embed"
)

//go:embed putts-1996/putts.csv
var putts1996 []byte

//go:embed putts-2018/putts.csv
var putts2018 []byte

// Putts1996File returns a copy of an open table of 5,988 putts by professionals
// at 19 distances, from 2 to 20 feet: CSV with the columns distance_ft, tried
// and holed.
//
// Source: D. A. Berry, Statistics: A Bayesian Perspective, 1996; A. Gelman,
// D. Nolan, "A Probability Model for Golf Putting", Teaching Statistics 24(3),
// 2002, pp. 93-95.
func Putts1996File() []byte { return bytes.Clone(putts1996) }

// Putts2018File returns a copy of an open table of 1,253,196 putts by
// professionals in 31 bands of distance, from 0.28 to 75 feet: CSV with the
// columns distance_ft, tried and holed.
//
// Source: data of M. Broadie in A. Gelman, "Model building and expansion for
// golf putting", Stan case studies 6, 2019.
func Putts2018File() []byte { return bytes.Clone(putts2018) }

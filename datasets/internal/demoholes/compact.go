package main

import "regexp"

var pair = regexp.MustCompile(`\[\s+(-?[0-9.e-]+),\s+(-?[0-9.e-]+)\s+\]`)

// compact writes every position on one line.
func compact(text []byte) []byte {
	return pair.ReplaceAll(text, []byte("[$1, $2]"))
}

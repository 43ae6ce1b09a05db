// Package course is what the notebooks of the course call: invented groups whose
// truth is known, simulations that show what luck does, and the tables and
// figures that are too long for a cell. Each notebook has a file of its own here.
//
// Every group comes from a seed, so a notebook shows the same on any machine.
package course

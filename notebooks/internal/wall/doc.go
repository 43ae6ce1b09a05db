// Package wall shows a lesson in the bay while it is hit: one picture and one
// sentence in big type, renewed within two seconds of a new row in the lesson's
// file.
//
// The file is somebody else's to write, at any time and in any way: row by row,
// half a row at a time, all of it anew, or another file in its place. So each
// look takes a copy of what is there, keeps whole rows alone, and shows nothing
// that was never in the file.
//
// The view is served to this machine alone. Nothing it holds can be read by a
// page of another origin, and it asks for nothing from outside.
package wall

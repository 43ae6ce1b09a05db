// Package show is what a notebook cell calls to show a result: a sentence, a
// list of sentences, a table or a figure, each in one line.
//
//	plan := show.Must(chart.Plan(lesson))
//	show.Figure(plan)
//	show.Text("The last stage carried farther than the first.")
//
// Everything given to it is text, never markup: a stage called <b> is shown as
// <b>. Characters that cannot be seen are written as escapes, and what is too
// long is cut, saying by how much.
//
// Each call sends one display bundle with forms for every reader: HTML for the
// notebook, plain text for terminals and screen readers, a PNG for programs
// that show no HTML. It returns when the kernel has it. Outside a kernel, under
// go run or go test, the plain text goes to standard output instead.
//
// A call that has nothing to show, and [Must] given an error, end the cell with
// one line on standard error and exit status 1: in a notebook the next cell
// must not go on as if nothing had happened, and a stack trace helps nobody.
package show

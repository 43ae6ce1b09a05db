// Package chart draws groups of shots and effects: finished figures that write
// SVG and PNG, and the gonum/plot plotters they are made of.
//
//	figure, err := chart.Stages(chart.StagesInput{Unit: "yd", Stages: stages})
//	svg, err := figure.SVG()
//
// Every picture of landing points is a plan view: side across, carry up the
// page, equal scales, the target line drawn. An earlier stage is hollow, the
// current one filled; each stage has its own marker shape as well as a colour
// and is named beside its group; mishits are crossed. A solid ring is where the
// centre lies, a dashed one where the next shot lands. Nothing is told by
// colour alone.
//
// Figures are narrow, so that they need little shrinking on a phone, and
// complete without the page around them: title, units, shots per group and, in
// [Figure.Alt], what is to be seen in words with the numbers. The same input
// gives the same bytes every time.
//
// There is one way to fail: an error that says which stage, shot or row it was.
// All text is shown as text, never as markup; what is too long is cut with an
// ellipsis.
package chart

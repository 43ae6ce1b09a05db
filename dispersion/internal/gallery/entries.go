package main

import "github.com/landfall-golf/landfall/dispersion/chart"

// An entry is one figure of the gallery.
type entry struct {
	name  string // of the function of package chart
	shows string
	draw  func(*demo) (chart.Figure, error)
}

// entries are the figures in the order of the page. A test holds them against
// what package chart exports.
var entries = []entry{
	{"Stages", "The stages of a lesson, one below the other, each over the nearest earlier one like it.", stages},
	{"Change", "Before and after on one plan, for the top of a page.", change},
	{"Group", "One group with any regions and centres.", group},
	{"Depths", "One group by its contours of depth, which follow its own shape.", depths},
	{"Angles", "The direction of every shot against how far it carried.", angles},
	{"Shift", "How far the centre moved, with the region of the true shift.", shift},
	{"Effects", "What changed, and how sure that is.", effects},
	{"SpreadRatio", "How much tighter or wider, between the fields where it matters.", spreadRatio},
	{"Bootstrap", "How far a number wanders when the same shots are resampled.", bootstrap},
	{"Permutation", "How often the same balls, dealt anew, show as much.", permutation},
	{"Wall", "The real before and after among eleven others. The key is on the last line of this page.", wall},
	{"Pairs", "Many a before and after side by side, for guessing which changed.", pairs},
	{"RunChart", "Every ball in the order hit, with a cold start where there is one.", runChart},
	{"ControlChart", "Which balls of a practice do not belong to the pattern, and in which direction.", controlChart},
	{"Season", "What was kept from session to session.", season},
	{"Dial", "What a number of balls can show.", dial},
	{"Calibration", "What was expected against what was measured.", calibration},
	{"MeanFlights", "How the balls flew on average, from the side and from above.", meanFlights},
	{"Baselines", "How many strokes are still to play.", baselines},
	{"Worth", "What a change of the pattern is worth on the course.", worth},
	{"Aim", "Where to aim.", aim},
	{"Card", "How far the clubs carry.", card},
}

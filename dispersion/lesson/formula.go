package lesson

import "strings"

// formulaStarts make a spreadsheet take a cell for a formula, the wide forms
// where the language of the machine is one that has them.
//
// Reference: OWASP, "CSV Injection", for the list and the apostrophe; from
// memory.
var formulaStarts = []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"}

// guard returns a text that a spreadsheet shows and does not run: with an
// apostrophe before what would begin a formula. A plain number stays, since it
// runs nothing. An apostrophe that stands before such a text already gets a
// second one, so that unguard gives back every text as it was.
func guard(text string) string {
	if isDecimal(text) || !startsFormula(text) {
		return text
	}
	return "'" + text
}

// unguard takes away the apostrophe that guard put before a text.
func unguard(text string) string {
	if strings.HasPrefix(text, "'") && startsFormula(text) && !isDecimal(text[1:]) {
		return text[1:]
	}
	return text
}

func startsFormula(text string) bool {
	text = strings.TrimLeft(text, "'")
	for _, s := range formulaStarts {
		if strings.HasPrefix(text, s) {
			return true
		}
	}
	return false
}

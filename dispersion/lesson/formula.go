package lesson

import "strings"

// formulaStarts make a spreadsheet take a cell for a formula, the wide forms
// where the language of the machine is one that has them.
//
// Reference: OWASP, "CSV Injection", for the list, the separators and quotes,
// and the apostrophe; from memory.
var formulaStarts = []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"}

// cellBreaks end a cell for a spreadsheet that takes another separator than a
// comma, as it does by the language of the machine. To such a one the quotes
// around a field mean nothing, so that what follows must be harmless by itself.
const cellBreaks = ",;|\t\r\n"

// guard returns a text that a spreadsheet shows and does not run: with an
// apostrophe before what would begin a formula, at its start and after whatever
// may end a cell. A plain number stays, since it runs nothing. An apostrophe that
// stands before such a text already gets a second one, so that unguard gives
// back every text as it was.
func guard(text string) string {
	safe := eachPiece(text, func(piece string) string {
		if isDecimal(piece) || !startsFormula(piece) {
			return piece
		}
		return "'" + piece
	})
	if startsBreak(text) {
		safe = "'" + safe
	}
	return safe
}

// unguard takes away the apostrophes that guard put into a text.
func unguard(text string) string {
	if strings.HasPrefix(text, "'") && startsBreak(text) {
		text = text[1:]
	}
	return eachPiece(text, func(piece string) string {
		if strings.HasPrefix(piece, "'") && startsFormula(piece) && !isDecimal(piece[1:]) {
			return piece[1:]
		}
		return piece
	})
}

// eachPiece returns a text with the pieces between its cell breaks turned.
func eachPiece(text string, turn func(piece string) string) string {
	if !strings.ContainsAny(text, cellBreaks) {
		return turn(text)
	}
	var b strings.Builder
	for {
		end := strings.IndexAny(text, cellBreaks)
		if end < 0 {
			b.WriteString(turn(text))
			return b.String()
		}
		b.WriteString(turn(text[:end]))
		b.WriteByte(text[end])
		text = text[end+1:]
	}
}

// startsFormula tells whether a piece begins a formula, apostrophes and quotes
// left aside.
func startsFormula(piece string) bool {
	piece = strings.TrimLeft(piece, `'"`)
	for _, s := range formulaStarts {
		if strings.HasPrefix(piece, s) {
			return true
		}
	}
	return false
}

// startsBreak tells whether a text begins with a tab or the end of a line, which
// some spreadsheets pass over to the formula after it.
func startsBreak(text string) bool {
	text = strings.TrimLeft(text, `'"`)
	return text != "" && strings.IndexByte("\t\r\n", text[0]) >= 0
}

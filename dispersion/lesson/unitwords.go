package lesson

import "strings"

// unitWords are the ways to write a unit in a header, a row of units or a
// mapping, and what the end of a column's name says for it. Those of the last
// group are known to be units, so that a row of them is no ball, but none of our
// measures comes in them.
var unitWords = spellings(`
	yd: yd yds yard yards yrd
	m: m mtr metre metres meter meters mètre mètres metro metros metri
	ft: ft foot feet fuß fuss pieds pies piedi
	mph: mph mi/h
	mps: m/s mps m/sec
	kmh: km/h kmh kph
	deg: deg degs degree degrees ° º grad degré degrés grados gradi
	rpm: rpm r/min 1/min u/min min-1 tr/min t/min
	s: s sec secs second seconds sek sekunden secondes segundos secondi
	mm: mm
	cm: cm
	in: in inch inches
	ftps: ft/s fps
	pct: % percent prozent`)

// spellings turns lines of "word: spelling spelling" into spelling to word.
func spellings(lines string) map[string]string {
	words := map[string]string{}
	for line := range strings.SplitSeq(strings.TrimSpace(lines), "\n") {
		word, spelled, _ := strings.Cut(strings.TrimSpace(line), ":")
		for s := range strings.FieldsSeq(spelled) {
			words[s] = word
		}
	}
	return words
}

// readUnit returns what the end of a column's name says for a unit as people
// write it, with or without brackets and in any case; "" for none.
func readUnit(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, brackets := range []string{"()", "[]"} {
		if len(text) > 2 && text[0] == brackets[0] && text[len(text)-1] == brackets[1] {
			text = strings.TrimSpace(text[1 : len(text)-1])
		}
	}
	return unitWords[strings.TrimSuffix(text, ".")]
}

// cutBracket splits a unit in brackets off the end of a header: "Side [ft]".
func cutBracket(name string) (rest, unit string) {
	name = strings.TrimSpace(name)
	open := strings.LastIndexAny(name, "([")
	if open < 0 {
		return name, ""
	}
	if unit = readUnit(name[open:]); unit == "" {
		return name, ""
	}
	return strings.TrimSpace(name[:open]), unit
}

// readUnitsRow returns the unit that each cell of a row names, "" for an empty
// one. It is no row of units where a cell is anything else, or all are empty.
func readUnitsRow(cells []string) (units []string, ok bool) {
	units = make([]string, len(cells))
	for i, cell := range cells {
		switch strings.Trim(cell, "-–—[]() ") {
		case "":
			continue
		}
		if units[i] = readUnit(cell); units[i] == "" {
			return nil, false
		}
		ok = true
	}
	return units, ok
}

package messy

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"strings"
	"unicode/utf16"
)

// A File is one messy file.
type File struct {
	Name    string // short, of letters, digits and dashes
	Fault   string // what is wrong with it
	Rows    int    // data rows: balls, whether they can be read or not
	Content []byte
}

// Files returns all files, always the same.
func Files() []File {
	var files []File
	for _, part := range [][]File{encodings(), numbers(), sides(), headers(), times(), broken()} {
		files = append(files, part...)
	}
	return files
}

func file(name, fault string, s *sheet) File {
	return File{name, fault, len(s.rows), []byte(s.text())}
}

func encodings() []File {
	german := func() *sheet { return plain().set(1, noteAt, "schön, höher") }
	utf16File := func(high bool, mark bool) []byte {
		var b bytes.Buffer
		text := german().text()
		if mark {
			text = "\uFEFF" + text
		}
		for _, u := range utf16.Encode([]rune(text)) {
			pair := []byte{byte(u), byte(u >> 8)}
			if high {
				pair[0], pair[1] = pair[1], pair[0]
			}
			b.Write(pair)
		}
		return b.Bytes()
	}
	rows := len(Shots())
	latin := strings.ReplaceAll(german().text(), "ö", "\xF6")
	return []File{
		{"utf8-mark", "a byte order mark before UTF-8", rows, []byte("\uFEFF" + german().text())},
		{"utf16-low", "UTF-16, low byte first", rows, utf16File(false, true)},
		{"utf16-high", "UTF-16, high byte first", rows, utf16File(true, true)},
		{"utf16-no-mark", "UTF-16 without a byte order mark", rows, utf16File(false, false)},
		{"gzip", "packed with gzip", rows, packed([]byte(german().text()))},
		{"gzip-utf16", "UTF-16, packed with gzip", rows, packed(utf16File(false, true))},
		{"latin-1", "bytes that are no UTF-8", rows, []byte(latin)},
		{"cr-alone", "lines that end in CR alone", rows, []byte(strings.ReplaceAll(plain().text(), "\n", "\r"))},
	}
}

func packed(content []byte) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write(content); err != nil {
		panic(err) // a buffer takes everything
	}
	if err := w.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func comma(cell string) string { return strings.Replace(cell, ".", ",", 1) }

func grouped(mark string) func(string) string {
	return func(cell string) string { return cell[:len(cell)-3] + mark + cell[len(cell)-3:] }
}

// commas writes all lengths and speeds with a decimal comma.
func (s *sheet) commas() *sheet {
	for _, at := range []int{speedAt, carryAt, sideAt} {
		s.each(at, comma)
	}
	return s
}

func numbers() []File {
	unit := func(u string) func(string) string { return func(cell string) string { return cell + " " + u } }
	whole := plain()
	for _, at := range []int{speedAt, carryAt, sideAt} {
		whole.each(at, func(cell string) string { return cell[:len(cell)-2] })
	}
	return []File{
		file("semicolon-comma", "semicolons, and decimal commas", plain().by(";").commas()),
		file("tab-comma", "tabs, and decimal commas", plain().by("\t").commas()),
		file("quoted-comma", "decimal commas in quotes between commas", plain().commas()),
		file("thousands-comma", "a comma between thousands", plain().each(spinAt, grouped(","))),
		file("thousands-unclear", "a comma between thousands, and not one decimal in the file", whole.each(spinAt, grouped(","))),
		file("thousands-point", "a point between thousands beside decimal commas", plain().by(";").commas().each(spinAt, grouped("."))),
		file("thousands-apostrophe", "an apostrophe between thousands", plain().each(spinAt, grouped("'"))),
		file("thousands-blank", "a blank that does not break between thousands", plain().by(";").commas().each(spinAt, grouped("\u00A0"))),
		file("unit-in-cells", "the unit beside every carry and side", plain().head("", "", "", "", "carry", "side").each(carryAt, unit("yd")).each(sideAt, unit("yd"))),
		file("true-minus", "the true minus sign", plain().each(sideAt, func(c string) string { return strings.Replace(c, "-", "−", 1) })),
		file("not-finite", "NaN and Inf for a carry", plain().set(3, carryAt, "NaN").set(4, carryAt, "-Inf")),
		file("far-too-large", "a carry whose square overflows", plain().set(5, carryAt, "1e200")),
	}
}

// worded writes a side with a word for its sign.
func worded(right, left, format string) func(string) string {
	return func(cell string) string {
		word, size := right, cell
		if strings.HasPrefix(cell, "-") {
			word, size = left, cell[1:]
		}
		if size == "0.0" {
			return "0"
		}
		return strings.NewReplacer("WORD", word, "SIZE", size).Replace(format)
	}
}

func sides() []File {
	inFeet := func() *sheet {
		s := plain().head("", "", "", "", "", "Side (ft)")
		for i, b := range Shots() {
			s.set(i+1, sideAt, number(3*b.Side))
		}
		return s
	}
	split := plain().head("", "", "", "", "", "", "way")
	for _, row := range split.rows {
		row[noteAt] = "right"
		if rest, ok := strings.CutPrefix(row[sideAt], "-"); ok {
			row[sideAt], row[noteAt] = rest, "left"
		}
	}
	return []File{
		file("side-letter-after", "R or L after the side", plain().each(sideAt, worded("R", "L", "SIZEWORD"))),
		file("side-letter-before", "R or L before the side", plain().each(sideAt, worded("R", "L", "WORD SIZE"))),
		file("side-words", "right and left as words", plain().each(sideAt, worded("right", "left", "SIZE WORD"))),
		file("side-words-german", "German words, decimal commas", plain().by(";").commas().each(sideAt, func(c string) string {
			return comma(worded("rechts", "links", "SIZE m WORD")(strings.Replace(c, ",", ".", 1)))
		}).head("", "", "", "", "carry_m", "side")),
		file("side-column", "the way of the side in a column of its own", split),
		file("side-feet", "side in feet, carry in yards", inFeet()),
		file("carry-no-unit", "carry without a unit beside a side in feet", inFeet().head("", "", "", "", "Carry")),
	}
}

func headers() []File {
	titled := plain()
	titled.above = []string{"Practice bay 3", "", "Date: 1 May 2024, \"windy\""}
	both := plain().head("Time", "Club", "Ball speed", "Spin", "Carry", "Side", "Note")
	both.above, both.below = []string{"A lesson"}, []string{"", "", "mph", "rpm", "yd", "yd", ""}
	brackets := plain().head("Time", "Club", "Ball Speed", "Spin", "Carry", "Side", "Note")
	brackets.below = []string{"", "", "[mph]", "[rpm]", "[yd]", "[yd]", ""}
	conflict := plain()
	conflict.below = []string{"", "", "mph", "rpm", "m", "m", ""}
	twice := plain().head("", "", "", "carry_m")
	return []File{
		file("titles", "lines above the header", titled),
		file("units-row", "a title, and a row of units below the header", both),
		file("units-row-brackets", "a row of units in brackets", brackets),
		file("units-conflict", "a row of units that says otherwise than the header", conflict),
		file("units-in-header", "units in brackets in the header", plain().head("", "", "Ball Speed [mph]", "Spin (1/min)", "Carry (yards)", "Side [yd]")),
		file("german", "German headers", plain().by(";").commas().head("Zeit", "Schläger", "Ballgeschwindigkeit [mph]", "Drall [U/min]", "Flugweite [yd]", "Seitenabweichung [yd]", "Bemerkung")),
		file("french", "French headers", plain().by(";").commas().head("Heure", "Club", "Vitesse de balle (mph)", "Spin", "Portée (yd)", "Écart latéral (yd)", "Commentaire")),
		file("spanish", "Spanish headers", plain().head("Fecha", "Palo", "Velocidad de bola (mph)", "Giro", "Vuelo (yd)", "Desviación lateral (yd)", "Nota")),
		file("club-other-name", "clubs under another name", plain().head("", "Club Type")),
		file("club-no-name", "clubs under a name that does not say so", plain().head("", "What")),
		file("vague", "a distance that may be carry or total", plain().head("", "", "", "", "Distance (yd)", "Offline (yd)")),
		file("no-units", "carry and side in no unit", plain().head("", "", "", "", "Carry", "Side")),
		file("carry-twice", "two columns of carry", twice),
		file("markup", "markup and formulas in names and cells", plain().head("", "", "", "", "", "", "<img src=x onerror=alert(1)>").set(1, clubAt, "=HYPERLINK(1)").set(2, noteAt, "<script>alert(1)</script>")),
	}
}

func times() []File {
	layout := func(change func(date, clock string) string) *sheet {
		return plain().each(timeAt, func(cell string) string { return change(cell[:10], cell[11:]) })
	}
	dayFirst := func(date, clock string) string { return date[8:] + "." + date[5:7] + "." + date[:4] + " " + clock }
	vague := plain()
	for i, row := range vague.rows {
		row[timeAt] = fmt.Sprintf("%02d/06/2024 10:%02d", 1+i/2, 15+i)
	}
	return []File{
		file("time-zone", "times with a zone", layout(func(date, clock string) string { return date + " " + clock + " +0200" })),
		file("time-day-first", "days before months, with points", layout(dayFirst)),
		file("time-vague", "dates that may start with the day or the month", vague),
	}
}

func broken() []File {
	again := plain()
	again.rows = append(again.rows[:6], append([][]string{append([]string{}, again.header...)}, again.rows[6:]...)...)
	short, long := plain(), plain()
	short.rows[3] = short.rows[3][:4]
	long.rows[3] = append(long.rows[3], "one", "more")
	blank := plain()
	blank.rows = append(blank.rows, make([]string, len(blank.header)))
	blankText := strings.Replace(blank.text(), "\n", "\n\n  \n", 4)
	return []File{
		file("absent-words", "- and n/a for what was not measured", plain().set(2, spinAt, "-").set(5, spinAt, "n/a").set(8, carryAt, "-")),
		file("not-read", "balls that the device did not see", plain().set(2, carryAt, "").set(7, sideAt, "no read")),
		file("open-quote", "a quote that is not closed", plain().set(4, noteAt, raw(`"open`))),
		file("short-row", "a row with too few fields", short),
		file("long-row", "a row with too many fields", long),
		file("header-again", "the header once more among the rows", again),
		{"blank-lines", "blank lines, and a row of separators", len(blank.rows), []byte(blankText)},
		file("huge-field", "a field of two megabytes", plain().set(6, noteAt, strings.Repeat("long ", 420_000))),
	}
}

package practice

import (
	"bytes"
	"fmt"
	"html/template"
	"math"
)

// HTML returns the sheet as a page to print, on one sheet of paper for up to
// about a hundred balls. It needs nothing from outside. All text is shown as
// text, never as markup.
func (s Sheet) HTML() ([]byte, error) {
	var b bytes.Buffer
	if err := sheetPage.Execute(&b, s); err != nil {
		return nil, fmt.Errorf("practice: sheet: %w", err)
	}
	return b.Bytes(), nil
}

// letter names a task by its index, from A on.
func letter(i int) string { return string(rune('A' + i)) }

// meanText words where a mean would have to lie.
func (s Sheet) meanText(m Meaning) string {
	number := func(v float64) string {
		places := max(0, min(9, int(math.Ceil(-math.Log10(s.Smallest/5)))))
		text := fmt.Sprintf("%.*f", places, v)
		if s.Unit != "" {
			text += " " + s.Unit
		}
		return text
	}
	switch {
	case !m.HasHigh:
		return number(m.Low) + " or more"
	case !m.HasLow:
		return "below " + number(m.High)
	}
	return number(m.Low) + " to " + number(m.High)
}

var sheetPage = template.Must(template.New("sheet").Funcs(template.FuncMap{
	"letter": letter,
	"next":   func(i int) int { return i + 1 },
	"blanks": func(n int) []struct{} { return make([]struct{}, n) },
	"mean":   Sheet.meanText,
}).Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Practice sheet{{with .Pupil}} for {{.}}{{end}}</title>
<style>
@page { size: A4; margin: 15mm }
body { font: 11pt/1.35 Helvetica, Arial, sans-serif; color: #111; background: #fff; max-width: 180mm; margin: 0 auto }
h1 { font-size: 16pt; margin: 0 0 2mm } h2 { font-size: 12pt; margin: 5mm 0 1mm }
table { border-collapse: collapse; width: 100% } th, td { border: 0.3mm solid #555; padding: 1mm 2mm; text-align: left; vertical-align: top }
td.number, th.number { text-align: right; white-space: nowrap }
ol.order { list-style: none; margin: 0; padding: 0; display: flex; flex-wrap: wrap; gap: 1mm }
ol.order li { border: 0.3mm solid #555; width: 14mm; padding: 0.5mm 1mm; font-size: 10pt }
ol.order b { float: right; font-size: 12pt }
ul { margin: 0; padding-left: 5mm } p { margin: 1mm 0 } h2, table, ol { break-inside: avoid }
</style>
</head>
<body>
<h1>Practice sheet{{with .Pupil}} for {{.}}{{end}}</h1>
<p>Date: ______________ &nbsp; Place: ______________ &nbsp; Start: ______ &nbsp; End: ______</p>
<h2>What to hit</h2>
<table>
<tr><th></th><th>Task</th><th>Club</th><th>Target</th><th class="number">Balls</th></tr>
{{range $i, $t := .Tasks}}<tr><th>{{letter $i}}</th><td>{{$t.Name}}</td><td>{{$t.Club}}</td><td>{{$t.Target}}</td><td class="number">{{$t.Balls}}</td></tr>
{{end}}</table>
<h2>In this order</h2>
<p>Drawn by lot (seed {{.Seed}}). Tick each ball. It feels harder than one task after the other, and leaves more.</p>
<ol class="order">
{{range $i, $t := .Order}}<li>{{next $i}} <b>{{letter $t}}</b></li>
{{end}}</ol>
<h2>When to stop</h2>
<ul>
{{range .Stop}}<li>{{.}}</li>
{{end}}</ul>
<h2>The test: first balls of the next session</h2>
<p>At least 24 hours after this practice and before any teaching: {{.FirstBalls}} balls{{with .Club}} with the {{.}}{{end}}, no others with it before them, to one target, full swings. Write down the {{.Measure}} of each{{with .Unit}}, in {{.}}{{end}}; mark mishits, leave none out.</p>
<table><tr>{{range $i, $x := blanks .FirstBalls}}<td>{{next $i}}<br>&nbsp;</td>{{end}}</tr></table>
<p>The baseline was {{printf "%.1f" .Before}}{{with .Unit}} {{.}}{{end}} (mean of {{.BeforeBalls}} clean balls, standard deviation {{printf "%.1f" .SD}}). A change of {{printf "%g" .Smallest}}{{with .Unit}} {{.}}{{end}} is worth having{{if .LessIsBetter}}, less being better{{end}}. If the first balls spread as those did, their mean, mishits aside, would mean:</p>
<table>
<tr><th>Mean</th><th>Verdict</th><th>What it would mean</th></tr>
{{range .Meanings}}<tr><td class="number">{{mean $ .}}</td><td>{{.Verdict}}</td><td>{{.Text}}</td></tr>
{{end}}</table>
<p>Days differ by themselves, and the lines above don't know by how much: test on a second day before you build on the first.</p>
</body>
</html>
`))

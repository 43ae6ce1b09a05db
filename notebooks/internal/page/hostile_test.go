package page

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// payloads are stage names, notes and cells of a data file that try to act.
var payloads = []string{
	`<script>alert(1)</script>`,
	`<img src=x onerror=alert(1)>`,
	`<img src="http://evil.example/x.png" srcset="//evil.example/y.png 2x" alt="z">`,
	`"><svg onload=alert(1)><a xlink:href="javascript:alert(1)">x</a></svg>`,
	`<iframe src="https://evil.example"></iframe>`,
	`</pre></div></details></main></body></html><h1>mine</h1>`,
	`</table></td></figure></ul></li>`,
	`</title></style></textarea></script>--><b>x`,
	`<style>*{display:none}</style>`,
	`<td style="text-align:right;background:url(http://evil.example)">1`,
	`<div style="position:fixed" class="skip" id="main" onclick="x()">x</div>`,
	`<base href="https://evil.example/"><meta http-equiv="refresh" content="0;url=https://evil.example">`,
	`<form action="https://evil.example"><input name=q autofocus onfocus=alert(1)><button>Show the code</button></form>`,
	`<link rel=stylesheet href="https://evil.example/s.css"><video src="//evil.example/v" autoplay></video>`,
	`<math><mi//xlink:href="data:x,<script>alert(1)</script>">`,
	`<a href="javascript:alert(1)">go</a> <a href="data:text/html,<script>alert(1)</script>">go</a> <a href="file.html">go</a>`,
	`[go](javascript:alert(1)) ![pic](https://evil.example/p.png) ![pic](data:text/html;base64,PHA+) <javascript:alert(1)>`,
	"[x]: https://evil.example \"t\"\n![a][x] [b][x]",
	`<plaintext>`, `<template><p>x`, `<noscript><p title="</noscript><img src=x onerror=alert(1)>">`,
	`<!--[if IE]><script>alert(1)</script><![endif]-->`, `<![CDATA[x]]>`, `<?php echo 1 ?>`,
	`=HYPERLINK("https://evil.example","carry")`, `+1+cmd|' /C calc'!A0`, `{{.Title}} ${x} $$\href{javascript:alert(1)}{x}$$`,
	"a\x00b\x07c\x1b]0;title\x07\x1b[31mred\x1b[0m\x7f\u0085\u009b", "left\u202Ethgir\u2066\u2028end", "\xff\xfe not UTF-8",
	"&#0;&#27;&#x202e;&lt;script&gt;&NewLine;", "10 %\r20 %\r", strings.Repeat("# ", 30), "# mine\n\n###### deep\n\n- - - x",
	"```\"><script>alert(1)</script>\ncode\n```", "|a|b|\n|-|:-:|\n|<b>|`<i>`|",
}

func bundleOutput(data map[string]any) nbformat.Output {
	return nbformat.Output{Type: nbformat.DisplayData, Data: data}
}

// onePixel is a PNG of one pixel.
const onePixel = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR42mP4DwABAQEAG7buVgAAAABJRU5ErkJggg=="

// sinks are the places in a notebook that data from a file can reach as text:
// what is shown there must be the text itself, visible and complete.
var sinks = map[string]func(s string) nbformat.Output{
	"stdout": func(s string) nbformat.Output {
		return nbformat.Output{Type: nbformat.Stream, Name: "stdout", Text: s}
	},
	"stderr": func(s string) nbformat.Output {
		return nbformat.Output{Type: nbformat.Stream, Name: "stderr", Text: s}
	},
	"text/plain": func(s string) nbformat.Output { return bundleOutput(map[string]any{"text/plain": s}) },
	"text/latex": func(s string) nbformat.Output { return bundleOutput(map[string]any{"text/latex": s}) },
	"error value": func(s string) nbformat.Output {
		return nbformat.Output{Type: nbformat.Error, ErrorValue: s}
	},
	"traceback": func(s string) nbformat.Output {
		return nbformat.Output{Type: nbformat.Error, ErrorName: "ERROR", ErrorValue: "x", Traceback: []string{s}}
	},
}

func codeCell(out ...nbformat.Output) *nbformat.Notebook {
	return &nbformat.Notebook{Minor: 5, Cells: []nbformat.Cell{
		{Type: nbformat.Markdown, Source: "# Title"}, {Type: nbformat.Code, Source: "x", Outputs: out}}}
}

func mainText(t *testing.T, page string) string {
	t.Helper()
	return textOf(find(parse(t, page), "main")[0])
}

func TestHostileTextStaysText(t *testing.T) {
	for name, sink := range sinks {
		for _, payload := range payloads {
			t.Run(name, func(t *testing.T) {
				text := mainText(t, write(t, codeCell(sink("BEFORE "+payload+" AFTER"))))
				want := "BEFORE " + plaintext.Visible(terminal.ReplaceAllString(payload, "")) + " AFTER"
				if !strings.Contains(text, want) {
					t.Errorf("%q is not shown as %q but in\n%q", payload, want, text)
				}
			})
		}
	}
}

func TestHostileAltText(t *testing.T) {
	for _, payload := range payloads {
		nb := codeCell(bundleOutput(map[string]any{"image/png": onePixel, "text/plain": "BEFORE " + payload}))
		images := find(parse(t, write(t, nb)), "img")
		if len(images) != 1 {
			t.Fatalf("%q: %d pictures, want 1", payload, len(images))
		}
		if got, want := attribute(images[0], "alt"), plaintext.OneLine("BEFORE "+payload); got != want {
			t.Errorf("alt %q, want %q", got, want)
		}
	}
}

// Markup is not text: what acts in it is dropped, and write checks that
// nothing else is left. What stands before it must stay.
func TestHostileMarkup(t *testing.T) {
	for _, payload := range payloads {
		for name, nb := range map[string]*nbformat.Notebook{
			"text/html":       codeCell(bundleOutput(map[string]any{"text/html": "<p>BEFORE</p>" + payload})),
			"text/html table": codeCell(bundleOutput(map[string]any{"text/html": "BEFORE<table><tr><td>" + payload})),
			"text/markdown":   codeCell(bundleOutput(map[string]any{"text/markdown": "BEFORE\n\n" + payload})),
			"markdown cell":   {Cells: []nbformat.Cell{{Type: nbformat.Markdown, Source: "BEFORE\n\n" + payload}}},
			"raw cell":        {Cells: []nbformat.Cell{{Type: nbformat.Raw, Source: "BEFORE" + payload}}},
			"code cell":       {Cells: []nbformat.Cell{{Type: nbformat.Code, Source: "BEFORE" + payload}}},
			"image/svg+xml":   codeCell(bundleOutput(map[string]any{"image/svg+xml": payload, "text/plain": "BEFORE"})),
			"no known form":   codeCell(bundleOutput(map[string]any{"BEFORE/" + payload: 1})),
		} {
			t.Run(name, func(t *testing.T) {
				page := write(t, nb)
				if name == "image/svg+xml" {
					return // a picture: the browser acts on nothing in it
				}
				if !strings.Contains(mainText(t, page), "BEFORE") {
					t.Errorf("%q swallowed what stands before it", payload)
				}
			})
		}
	}
}

// In markdown HTML is not dropped but shown: a stage may be called <b>.
func TestMarkupInMarkdownIsShown(t *testing.T) {
	for _, s := range []string{"stage <b>old</b> swing", "<div>old</div>", "<script>\nalert(1)\n</script> x"} {
		if text := mainText(t, write(t, codeCell(bundleOutput(map[string]any{"text/markdown": s})))); !strings.Contains(text, s) {
			t.Errorf("%q is not in %q", s, text)
		}
	}
}

// Ten megabytes of anything must give a page that opens, in a time that a
// coach would wait, and that says that something is missing.
func TestEnormousContent(t *testing.T) {
	const size = 10 << 20
	sources := map[string]string{
		"one word": strings.Repeat("x", size),
		"lines":    strings.Repeat("150.2, 3.1\n", size/11),
		"tags":     strings.Repeat("<b>", size/3),
		"closing":  strings.Repeat("</p>", size/4),
		"cells":    "<table>" + strings.Repeat("<td><b>x", size/8),
		"quotes":   strings.Repeat("> ", size/2),
		"brackets": strings.Repeat("[", size),
		"stars":    strings.Repeat("*a **b ", size/7),
		"ticks":    strings.Repeat("` ``", size/4),
	}
	for name, s := range sources {
		places := map[string]*nbformat.Notebook{
			"text/html": codeCell(bundleOutput(map[string]any{"text/html": s})),
			"markdown":  codeCell(bundleOutput(map[string]any{"text/markdown": s})),
			"alt text":  codeCell(bundleOutput(map[string]any{"text/html": fmt.Sprintf("<img src='data:image/png;base64,%s' alt='%s'>", onePixel, s)})),
			"code":      {Cells: []nbformat.Cell{{Type: nbformat.Code, Source: s}}},
			"heading":   {Cells: []nbformat.Cell{{Type: nbformat.Markdown, Source: "# " + s}}},
		}
		for sink, out := range sinks {
			places[sink] = codeCell(out(s))
		}
		for place, nb := range places {
			t.Run(name+" in "+place, func(t *testing.T) {
				start := time.Now()
				var b bytes.Buffer
				if err := Write(&b, nb, Options{}); err != nil {
					t.Fatal(err)
				}
				t.Logf("%v, %d bytes", time.Since(start).Round(time.Millisecond), b.Len())
				if limit := 4 << 20; b.Len() > limit {
					t.Errorf("the page has %d bytes, want at most %d", b.Len(), limit)
				}
				if n := strings.Count(b.String(), "(characters left out: "); n == 0 {
					t.Error("the page does not say that something is missing")
				}
			})
		}
	}
}

package main

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
	"github.com/landfall-golf/landfall/notebooks/internal/page"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/review/figures"
)

// shuffleWallFile is a page of its own: nobody can pick the real picture fairly
// who has seen the review.
const shuffleWallFile = "shuffle-wall.html"

// shuffleWallPage returns the page with the shuffle walls of a lesson, their keys
// last. It runs no notebook.
func shuffleWallPage(r *review.Review) ([]byte, error) {
	walls, err := r.Walls()
	if err != nil {
		return nil, err
	}
	nb := &nbformat.Notebook{Cells: []nbformat.Cell{{Type: nbformat.Markdown, Source: `# Which one is real?

Look here before you read the review, and let the pupil look. Write down the number of the picture that stands out, then see the key at the end of the page.`}}}
	if len(walls) == 0 {
		nb.Cells = append(nb.Cells, shown(paragraph("There are no two like stages, so there is nothing to hide among others.")))
	}
	var keys []string
	for _, w := range walls {
		outputs := []string{paragraph(w.Says)}
		if w.Wall != nil {
			figure, err := figures.Wall(r, w)
			if err != nil {
				return nil, err
			}
			svg, err := figure.SVG()
			if err != nil {
				return nil, err
			}
			table, err := r.WallTable(w)
			if err != nil {
				return nil, err
			}
			picture := fmt.Sprintf(`<figure><img alt="%s" src="data:image/svg+xml;base64,%s"></figure>`, html.EscapeString(figure.Alt()), base64.StdEncoding.EncodeToString(svg))
			outputs = append(outputs, picture, table.HTML())
			keys = append(keys, paragraph(w.Key))
		}
		nb.Cells = append(nb.Cells, shown(outputs...))
	}
	if keys != nil {
		key := shown(append([]string{"<h2>The key</h2>"}, keys...)...)
		key.Metadata = map[string]any{"tags": []any{"key"}}
		nb.Cells = append(nb.Cells, key)
	}
	var b bytes.Buffer
	err = page.Write(&b, nb, page.Options{})
	return b.Bytes(), err
}

// shown is a cell without code that shows markup.
func shown(markup ...string) nbformat.Cell {
	c := nbformat.Cell{Type: nbformat.Code}
	for _, m := range markup {
		c.Outputs = append(c.Outputs, nbformat.Output{Type: nbformat.DisplayData, Data: map[string]any{"text/html": m}})
	}
	return c
}

func paragraph(text string) string { return "<p>" + html.EscapeString(text) + "</p>" }

package show

import (
	"encoding/base64"
	"errors"
	"fmt"
	"html"
)

// A Picture is a finished figure: it draws itself and says in words what is to
// be seen in it.
type Picture interface {
	SVG() ([]byte, error)
	PNG() ([]byte, error)
	Alt() string
}

// Figure shows p. A picture that cannot be drawn, or has no words for those
// who cannot see it, ends the cell.
//
// The SVG travels inside an img element: bare SVG is dropped by programs that
// do not trust the notebook, and comes out blank in some exported pages.
func Figure(p Picture) {
	if p == nil {
		stop(errors.New("show.Figure: there is no figure"))
	}
	svg, err := p.SVG()
	if err != nil {
		stop(fmt.Errorf("show.Figure: drawing the SVG: %w", err))
	}
	png, err := p.PNG()
	if err != nil {
		stop(fmt.Errorf("show.Figure: drawing the PNG: %w", err))
	}
	alt := clean(p.Alt(), longest)
	if alt == "" {
		stop(errors.New("show.Figure: the figure has no alt text; say in words what it shows"))
	}
	send(bundle{
		html: `<figure><img alt="` + html.EscapeString(alt) + `" src="data:image/svg+xml;base64,` +
			base64.StdEncoding.EncodeToString(svg) + `"></figure>`,
		png:  png,
		text: alt,
	})
}

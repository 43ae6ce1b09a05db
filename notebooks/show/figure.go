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
	b, err := picture(p)
	if err != nil {
		stop(fmt.Errorf("show.Figure: %w", err))
	}
	send(b)
}

// picture returns p as an output.
func picture(p Picture) (bundle, error) {
	if p == nil {
		return bundle{}, errors.New("there is no figure")
	}
	svg, err := p.SVG()
	if err != nil {
		return bundle{}, fmt.Errorf("drawing the SVG: %w", err)
	}
	png, err := p.PNG()
	if err != nil {
		return bundle{}, fmt.Errorf("drawing the PNG: %w", err)
	}
	alt := clean(p.Alt(), longest)
	if alt == "" {
		return bundle{}, errors.New("the figure has no alt text; say in words what it shows")
	}
	return bundle{
		html: `<figure><img alt="` + html.EscapeString(alt) + `" src="data:image/svg+xml;base64,` +
			base64.StdEncoding.EncodeToString(svg) + `"></figure>`,
		png:  png,
		text: alt,
	}, nil
}

package main

import (
	"fmt"
	"image/color"
	"os"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

var (
	paper = color.NRGBA{R: 0xfb, G: 0xf9, B: 0xf4, A: 0xff}
	ink   = color.NRGBA{R: 0x22, G: 0x22, B: 0x22, A: 0xff}
	// M. Okabe, K. Ito, Color Universal Design, 2008.
	colours = []color.NRGBA{{0x00, 0x72, 0xb2, 0xff}, {0x00, 0x9e, 0x73, 0xff}, {0xd5, 0x5e, 0x00, 0xff}, {0xcc, 0x79, 0xa7, 0xff}}
	markers = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{}, draw.CrossGlyph{}}
)

// picture draws, for every method that promises a share, the share it held
// against the number of shots.
func picture(path string, cells []cell) error {
	var panels []method
	for _, m := range methods {
		if m.nominal > 0 {
			panels = append(panels, m)
		}
	}
	const columns = 3
	rows := (len(panels) + columns - 1) / columns
	grid := make([][]*plot.Plot, rows)
	for i := range grid {
		grid[i] = make([]*plot.Plot, columns)
	}
	for i, m := range panels {
		p, err := panel(m, cells, i == 0)
		if err != nil {
			return err
		}
		grid[i/columns][i%columns] = p
	}
	canvas := vgsvg.New(columns*3.4*vg.Inch, vg.Length(rows)*2.6*vg.Inch)
	dc := draw.New(canvas)
	dc.SetColor(paper)
	dc.Fill(dc.Rectangle.Path())
	tiles := draw.Tiles{Rows: rows, Cols: columns, PadX: 12, PadY: 12, PadTop: 6, PadBottom: 6, PadLeft: 6, PadRight: 10}
	for i, row := range plot.Align(grid, tiles, dc) {
		for j, c := range row {
			if grid[i][j] != nil {
				grid[i][j].Draw(c)
			}
		}
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if _, err := canvas.WriteTo(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func panel(m method, cells []cell, legend bool) (*plot.Plot, error) {
	p := plot.New()
	p.BackgroundColor = paper
	p.Title.Text = fmt.Sprintf("%s: %s", m.name, m.aims)
	p.Title.TextStyle.Font.Size = 9
	p.X.Label.Text, p.Y.Label.Text = "shots", "held, %"
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Label.TextStyle = text.Style{Color: ink, Font: font.From(axis.Label.TextStyle.Font, 8), Handler: plot.DefaultTextHandler, XAlign: draw.XCenter, YAlign: axis.Label.TextStyle.YAlign, Rotation: axis.Label.TextStyle.Rotation}
		axis.Tick.Label.Font.Size = 8
	}
	p.X.Scale = plot.LogScale{}
	var ticks plot.ConstantTicks
	for _, n := range countsIn(cells) {
		ticks = append(ticks, plot.Tick{Value: float64(n), Label: fmt.Sprint(n)})
	}
	p.X.Tick.Marker = ticks
	p.X.Min, p.X.Max = 2.8, 55
	p.Y.Min, p.Y.Max = 40, 101
	promised := plotter.NewFunction(func(float64) float64 { return 100 * m.nominal })
	promised.Color, promised.Dashes = ink, []vg.Length{2, 2}
	p.Add(promised)
	for i, s := range shapes {
		var at plotter.XYs
		for _, n := range countsIn(cells) {
			if c, ok := find(cells, m.name, s.name, n); ok {
				at = append(at, plotter.XY{X: float64(n), Y: 100 * c.coverage})
			}
		}
		line, points, err := plotter.NewLinePoints(at)
		if err != nil {
			return nil, err
		}
		line.Color, points.Color, points.Shape, points.Radius = colours[i], colours[i], markers[i], 2.5
		p.Add(line, points)
		if legend {
			p.Legend.Add(s.name, line, points)
		}
	}
	p.Legend.TextStyle.Font.Size = 8
	p.Legend.Left = true
	return p, nil
}

package main

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/notebooks/internal/page"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/review/figures"
)

// The whole review page, once the numbers are there, is to take at most 300 ms and
// 500 KB: its figures are drawn and the executed notebook becomes a page. What the
// kernel takes to compile the cells is no part of it.
func BenchmarkReviewPage(b *testing.B) {
	ctx := b.Context()
	root, err := moduleRoot()
	if err != nil {
		b.Fatal(err)
	}
	var quiet bytes.Buffer
	nb, err := execute(ctx, root, review.Source{}, newProgress(&quiet))
	if err != nil {
		b.Fatal(err)
	}
	r, err := review.Open(review.Source{})
	if err != nil {
		b.Fatal(err)
	}
	numbers, err := r.JSON(ctx, nil)
	if err != nil {
		b.Fatal(err)
	}
	effects, err := r.CSV(ctx)
	if err != nil {
		b.Fatal(err)
	}
	moved, err := r.MovedAlong(ctx)
	if err != nil {
		b.Fatal(err)
	}
	course, err := review.DemoCourse()
	if err != nil {
		b.Fatal(err)
	}
	worth, err := r.OnCourse(ctx, course)
	if err != nil {
		b.Fatal(err)
	}
	draw := []func() (chart.Figure, error){
		func() (chart.Figure, error) { return figures.Change(r, r.Headlines()[0]) },
		func() (chart.Figure, error) { return first(figures.Stages(r, r.Clubs()[0])) },
		func() (chart.Figure, error) { return figures.MeanFlights(r, moved[0]) },
		func() (chart.Figure, error) { return first(figures.Effects(ctx, r)) },
		func() (chart.Figure, error) {
			return chart.Worth(chart.WorthInput{Unit: "yd", Worth: worth[0].Worth})
		},
	}
	var html bytes.Buffer
	for b.Loop() {
		for _, figure := range draw {
			f, err := figure()
			if err != nil {
				b.Fatal(err)
			}
			if _, err := f.SVG(); err != nil {
				b.Fatal(err)
			}
		}
		html.Reset()
		if err := page.Write(&html, nb, page.Options{Downloads: []page.Download{
			{Name: "review.csv", Type: "text/csv", Data: effects}, {Name: "review.json", Type: "application/json", Data: numbers},
		}}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(html.Len())/1000, "KB")
}

func first(all []chart.Figure, err error) (chart.Figure, error) {
	if err != nil || len(all) != 1 {
		return chart.Figure{}, fmt.Errorf("%d figures, %w", len(all), err)
	}
	return all[0], nil
}

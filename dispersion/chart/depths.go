package chart

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// DepthsInput is what Depths draws. The zero value of Title stands for one made
// from the numbers.
type DepthsInput struct {
	Title  string
	Name   string
	Unit   string             // of side and carry
	Shots  []dispersion.Point // X side, Y carry
	Mishit []bool             // parallel to Shots; nil: none
	Stage  int                // number of the stage, from 0, whose look the shots have
}

const (
	mostContours   = 4
	mostDepthShots = 200 // beyond, a contour takes longer than a figure may
)

// Depths returns a figure of one group in plan view with its contours of
// halfspace depth: the hull of the clean shots, regions of greater depth
// down to the deepest that holds a shot, four in all at most, each with how many it
// holds, and the Tukey median, marked as the deepest point. The contours follow the shape of the group, whatever that is; unlike
// ellipses they promise nothing about shots to come.
//
// Errors: those of [Group]; [ErrEmpty] where all shots are mishits; *[InputError]
// for more than 200 clean shots.
//
// Depths does not modify its input.
func Depths(in DepthsInput) (Figure, error) {
	if err := checkShots(in.Shots, in.Mishit, "the group"); err != nil {
		return Figure{}, err
	}
	clean := layer{shots: Shots{Points: in.Shots, Mishit: in.Mishit}}.clean()
	if len(clean) == 0 {
		return Figure{}, fmt.Errorf("chart: the group has no clean shots: %w", ErrEmpty)
	}
	if len(clean) > mostDepthShots {
		return Figure{}, &InputError{"the group", fmt.Sprintf("%d clean shots: contours of depth are drawn for at most %d", len(clean), mostDepthShots)}
	}
	g, err := dispersion.NewGroup(clean)
	if err != nil {
		return Figure{}, &InputError{"the group", err.Error()}
	}
	centre, err := g.TukeyMedian(0.95)
	if err != nil {
		return Figure{}, &InputError{"the group", err.Error()}
	}
	deepest := g.Depth(centre.Point)
	var regions []dispersion.Region
	for i, last := 0, 0; i < mostContours; i++ {
		k := 1 + int(math.Round(float64(i*(deepest-1))/(mostContours-1)))
		if k == last {
			continue
		}
		last = k
		r, err := g.DepthRegion(k)
		if err != nil {
			break // rounding may leave the median short of the deepest region by one
		}
		if r.Shots == 0 {
			break // a speck around the deepest point, which is marked
		}
		regions = append(regions, r)
	}
	title := in.Title
	if title == "" {
		title = depthsTitle(regions)
	}
	return Group(GroupInput{
		Title: title, Name: in.Name, Unit: in.Unit, Shots: in.Shots, Mishit: in.Mishit, Stage: in.Stage,
		Regions: regions, Centres: []Mark{{"deepest point", centre.Point}},
	})
}

// depthsTitle names the contour that holds closest to half of the shots.
func depthsTitle(regions []dispersion.Region) string {
	best := regions[0].(dispersion.Polygon) // there always is a hull
	for _, r := range regions {
		if p := r.(dispersion.Polygon); math.Abs(float64(2*p.Shots-p.N)) < math.Abs(float64(2*best.Shots-best.N)) {
			best = p
		}
	}
	return fmt.Sprintf("The shots lie in their own shape: the contour of depth %d holds %d of %d", best.Depth, best.Shots, best.N)
}

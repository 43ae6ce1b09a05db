package main

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// A small part of the study with another seed agrees with the table in the docs,
// within four standard deviations of both.
func TestTableCanBeRepeated(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "..", "..", "docs", "methods", "one-group.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	written := map[string][]string{}
	for _, r := range rows {
		written[r[0]+r[3]+r[4]] = r
	}
	cells, err := simulateShapes(2, shapes[:3], []int{5, 10}, 250)
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, c := range cells {
		r, ok := written[c.method+c.shape+strconv.Itoa(c.n)]
		if !ok {
			t.Errorf("%s, %s, n = %d is not in the docs", c.method, c.shape, c.n)
			continue
		}
		compared++
		groups, _ := strconv.ParseFloat(r[5], 64)
		want, _ := strconv.ParseFloat(r[6], 64)
		pooled := (c.coverage*float64(c.groups) + want*groups) / (float64(c.groups) + groups)
		band := 4 * math.Sqrt(pooled*(1-pooled)*(1/float64(c.groups)+1/groups))
		if math.Abs(c.coverage-want) > band+1e-9 {
			t.Errorf("%s, %s, n = %d: %.3f of %d groups, the docs say %.3f ± %.3f", c.method, c.shape, c.n, c.coverage, c.groups, want, band)
		}
	}
	if compared < 40 {
		t.Errorf("only %d cells compared", compared)
	}
}

// The shapes are what they say: their moments, and the mishits' share.
func TestShapes(t *testing.T) {
	for i, s := range shapes {
		r := rand.New(rand.NewPCG(11, uint64(i)))
		const many = 60_000
		points := make([]dispersion.Point, many)
		short := 0
		for i := range points {
			points[i] = s.draw(r)
			if points[i].Y < 115 { // 4.4 standard deviations down, or a mishit
				short++
			}
		}
		g, err := dispersion.NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		if !s.symmetric {
			// Of the mishits nearly all carry below 115 yards: 75 % of 150 is 112.5.
			if share := float64(short) / many; share < .07 || share > .105 {
				t.Errorf("%s: a share of %g carries short", s.name, share)
			}
			continue
		}
		m := g.GeometricMedian().Point
		if math.Hypot(m.X-middle.X, m.Y-middle.Y) > .25 { // 5 standard errors
			t.Errorf("%s: median %v", s.name, m)
		}
		c, err := g.Cov()
		if err != nil {
			t.Fatal(err)
		}
		if s.name == "t(3)" {
			continue // its sample covariance has no standard error
		}
		for _, pair := range [][2]float64{{c.XX, 36 * s.inflate}, {c.XY, -14.4 * s.inflate}, {c.YY, 64 * s.inflate}} {
			if math.Abs(pair[0]-pair[1]) > .06*64*s.inflate {
				t.Errorf("%s: covariance %+v", s.name, c)
			}
		}
	}
}

// Every study runs on its own, and an unknown name is refused before any work.
func TestStudyRefusesUnknownNames(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if err := run([]string{"nonesuch"}, out, 1); err == nil || !strings.Contains(err.Error(), "one-group, two-groups, aims, flight, largest") {
		t.Errorf("error %v", err)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("the folder was made all the same")
	}
}

// The report of a few cells has every method, a dash for what is missing, and a
// picture.
func TestReport(t *testing.T) {
	out := t.TempDir()
	cells, err := simulateShapes(3, shapes[:1], []int{5, 8}, 3)
	if err != nil {
		t.Fatal(err)
	}
	if err := report(out, 3, cells); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"one-group.md": "| 5 | – |", "one-group.csv": "MeanCentre,true mean,0.95,normal,5,3,", "one-group.svg": "<svg"} {
		text, err := os.ReadFile(filepath.Join(out, name))
		if err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s lacks %q: %v", name, want, err)
		}
	}
}

// Source: √π and √(4-π), the mean and standard deviation for two shots.
func TestLargestOfTwo(t *testing.T) {
	mean, sd := largestOf(2, 20_000, 9)
	if math.Abs(mean-math.Sqrt(math.Pi)) > 4*.9265/math.Sqrt(20_000) || math.Abs(sd-math.Sqrt(4-math.Pi)) > .03 {
		t.Errorf("mean %g, standard deviation %g", mean, sd)
	}
}

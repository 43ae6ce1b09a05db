package main

import (
	"context"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// A small part of the study with another seed agrees with the table in the docs,
// within four standard deviations of both.
func TestTwoGroupsCanBeRepeated(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "..", "..", "docs", "methods", "two-groups.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	quick := slices.DeleteFunc(slices.Clone(rivals), func(m rival) bool { return m.oneIn([2]int{10, 10}) > 1 })
	cells, err := simulatePairs(2, shapes[:2], [][2]int{{5, 5}, {10, 10}}, 400, quick)
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, c := range cells {
		for _, r := range rows {
			if r[0] != c.method || r[1] != c.shape || r[2] != strconv.Itoa(c.n[0]) || r[3] != strconv.Itoa(c.n[1]) {
				continue
			}
			compared++
			pairs, _ := strconv.ParseFloat(r[4], 64)
			for _, share := range []struct {
				what string
				got  float64
				text string
			}{{"coverage", c.coverage, r[5]}, {"p up to 0.05", c.size, r[7]}} {
				want, err := strconv.ParseFloat(share.text, 64)
				if err != nil {
					continue // there is no interval, or no p
				}
				pooled := (share.got*float64(c.pairs) + want*pairs) / (float64(c.pairs) + pairs)
				if band := 4 * math.Sqrt(pooled*(1-pooled)*(1/float64(c.pairs)+1/pairs)); math.Abs(share.got-want) > band+1e-9 {
					t.Errorf("%s, %s, %v: %s %.3f, the docs say %.3f ± %.3f", c.method, c.shape, c.n, share.what, share.got, want, band)
				}
			}
		}
	}
	if compared < 24 {
		t.Errorf("only %d cells compared", compared)
	}
}

// The interval that the page calls taken is the library's.
func TestSpreadTrialIsTheOneTaken(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, n := range trialCounts {
		p, err := drawPair(shapes[3], n, r)
		if err != nil {
			t.Fatal(err)
		}
		d, err := inCommonShape(p, false)
		if err != nil {
			t.Fatal(err)
		}
		want, err := compare.SpreadRatio(context.Background(), p.before, p.after, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		taken := spreadTrials(nil)[2]
		estimate, half := taken.of(d, r)
		if !strings.Contains(taken.name, "taken") || math.Abs(math.Exp(estimate)/want.Estimate-1) > 1e-9 || math.Abs(math.Exp(estimate+half)/want.Interval.High-1) > 1e-9 {
			t.Errorf("%v: %g ± %g, the library %+v", n, estimate, half, want)
		}
	}
}

// A mishit shortens the mean carry by what the shape says, and a narrow group has
// its true mean still.
func TestNarrowKeepsTheMean(t *testing.T) {
	s := shapes[3]
	p, err := drawPair(s, [2]int{5, 40_000}, rand.New(rand.NewPCG(5, 5)))
	if err != nil {
		t.Fatal(err)
	}
	c, err := p.narrow.Cov()
	if err != nil {
		t.Fatal(err)
	}
	whole, err := p.after.Cov()
	if err != nil {
		t.Fatal(err)
	}
	if off := p.narrow.Mean().Y - (middle.Y - s.short); math.Abs(off) > 4*math.Sqrt(c.YY/40_000) {
		t.Errorf("the mean is off by %g", off)
	}
	if math.Abs(c.YY/whole.YY-narrower*narrower) > 1e-9 {
		t.Errorf("variance %g of %g", c.YY, whole.YY)
	}
}

// By hand: 2 of 3 at a half is 3/8.
func TestBinomial(t *testing.T) {
	if got := binomial(2, 3, .5); math.Abs(got-.375) > 1e-12 {
		t.Errorf("got %g", got)
	}
}

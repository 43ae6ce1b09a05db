package practice

import (
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A built model has its columns centred and scaled, and its terms ordered by their
// number of levels, the most first.
type built struct {
	data         *remlData
	terms        []builtTerm
	columns      [][]float64 // fixed columns without the intercept, as used
	centre, unit []float64   // of the fixed columns
	y            []float64
	yCentre      float64
}

// rest returns how far a value lies from what is fitted, in units of the scaled
// values.
func (b *built) rest(i int, fitted float64) float64 {
	return b.y[i] - (fitted-b.yCentre)/b.data.yScale
}

type builtTerm struct {
	at     int // place in the model
	names  []string
	counts []int
	of     []int // level of each value
	times  []float64
	unit   float64 // that times was divided by
}

func build(m Model) (*built, error) {
	n := len(m.Values)
	if len(m.Random) == 0 {
		return nil, fmt.Errorf("practice: %s: %w", m.Name, ErrColumns)
	}
	if err := checkColumn(m.Name, m.Values, n); err != nil {
		return nil, err
	}
	p := 1 + len(m.Fixed)
	if need := p + len(m.Random) + 3; n < need {
		return nil, fmt.Errorf("practice: %s: %w", m.Name, &dispersion.TooFewError{Have: n, Need: need, For: "this model"})
	}
	b := &built{}
	y, yCentre, yUnit := unitScaled(m.Values)
	if yUnit == 0 {
		return nil, fmt.Errorf("practice: %s: all values are equal: %w", m.Name, dispersion.ErrDegenerate)
	}
	b.y, b.yCentre = y, yCentre
	for _, f := range m.Fixed {
		if err := checkColumn(f.Name, f.Values, n); err != nil {
			return nil, err
		}
		x, centre, unit := unitScaled(f.Values)
		if unit == 0 {
			return nil, fmt.Errorf("practice: %s: the same for every value: %w", m.Name, &AliasedError{f.Name})
		}
		b.columns, b.centre, b.unit = append(b.columns, x), append(b.centre, centre), append(b.unit, unit)
	}
	for i, t := range m.Random {
		built, err := buildTerm(t, i, n)
		if err != nil {
			return nil, fmt.Errorf("practice: %s: %w", m.Name, err)
		}
		b.terms = append(b.terms, built)
	}
	slices.SortStableFunc(b.terms, func(s, t builtTerm) int { return len(t.names) - len(s.names) })
	b.cross(y, yUnit)
	return b, b.independent(m)
}

func checkColumn(name string, values []float64, n int) error {
	if len(values) != n {
		return fmt.Errorf("practice: %s has %d entries, not %d: %w", name, len(values), n, ErrColumns)
	}
	for i, v := range values {
		if !(math.Abs(v) <= dispersion.MaxCoordinate) { // false for NaN
			return fmt.Errorf("practice: %w", &ColumnValueError{name, i, v})
		}
	}
	return nil
}

// unitScaled returns the values less their mean, over the largest distance from it.
func unitScaled(values []float64) (c []float64, centre, unit float64) {
	n := float64(len(values))
	for _, v := range values {
		centre += v / n
	}
	var left float64
	for _, v := range values {
		left += (v - centre) / n
	}
	centre += left
	c = make([]float64, len(values))
	for i, v := range values {
		c[i] = v - centre
		unit = max(unit, math.Abs(c[i]))
	}
	if unit <= 1e-14*math.Abs(centre) {
		return c, centre, 0
	}
	for i := range c {
		c[i] /= unit
	}
	return c, centre, unit
}

func buildTerm(t Term, at, n int) (builtTerm, error) {
	if len(t.Of) != n {
		return builtTerm{}, fmt.Errorf("%s has %d entries, not %d: %w", t.Name, len(t.Of), n, ErrColumns)
	}
	b := builtTerm{at: at, of: make([]int, n), times: make([]float64, n), unit: 1}
	for i := range b.times {
		b.times[i] = 1
	}
	if t.Times != nil {
		if err := checkColumn(t.Name, t.Times, n); err != nil {
			return builtTerm{}, err
		}
		b.unit = 0
		for _, v := range t.Times {
			b.unit = max(b.unit, math.Abs(v))
		}
		if b.unit == 0 {
			return builtTerm{}, &AliasedError{t.Name}
		}
		for i, v := range t.Times {
			b.times[i] = v / b.unit
		}
	}
	index := map[string]int{}
	for i, name := range t.Of {
		k, ok := index[name]
		if !ok {
			k = len(b.names)
			index[name] = k
			b.names, b.counts = append(b.names, name), append(b.counts, 0)
		}
		b.of[i] = k
		b.counts[k]++
	}
	if len(b.names) < 2 {
		return builtTerm{}, &LevelsError{Term: t.Name, Have: len(b.names), Need: 2}
	}
	return b, nil
}

// cross takes the cross products: within the levels of the first term about what
// the level explains of each column, and between them.
func (b *built) cross(y []float64, yUnit float64) {
	n := len(y)
	c := &remlData{shots: n, yScale: yUnit}
	d := 0
	for _, t := range b.terms[1:] {
		c.random = append(c.random, [2]int{d, d + len(t.names)})
		d += len(t.names)
	}
	c.fixed = [2]int{d, d + 1 + len(b.columns)}
	for _, u := range b.unit {
		c.logScale += math.Log(u)
	}
	c.d = c.fixed[1] + 1
	d = c.d
	c.within = make([]float64, d*d)
	first := b.terms[0]
	c.levels = make([]remlLevel, len(first.names))
	for i := range c.levels {
		c.levels[i].mean = make([]float64, d)
	}
	row := make([]float64, d)
	fill := func(i int) {
		clear(row[:c.fixed[0]])
		for k, t := range b.terms[1:] {
			row[c.random[k][0]+t.of[i]] = t.times[i]
		}
		row[c.fixed[0]] = 1
		for j, x := range b.columns {
			row[c.fixed[0]+1+j] = x[i]
		}
		row[d-1] = y[i]
	}
	for i := range n {
		fill(i)
		l := &c.levels[first.of[i]]
		w := first.times[i]
		l.size += w * w
		for j, v := range row {
			l.mean[j] += w * v
		}
	}
	for i := range n {
		fill(i)
		l := &c.levels[first.of[i]]
		if l.size > 0 {
			f := first.times[i] / l.size
			for j := range row {
				row[j] -= f * l.mean[j]
			}
		}
		addProducts(c.within, row)
	}
	class := map[float64]int{}
	for i := range c.levels {
		l := &c.levels[i]
		if l.size == 0 {
			continue
		}
		for j := range l.mean {
			l.mean[j] /= math.Sqrt(l.size)
		}
		k, ok := class[l.size]
		if !ok {
			k = len(c.classes)
			class[l.size] = k
			c.classes = append(c.classes, remlClass{size: l.size, between: make([]float64, d*d)})
		}
		c.classes[k].count++
		addProducts(c.classes[k].between, l.mean)
	}
	mirror(c.within, d)
	for _, k := range c.classes {
		mirror(k.between, d)
	}
	b.data = c
}

// addProducts adds rr' to the lower triangle.
func addProducts(a, r []float64) {
	d := len(r)
	for i, v := range r {
		if v == 0 {
			continue
		}
		line := a[i*d : i*d+i+1]
		for j := range line {
			line[j] += v * r[j]
		}
	}
}

// mirror copies the lower triangle to the upper one.
func mirror(a []float64, d int) {
	for i := range d {
		for j := range i {
			a[j*d+i] = a[i*d+j]
		}
	}
}

// independent names the first fixed column that those before it already tell.
func (b *built) independent(m Model) error {
	c := b.data
	p := c.fixed[1] - c.fixed[0]
	total := make([]float64, p*p)
	for i := range p {
		for j := range p {
			at := (c.fixed[0]+i)*c.d + c.fixed[0] + j
			total[i*p+j] = c.within[at]
			for _, k := range c.classes {
				total[i*p+j] += k.between[at]
			}
		}
	}
	for size := 2; size <= p; size++ {
		part := make([]float64, 0, size*size)
		for i := range size {
			part = append(part, total[i*p:i*p+size]...)
		}
		if !cholesky(part, size) {
			return fmt.Errorf("practice: %s: %w", m.Name, &AliasedError{m.Fixed[size-2].Name})
		}
	}
	return nil
}

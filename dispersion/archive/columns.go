package archive

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/encoding"
)

var errShape = errors.New("the columns are not those of this format")

// A table is an opened file of which columns are read one by one, page by page:
// what is not asked for costs nothing.
type table struct {
	file   *parquet.File
	chunks []parquet.ColumnChunk
	rows   int
}

func openTable(r io.ReaderAt, size int64) (*table, error) {
	f, err := parquet.OpenFile(r, size, parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
	if err != nil {
		return nil, err
	}
	groups := f.RowGroups()
	if len(groups) != 1 || len(groups[0].ColumnChunks()) != leaves {
		return nil, errShape
	}
	if n := groups[0].NumRows(); n < 1 || n > maxShots {
		return nil, fmt.Errorf("%d rows: %w", n, errShape)
	}
	return &table{file: f, chunks: groups[0].ColumnChunks(), rows: int(groups[0].NumRows())}, nil
}

// pages calls f with every page of a column.
func (t *table) pages(at int, f func(parquet.Page) error) (err error) {
	pages := t.chunks[at].Pages()
	defer func() { err = errors.Join(err, pages.Close()) }()
	for {
		page, err := pages.ReadPage()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		err = f(page)
		parquet.Release(page)
		if err != nil {
			return err
		}
	}
}

// guarded runs f, and makes an error of a panic: parquet-go has some for files
// that nobody wrote in good faith, and they must not take the program with them.
func guarded(f func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%w: %v", errShape, r)
		}
	}()
	return f()
}

// fill reads a column of one plain type into a slice of the file's length.
func fill[T any](t *table, at int, into []T, of func(*encoding.Values) []T) ([]T, error) {
	into = slices.Grow(into[:0], t.rows)
	err := t.pages(at, func(p parquet.Page) error {
		if p.Dictionary() != nil {
			return errShape
		}
		data := p.Data()
		into = append(into, of(&data)...)
		return nil
	})
	if err == nil && len(into) != t.rows {
		err = errShape
	}
	return into, err
}

func (t *table) int32s(at int, into []int32) ([]int32, error) {
	return fill(t, at, into, (*encoding.Values).Int32)
}

// floats reads a column of lengths, which Add has checked: others are of another
// hand.
func (t *table) floats(at int, into []float64) ([]float64, error) {
	into, err := fill(t, at, into, (*encoding.Values).Double)
	for _, v := range into {
		if !(math.Abs(v) <= maxLength) { // false for NaN
			return into, fmt.Errorf("a length of %g: %w", v, errShape)
		}
	}
	return into, err
}

// bools reads a column of bits.
func (t *table) bools(at int, into []bool) ([]bool, error) {
	into = slices.Grow(into[:0], t.rows)
	err := t.pages(at, func(p parquet.Page) error {
		data := p.Data()
		bits := data.Boolean()
		for i := range int(p.NumValues()) {
			into = append(into, bits[i/8]>>(i%8)&1 == 1)
		}
		return nil
	})
	if err == nil && len(into) != t.rows {
		err = errShape
	}
	return into, err
}

// words reads a column of texts as places in a list of the different ones.
func (t *table) words(at int, into []int32) (places []int32, list []string, err error) {
	into = slices.Grow(into[:0], t.rows)
	err = t.pages(at, func(p parquet.Page) error {
		d := p.Dictionary()
		if d == nil {
			return errShape
		}
		for i := len(list); i < d.Len(); i++ {
			list = append(list, d.Index(int32(i)).String())
		}
		data := p.Data()
		for _, place := range data.Int32() {
			if place < 0 || int(place) >= len(list) {
				return errShape
			}
			into = append(into, place)
		}
		return nil
	})
	if err == nil && len(into) != t.rows {
		err = errShape
	}
	return into, list, err
}

// entries reads the names or values of a map column: row tells of which row each
// is.
func (t *table) entries(at int, f func(row int, v parquet.Value)) error {
	row := -1
	var buffer [512]parquet.Value
	err := t.pages(at, func(p parquet.Page) error {
		values := p.Values()
		for {
			n, err := values.ReadValues(buffer[:])
			for _, v := range buffer[:n] {
				if v.RepetitionLevel() == 0 {
					row++
				}
				if !v.IsNull() {
					f(row, v)
				}
			}
			if errors.Is(err, io.EOF) {
				return nil
			}
			if err != nil {
				return err
			}
		}
	})
	if err == nil && row != t.rows-1 {
		err = errShape
	}
	return err
}

// meta returns the metadata that hold the rest of the lesson.
func (t *table) meta() (m meta, err error) {
	text, ok := t.file.Lookup(metaKey)
	if !ok {
		return m, fmt.Errorf("%w: no %s", errShape, metaKey)
	}
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		return m, err
	}
	if m.Format != format {
		return m, fmt.Errorf("format %d, not %d", m.Format, format)
	}
	return m, nil
}

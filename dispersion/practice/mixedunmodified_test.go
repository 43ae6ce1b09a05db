package practice

import (
	"io"
	"reflect"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Nothing here changes what it was given.
func TestMixedInputsUnmodified(t *testing.T) {
	p, trials, _ := demo(t, 1)
	model := referenceModels(readReference(t))["sleepstudy_both"]
	enrolled := []Enrolment{{"a", "A"}, {"b", "A"}}
	weights := []float64{1, 2}
	at, values := []float64{9, 8, 7, 6, 5, 4, 3, 2, 1, 0}, []float64{1, 3, 2, 4, 3, 5, 4, 6, 5, 9}
	measured := []Measured{{"a", "1", "old", 1}, {"b", "1", "new", 2}}
	table := [][]float64{{1, 2}, {3, 5}, {2, 9}}
	group, err := dispersion.NewGroup([]dispersion.Point{{X: 1, Y: 2}, {X: 3, Y: 9}, {X: 2, Y: 4}})
	if err != nil {
		t.Fatal(err)
	}
	inputs := []any{p, trials, model, enrolled, weights, at, values, measured, table, demoKey}
	copies := make([]any, len(inputs))
	for i, v := range inputs {
		copies[i] = deepCopy(reflect.ValueOf(v)).Interface()
	}
	calls := map[string]func() error{
		"FitMixed": func() error {
			f, err := FitMixed(model, FitOptions{})
			if err != nil {
				return err
			}
			if _, err := f.SpreadIntervals(); err != nil {
				return err
			}
			if _, err := f.Repeatability("Subject", 3); err != nil {
				return err
			}
			_, err = f.Contrast("", weights)
			return err
		},
		"SessionModel":  func() error { SessionModel("", "", measured); return nil },
		"LogRadius":     func() error { _, err := LogRadius(group); return err },
		"ShroutFleiss":  func() error { _, err := ShroutFleiss(table, 0); return err },
		"PracticeCurve": func() error { _, err := PracticeCurve("", "", at, values, 0); return err },
		"Crossover": func() error {
			r, err := Crossover(p, trials, FitOptions{})
			if err != nil {
				return err
			}
			_, err = r.Report()
			return err
		},
		"Assign":    func() error { _, err := p.Assign(enrolled); return err },
		"WritePool": func() error { return WritePool(io.Discard, p, demoKey, trials) },
	}
	for name, call := range calls {
		if err := call(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for i := range inputs {
			if !reflect.DeepEqual(inputs[i], copies[i]) {
				t.Fatalf("%s changed input %d", name, i)
			}
		}
	}
}

// deepCopy copies slices all the way down. A group is behind a pointer and not
// copied: package dispersion hands out copies of its points only.
func deepCopy(v reflect.Value) reflect.Value {
	switch v.Kind() {
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			c.Index(i).Set(deepCopy(v.Index(i)))
		}
		return c
	case reflect.Struct:
		c := reflect.New(v.Type()).Elem()
		c.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				c.Field(i).Set(deepCopy(v.Field(i)))
			}
		}
		return c
	}
	return v
}

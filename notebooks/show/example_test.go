package show_test

import "github.com/landfall-golf/landfall/notebooks/show"

func ExampleText() {
	show.Text("These balls fit anything from 4 yd shorter to 11 longer.")
	// Output: These balls fit anything from 4 yd shorter to 11 longer.
}

func ExampleSentences() {
	show.Sentences([]string{"Two of ten balls were mishits.", "The clean ones carried 151 yd."})
	// Output:
	// - Two of ten balls were mishits.
	// - The clean ones carried 151 yd.
}

func ExampleTable() {
	show.Table(show.TableData{
		Caption: "Carry in yards",
		Header:  []string{"stage", "balls", "mean"},
		Rows:    [][]string{{"old swing", "10", "146.2"}, {"new swing", "9", "151.0"}},
	})
	// Output:
	// Carry in yards
	//
	// stage      balls   mean
	// ---------  -----  -----
	// old swing     10  146.2
	// new swing      9  151.0
}

// dots is a figure as a chart returns it, reduced to what is needed to show it.
type dots struct{}

func (dots) SVG() ([]byte, error) { return []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), nil }
func (dots) PNG() ([]byte, error) { return nil, nil }
func (dots) Alt() string          { return "Ten landing points, all but one within ten yards of the target." }

func ExampleFigure() {
	show.Figure(show.Must(dots{}, nil))
	// Output: Ten landing points, all but one within ten yards of the target.
}

package figures

import (
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// ShowOnCourse shows in a notebook what the changes are worth on a course: what
// is to be said, the picture by distance, and the numbers.
func ShowOnCourse(c review.Course, all []review.CourseWorth) {
	for _, w := range all {
		show.Sentences(w.Says)
		if w.Worth == nil {
			continue
		}
		show.Figure(show.Must(chart.Worth(chart.WorthInput{Unit: lesson.Yards, Worth: w.Worth})))
		show.Table(w.WorthTable(c))
	}
}

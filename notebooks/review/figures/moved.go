package figures

import (
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// MeanFlights draws the mean flights of a headline.
func MeanFlights(r *review.Review, m review.MovedAlong) (chart.Figure, error) {
	in := chart.MeanFlightsInput{Unit: r.Lesson.Unit}
	for _, side := range []struct {
		group lesson.Group
		shots []flight.Shot
	}{{m.Pair.Before, m.Before}, {m.Pair.After, m.After}} {
		f, err := flight.MeanFlightOf(side.shots, m.Fit.Model(), m.Fit.Conditions)
		if err != nil {
			return chart.Figure{}, err
		}
		in.Flights = append(in.Flights, chart.NamedFlight{Name: review.Label(side.group.Stage.Name), Flight: f})
	}
	return chart.MeanFlights(in)
}

// ShowMovedAlong shows in a notebook what moved along with the headlines' changes:
// what is to be said, the mean flights, and the parts. It shows nothing of a
// lesson without the columns for that.
func ShowMovedAlong(r *review.Review, all []review.MovedAlong) {
	for _, m := range all {
		show.Sentences(m.Says)
		if m.Splits == nil {
			continue
		}
		show.Figure(show.Must(MeanFlights(r, m)))
		show.Table(r.MovedTable(m))
	}
}

package review

import "github.com/landfall-golf/landfall/dispersion/flight"

type (
	jsonMoved struct {
		Club      string     `json:"club"`
		Before    string     `json:"before"`
		After     string     `json:"after"`
		Of        string     `json:"of"` // carry, height, curve
		Unit      string     `json:"unit"`
		Gain      float64    `json:"gain"`
		NBefore   int        `json:"n_before"`
		NAfter    int        `json:"n_after"`
		Level     float64    `json:"level"`
		Parts     []jsonPart `json:"parts"`
		Agreement string     `json:"agreement"`
	}
	jsonPart struct {
		Name       string     `json:"name"`
		Flight     jsonShare  `json:"flight"`
		Regression *jsonShare `json:"regression"`
		Agreement  string     `json:"agreement"`
	}
	jsonShare struct {
		Estimate float64 `json:"estimate"`
		Low      float64 `json:"low"`
		High     float64 `json:"high"`
	}
)

// movedJSON returns what moved along with one headline, in the unit of the
// lesson; nothing where it can't be told.
func (r *Review) movedJSON(m MovedAlong) []jsonMoved {
	var out []jsonMoved
	size := r.Lesson.Unit.Metres()
	share := func(s flight.Share) jsonShare {
		return jsonShare{s.Estimate / size, s.Interval.Low / size, s.Interval.High / size}
	}
	for _, s := range m.splits() {
		j := jsonMoved{
			Club: m.Pair.Before.Club, Before: m.Pair.Before.Stage.Name, After: m.Pair.After.Stage.Name,
			Of: s.Of, Unit: string(r.Lesson.Unit), Gain: s.Gain / size, NBefore: s.N1, NAfter: s.N2, Level: s.Level, Agreement: string(s.Agreement),
		}
		for _, p := range s.Parts {
			part := jsonPart{Name: p.Name, Flight: share(p.Flight), Agreement: string(p.Agreement)}
			if p.Regression != nil {
				second := share(*p.Regression)
				part.Regression = &second
			}
			j.Parts = append(j.Parts, part)
		}
		out = append(out, j)
	}
	return out
}

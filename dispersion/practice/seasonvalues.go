package practice

// Measured returns the clean balls of the season with one club and a value in the
// column, each with its session and, as its stage, its phase: what [SessionModel]
// takes. A season has one pupil.
//
// The spread between sessions that a model of them finds is the DaySD of a
// [Question]. Give it the phases in which nothing was changed on purpose, such as
// [Retention] alone: where the pupil gets better from session to session, that is
// in the spread too, which makes [Kept] the more careful. No phases means all.
func (s *Season) Measured(club, column string, phases ...Phase) []Measured {
	if s == nil {
		return nil
	}
	var all []Measured
	for _, session := range s.Sessions {
		for _, stage := range session.Stages {
			if stage.Club != club || !among(stage.Phase, phases) {
				continue
			}
			for _, v := range stage.Values(column) {
				all = append(all, Measured{Pupil: s.Pupil, Session: session.Name, Stage: string(stage.Phase), Value: v})
			}
		}
	}
	return all
}

func among(p Phase, phases []Phase) bool {
	for _, q := range phases {
		if p == q {
			return true
		}
	}
	return len(phases) == 0
}

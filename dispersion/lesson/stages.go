package lesson

import "strings"

// sortIntoStages gives every shot its stage and returns the stages in the order
// first hit. labels are those of the shots, in their order.
//
// A name that comes back is the same stage. Two things are kept apart: a
// bookend, and shots of one name with another intent.
func sortIntoStages(shots []Shot, labels []label) (stages []Stage, warnings []error) {
	settleIntents(labels)
	bookend := findBookend(shots, labels)

	type key struct {
		name    string
		intent  Intent
		bookend bool
	}
	place := map[key]int{}
	taken := map[string]bool{}
	split := map[string]bool{}
	for _, l := range labels {
		taken[strings.ToLower(l.stage)] = true
	}
	first := map[string]bool{} // names of which a stage is there
	for i := range shots {
		l := labels[i]
		if l.stage == "" {
			continue // void, and outside all stages
		}
		k := key{l.stage, l.intent, bookend[i]}
		at, ok := place[k]
		if !ok {
			name := l.stage
			switch {
			case !first[name]:
			case k.bookend:
				name = free(name, " again", taken)
			default:
				name = free(name, " ("+string(l.intent)+")", taken)
				if !split[l.stage] {
					split[l.stage] = true
					warnings = append(warnings, warning(ErrStage, "%q has two intents from line %d on: the second is its own stage, %q", clip(l.stage), shots[i].Line, clip(name)))
				}
			}
			first[l.stage], taken[strings.ToLower(name)] = true, true
			at = len(stages)
			place[k] = at
			stages = append(stages, Stage{Name: name, Intent: l.intent, Bookend: k.bookend})
		}
		s := &stages[at]
		if s.Cue == "" {
			s.Cue = l.cue
		}
		if s.Expect == "" {
			s.Expect = l.expect
		}
		shots[i].Stage, shots[i].Intent = s.Name, s.Intent
	}
	return stages, warnings
}

// settleIntents fills in intents that were left open: that of the shot of this
// stage before it, else the first one said of this stage, else full.
func settleIntents(labels []label) {
	said := map[string]Intent{}
	for _, l := range labels {
		if said[l.stage] == "" {
			said[l.stage] = l.intent
		}
	}
	for i := range labels {
		l := &labels[i]
		switch {
		case l.intent != "":
			said[l.stage] = l.intent
		case said[l.stage] != "":
			l.intent = said[l.stage]
		default:
			l.intent = Full
		}
	}
}

// findBookend returns which shots belong to a bookend: the last run of shots of
// one stage, when its intent is check or baseline and, with a club of that run,
// at least two other stages that are no drills came before. The first of them
// is the old swing, the others came in between. Void shots and those of no stage decide nothing.
func findBookend(shots []Shot, labels []label) []bool {
	in := make([]bool, len(shots))
	last := len(shots) - 1
	for last >= 0 && (shots[last].Void != "" || labels[last].stage == unnamed) {
		last--
	}
	if last < 0 || labels[last].intent != Check && labels[last].intent != Baseline {
		return in
	}
	same := func(i int) bool {
		return labels[i].stage == labels[last].stage && labels[i].intent == labels[last].intent
	}
	start := last
	for start > 0 && (same(start-1) || shots[start-1].Void != "") {
		start--
	}
	clubs := map[string]bool{} // of the last run
	for i := start; i <= last; i++ {
		if shots[i].Void == "" {
			clubs[shots[i].Club] = true
		}
	}
	old := map[string]label{} // by club, the first stage that is no drill
	between := false
	for i, s := range shots[:start] {
		l := labels[i]
		if s.Void != "" || l.intent == Drill || l.stage == unnamed || !clubs[s.Club] {
			continue
		}
		was, ok := old[s.Club]
		if !ok {
			old[s.Club] = l
		} else if was.stage != l.stage || was.intent != l.intent {
			between = true
		}
	}
	if !between {
		return in
	}
	for i := start; i < len(shots); i++ {
		in[i] = same(i)
	}
	return in
}

// doubtStages warns of stages none of whose rows could be read. It takes the
// labels of all rows and those of the shots.
func doubtStages(all, read []label) (warnings []error) {
	known := map[string]bool{"": true} // rows that belong nowhere
	for _, l := range read {
		known[l.stage] = true
	}
	for _, l := range all {
		if !known[l.stage] {
			known[l.stage] = true
			warnings = append(warnings, warning(ErrStage, "no row of %q could be read", clip(l.stage)))
		}
	}
	return warnings
}

// free returns the name with an ending that makes it one that nobody has, in any
// case: names that differ in case alone are one when they are read.
func free(name, ending string, taken map[string]bool) string {
	for name += ending; taken[strings.ToLower(name)]; {
		name += ending
	}
	return name
}

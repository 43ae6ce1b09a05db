package review

import (
	"context"
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// What the review says in its own words is worded in this file; what an effect
// allows to be said is worded in package compare.

// Opening says whose lesson it is and what was read.
func (r *Review) Opening() []string {
	l := r.Lesson
	who := "A lesson"
	if l.Pupil != "" {
		who = Label(l.Pupil)
	}
	if l.Session != "" {
		who += ", " + Label(l.Session)
	}
	s := fmt.Sprintf("%s: %s, %s read", who, count(l.Rows, "row"), count(len(l.Shots), "shot"))
	if n := len(l.Rejected); n > 0 {
		s += fmt.Sprintf(", %s that could not be read and %s left out", count(n, "row"), wasWere(n))
	}
	s += "."
	if void := r.void(); void > 0 {
		s += fmt.Sprintf(" %s declared void and %s not counted in any stage.", count(void, "shot"), isAre(void))
	}
	out := []string{s}
	for _, x := range l.Rejected {
		out = append(out, fmt.Sprintf("Line %d left out: %s (column %s).", x.Line, x.Reason, quoted(x.Column)))
	}
	for _, w := range l.Warnings {
		out = append(out, "Note: "+plain(w)+".")
	}
	return out
}

func (r *Review) void() int {
	n := 0
	for _, s := range r.Lesson.Shots {
		if s.Void != "" {
			n++
		}
	}
	return n
}

// Headline says, for each club, what the lesson's first question came to: is
// the ball going further?
func (r *Review) Headline(ctx context.Context) ([]string, error) {
	var out []string
	for _, p := range r.Headlines() {
		f, mixture, err := r.headline(ctx, p)
		if err != nil {
			return nil, err
		}
		out = append(out, f.headlineSentence(mixture))
	}
	return append(out, r.Uncompared()...), nil
}

// Uncompared says of each club without two like stages that there is nothing to
// compare.
func (r *Review) Uncompared() []string {
	var out []string
	for _, club := range r.Clubs() {
		if !r.compared(club) {
			out = append(out, fmt.Sprintf("%s: nothing to compare. It takes two stages that are no drills, such as the old swing and the new.", clubName(club)))
		}
	}
	return out
}

// headlineSentence says what a headline allows, and why all balls count where
// they do.
func (f Finding) headlineSentence(mixture bool) string {
	if !mixture {
		return f.Sentence()
	}
	return f.Sentence() + " The stages differ in how often the ball was mishit, so all balls count here, the mishits too."
}

func (r *Review) compared(club string) bool {
	for _, p := range r.Pairs {
		if p.Before.Club == club {
			return true
		}
	}
	return false
}

// Sentence says what a finding allows to be said, or why it allows nothing.
func (f Finding) Sentence() string {
	pair := pairName(f.Pair)
	if f.Name == NameCarryGainAll {
		pair += ", mishits included"
	}
	switch {
	case f.Verdict != nil && f.Ends != nil:
		return fmt.Sprintf("%s: %s That is against the old swing at both ends of the lesson.", pair, f.Verdict.Sentence())
	case f.Verdict != nil && f.Pair.Headline && f.Pair.Bookend != nil:
		return fmt.Sprintf("%s: %s That is the more careful of the answers against the old swing at either end of the lesson.", pair, f.Verdict.Sentence())
	case f.Verdict != nil:
		return fmt.Sprintf("%s: %s", pair, f.Verdict.Sentence())
	case f.Effect != nil && f.Name == compare.NameSideShift:
		return fmt.Sprintf("%s: %s", pair, shiftSentence(*f.Effect))
	}
	why := "" // the first reason; the numbers for programs keep them all
	if len(f.Warnings) > 0 {
		why = " " + upperFirst(plain(f.Warnings[0])) + "."
	}
	return fmt.Sprintf("%s: no verdict.%s", pair, why)
}

// shiftSentence words a shift to one side, which is neither good nor bad.
func shiftSentence(e compare.Effect) string {
	way := func(v float64) string {
		side := "right"
		if v < 0 {
			side, v = "left", -v
		}
		return fmt.Sprintf("%.0f %s further %s", v, e.Unit, side)
	}
	return fmt.Sprintf("these balls fit anything from %s to %s.", way(e.Interval.Low), way(e.Interval.High))
}

// Sentences says what one effect allows, for each of the pairs, or that there
// are none.
func (r *Review) Sentences(ctx context.Context, pairs []lesson.Pair, name string) ([]string, error) {
	if len(pairs) == 0 {
		return []string{"There are no two like stages to compare here."}, nil
	}
	var out []string
	for _, p := range pairs {
		f, err := r.Find(ctx, p, name)
		if err != nil {
			return nil, err
		}
		out = append(out, f.Sentence())
	}
	if name == compare.NameSideShift && r.Lesson.Mirrored {
		out = append(out, upperFirst(mirrored)+".")
	}
	return out, nil
}

// mirrored is said wherever a right or left of a mirrored lesson stands.
const mirrored = "right and left are exchanged"

// caption adds to what stands beside a table or a picture what a reader of a
// mirrored lesson has to know.
func (r *Review) caption(text string) string {
	if r.Lesson.Mirrored {
		text += " " + upperFirst(mirrored) + "."
	}
	return text
}

// Title adds the same to the title of a picture.
func (r *Review) Title(text string) string {
	if r.Lesson.Mirrored {
		text += " (" + mirrored + ")"
	}
	return text
}

// MishitSentence says how often the ball was mishit, stage by stage.
func (r *Review) MishitSentence() string {
	var parts []string
	for _, s := range r.Stages {
		where := quoted(s.Stage.Name)
		if len(r.Clubs()) > 1 {
			where += ", " + Label(s.Club)
		}
		parts = append(parts, fmt.Sprintf("%d of %d in %s", s.Mishits(), len(s.Shots), where))
	}
	return "Mishit, that is far shorter than the others of their stage: " + strings.Join(parts, "; ") +
		". They stay in the pictures, crossed; how good the shots are when struck is asked of the others."
}

// SpreadSentences says whether the patterns of the headlines are tighter; as
// angles too where the carry moved so much that distances mislead; what is left of
// it behind the error of the device; and whether the longer shots are wilder.
func (r *Review) SpreadSentences(ctx context.Context) ([]string, error) {
	out, err := r.Sentences(ctx, r.Headlines(), compare.NameSpreadRatio)
	if err != nil {
		return nil, err
	}
	for _, p := range r.Headlines() {
		if angleMatters(p) {
			f, err := r.Find(ctx, p, compare.NameAngleSpreadRatio)
			if err != nil {
				return nil, err
			}
			out = append(out, "The carry moved by more than 5 %, so the angles count too. "+f.Sentence())
		}
		for _, part := range []func(context.Context, lesson.Pair) ([]string, error){r.behindSentence, r.speedSentence} {
			more, err := part(ctx, p)
			if err != nil {
				return nil, err
			}
			out = append(out, more...)
		}
	}
	return out, nil
}

// angleMatters tells whether the carry of a pair moved by more than 5 %, so
// that the side must be read as an angle too.
func angleMatters(p lesson.Pair) bool {
	before, after := summary(p.Before.Values("carry")).Mean, summary(p.After.Values("carry")).Mean
	return before > 0 && (after > 1.05*before || after < .95*before)
}

// Sentence is what stands above the plan of a stage.
func (s Stage) Sentence(unit lesson.Unit) string {
	var b strings.Builder
	if s.Club != "" {
		fmt.Fprintf(&b, "%s, ", Label(s.Club))
	}
	switch {
	case s.Stage.Bookend:
		b.WriteString("the old swing hit again")
	case s.Stage.Intent == lesson.Drill:
		b.WriteString("a drill, pictured and not judged")
	case s.Stage.Intent == lesson.Baseline:
		b.WriteString("the swing as it came")
	default:
		b.WriteString("full swings")
	}
	if s.Carry.N > 0 {
		fmt.Fprintf(&b, ": %.0f %s on average", s.Carry.Mean, unit)
	}
	return upperFirst(b.String()) + "."
}

func pairName(p lesson.Pair) string {
	s := fmt.Sprintf("%s after %s", quoted(p.After.Stage.Name), quoted(p.Before.Stage.Name))
	if p.Before.Club != "" {
		s += ", " + Label(p.Before.Club)
	}
	return s
}

func clubName(club string) string {
	if club == "" {
		return "All shots"
	}
	return upperFirst(Label(club))
}

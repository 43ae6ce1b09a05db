// Package review puts one lesson before its coach: what was hit, stage by
// stage, what changed between like stages, and how sure that is. The review
// notebook and the command that runs it say the same because both ask here.
//
// A stage is described by its clean shots, with its mishits counted beside
// them. Comparisons are the lesson's pairs: the last like stage against the
// first is the headline, chosen before anything was hit; stage to stage is
// second.
package review

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Review is one lesson with what is needed to compare its stages.
type Review struct {
	Lesson *lesson.Lesson
	Stages []Stage       // in the order hit
	Pairs  []lesson.Pair // headlines first

	options    compare.Options
	device     device
	judgements sync.Map // what alone has worked out
}

// A Stage is the shots of one stage with one club, described.
type Stage struct {
	lesson.Group
	CleanShots  *dispersion.Group // nil if every ball was mishit
	Carry, Side Summary           // of the clean shots
	Radius      *dispersion.Size  // of the clean shots; nil where there is none, Notes say why
	Notes       []string
}

// A Summary is the mean of some values and their standard deviation.
type Summary struct {
	N        int
	Mean, SD float64 // SD is 0 below two values, where there is none
}

// New describes the stages of a lesson and finds the pairs to compare. The zero
// value of o stands for the defaults of package compare.
func New(l *lesson.Lesson, o compare.Options) (*Review, error) {
	if len(l.Shots) == 0 {
		return nil, noneRead(l)
	}
	if o.Level == 0 {
		o.Level = 0.95
	}
	if !(o.Level > 0 && o.Level < 1) {
		return nil, fmt.Errorf("review: level %g: %w", o.Level, dispersion.ErrLevel)
	}
	r := &Review{Lesson: l, Pairs: l.Pairs(), options: o, device: exampleDevice(l.Unit)}
	for _, g := range l.Groups() {
		s, err := r.describe(g)
		if err != nil {
			return nil, err
		}
		r.Stages = append(r.Stages, s)
	}
	return r, nil
}

// noneRead says why the first rows could not be read, and what may help.
func noneRead(l *lesson.Lesson) error {
	const most = 3
	var why strings.Builder
	for i, x := range l.Rejected {
		if i == most {
			fmt.Fprintf(&why, "; and %s more", count(len(l.Rejected)-most, "row"))
			break
		}
		fmt.Fprintf(&why, "; line %d", x.Line)
		if x.Column != "" {
			fmt.Fprintf(&why, ", column %s", quoted(x.Column))
		}
		fmt.Fprintf(&why, ": %s", x.Reason)
	}
	return fmt.Errorf("review: none of the %s can be read, so there is nothing to review%s. Where numbers are written in another way, such as with a decimal comma, \"go run ./notebooks columns FILE\" proposes how to read them", count(l.Rows, "row"), &why)
}

func (r *Review) describe(g lesson.Group) (Stage, error) {
	s := Stage{Group: g, Carry: summary(g.Values("carry")), Side: summary(g.Values("side"))}
	if g.Mishits() == len(g.Shots) {
		s.Notes = append(s.Notes, "no clean shot to describe")
		return s, nil
	}
	clean, err := g.Clean()
	if err != nil {
		return Stage{}, err
	}
	s.CleanShots = clean
	radius, err := clean.Radius(r.options.Level)
	if err != nil {
		s.Notes = append(s.Notes, "no radius: "+plain(err))
	} else {
		s.Radius = &radius
	}
	return s, nil
}

func summary(values []float64) Summary {
	var m dispersion.Moments
	for _, v := range values {
		m.Add(dispersion.Point{X: v})
	}
	s := Summary{N: len(values), Mean: m.Mean.X}
	if c, err := m.Cov(); err == nil {
		s.SD = math.Sqrt(c.XX)
	}
	return s
}

// Clubs returns the clubs of the lesson in the order first hit.
func (r *Review) Clubs() []string {
	var clubs []string
	seen := map[string]bool{}
	for _, s := range r.Stages {
		if !seen[s.Club] {
			seen[s.Club] = true
			clubs = append(clubs, s.Club)
		}
	}
	return clubs
}

// Headlines returns the pairs that were chosen beforehand, one a club.
func (r *Review) Headlines() []lesson.Pair { return r.pairs(true) }

// StageToStage returns the other pairs, each like stage against the one before
// it.
func (r *Review) StageToStage() []lesson.Pair { return r.pairs(false) }

func (r *Review) pairs(headline bool) []lesson.Pair {
	var pairs []lesson.Pair
	for _, p := range r.Pairs {
		if p.Headline == headline {
			pairs = append(pairs, p)
		}
	}
	return pairs
}

package archive

import (
	"context"
	"errors"
	"iter"

	"github.com/parquet-go/parquet-go"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// An AddedUp has the moments of what was recorded and the sums of the same shots
// in whole tenths. The two differ by what tenths cut off.
type AddedUp struct {
	Moments dispersion.Moments
	Sums    Sums
}

// merge leaves a as it was where the sums overflow.
func (a *AddedUp) merge(o AddedUp) error {
	if err := a.Sums.Merge(o.Sums); err != nil {
		return err
	}
	a.Moments.Merge(o.Moments)
	return nil
}

// A Summary is what is known of a group without its shots.
type Summary struct {
	File           string // in the archive, that holds the shots
	Pupil, Session string
	Day            string // as 2006-01-02; "" where it is not known
	Unit           lesson.Unit
	Mirrored       bool // right and left are exchanged, as the lesson was read
	Stage          string
	Intent         lesson.Intent
	Club           string

	All, Clean AddedUp // all shots that count, and those of them that are no mishits
}

// Mishits returns how many of the shots are mishits.
func (s Summary) Mishits() int64 { return s.All.Moments.N - s.Clean.Moments.N }

// Summaries streams the summaries of the groups that a query selects, in the
// order of [Archive.Groups] and with its errors, several times as fast: it reads
// nothing but the columns it needs. The moments are, bit for bit, those of the
// group's All and Clean; the mishits are those marked when the session was
// added.
func (a *Archive) Summaries(ctx context.Context, q Query) iter.Seq2[Summary, error] {
	if err := begin(ctx, q); err != nil {
		return failed[Summary](err)
	}
	return flatten(each(ctx, a.sessions(q), func(s session) ([]Summary, error) {
		t, err := a.open(s.file, s.name)
		if err != nil {
			return nil, err
		}
		var summaries []Summary
		if err := guarded(func() (err error) {
			summaries, err = t.summaries(s, q)
			return err
		}); err != nil {
			if errors.As(err, new(*FileError)) { // says which file already
				return nil, err
			}
			return nil, unreadable(s.file, err)
		}
		return summaries, nil
	}))
}

// A columnSet is what a summary reads of a file.
type columnSet struct {
	stage, intent, club, void   []int32
	stages, intents, clubs, why []string
	mishit                      []bool
	carryTenths, sideTenths     []int32
	carry, side                 []float64
}

func (t *table) columnSet() (c columnSet, err error) {
	for _, w := range []struct {
		at     int
		places *[]int32
		list   *[]string
	}{{atStage, &c.stage, &c.stages}, {atIntent, &c.intent, &c.intents}, {atClub, &c.club, &c.clubs}, {atVoid, &c.void, &c.why}} {
		if *w.places, *w.list, err = t.words(w.at, nil); err != nil {
			return c, err
		}
	}
	if c.mishit, err = t.bools(atMishit, nil); err != nil {
		return c, err
	}
	if c.carryTenths, err = t.int32s(atCarryTenths, nil); err != nil {
		return c, err
	}
	if c.sideTenths, err = t.int32s(atSideTenths, nil); err != nil {
		return c, err
	}
	if c.carry, err = t.floats(atCarry, nil); err != nil {
		return c, err
	}
	c.side, err = t.floats(atSide, nil)
	return c, err
}

// one returns the text of a column that has one. All places lead to it, so they
// need not be looked at.
func (t *table) one(at int) (text string, err error) {
	err = t.pages(at, func(p parquet.Page) error {
		d := p.Dictionary()
		if d == nil || d.Len() != 1 {
			return errShape
		}
		text = d.Index(0).String()
		return nil
	})
	return text, err
}

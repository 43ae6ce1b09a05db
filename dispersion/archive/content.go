package archive

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"math"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// contentOf returns what a session is known by: 128 bits of the SHA-256 of what
// was hit and what was said of it. The wording of warnings and of reasons to
// reject a row is left out, since it may be bettered, and so is how the file is
// written.
func contentOf(l *lesson.Lesson) string {
	h := digest{sha256.New()}
	h.text(l.Pupil, l.Session, string(l.Unit))
	if l.Mirrored { // written only where it is so, as before there was a word for it
		h.text("mirrored")
	}
	h.number(uint64(l.Rows), uint64(len(l.Stages)), uint64(len(l.Columns)), uint64(len(l.Rejected)), uint64(len(l.Shots)))
	for _, s := range l.Stages {
		h.text(s.Name, string(s.Intent), s.Cue, s.Expect)
		h.flag(s.Bookend)
	}
	for _, c := range l.Columns {
		h.text(c.Name, c.Unit)
		h.flag(c.Numeric)
	}
	for _, r := range l.Rejected {
		h.number(uint64(r.Line))
		h.text(r.Column)
	}
	for _, s := range l.Shots {
		h.number(uint64(s.Line), uint64(s.Ball), math.Float64bits(s.Carry), math.Float64bits(s.Side))
		h.text(s.Stage, string(s.Intent), s.Club, s.Void)
		for _, c := range l.Columns {
			h.cell(s, c)
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// A digest hashes values so that no two lists of them read alike.
type digest struct{ hash.Hash }

func (h digest) number(values ...uint64) {
	for _, v := range values {
		var b [8]byte
		binary.LittleEndian.PutUint64(b[:], v)
		h.Write(b[:]) // a hash never fails
	}
}

func (h digest) text(values ...string) {
	for _, v := range values {
		h.number(uint64(len(v)))
		h.Write([]byte(v))
	}
}

func (h digest) flag(v bool) {
	if v {
		h.number(1)
	} else {
		h.number(0)
	}
}

func (h digest) cell(s lesson.Shot, c lesson.Column) {
	if c.Numeric {
		v, ok := s.Value(c.Name)
		h.flag(ok)
		h.number(math.Float64bits(v))
		return
	}
	v, ok := s.Text(c.Name)
	h.flag(ok)
	h.text(v)
}

package archive

import (
	"context"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
)

var folderPattern = regexp.MustCompile(`^p-[0-9a-f]{16}$`)

// sessions returns the files that a query has to look at, pupil by pupil in the
// order of their folders and for each by day.
func (a *Archive) sessions(q Query) iter.Seq2[session, error] {
	return func(yield func(session, error) bool) {
		folders, err := os.ReadDir(a.dir)
		if err != nil {
			yield(session{}, fmt.Errorf("archive: %w", err))
			return
		}
		for _, f := range folders {
			switch {
			case f.Name() == markerName || strings.HasPrefix(f.Name(), asidePrefix):
			case !f.IsDir() || !folderPattern.MatchString(f.Name()):
				if !yield(session{}, fileError(f.Name(), ErrForeign, "take it out of the archive's folder")) {
					return
				}
			case q.Pupil != "" && f.Name() != pupilFolder(q.Pupil):
			case !q.Part.has(f.Name()):
			case !a.folder(f.Name(), q, yield):
				return
			}
		}
	}
}

// has tells whether a pupil's folder belongs to a part.
func (p Part) has(folder string) bool {
	if p == (Part{}) {
		return true
	}
	hash, err := hex.DecodeString(strings.TrimPrefix(folder, "p-"))
	return err == nil && int(binary.BigEndian.Uint64(hash)%uint64(p.Of)) == p.Index
}

// folder yields the sessions of one folder, and false when it is to stop.
func (a *Archive) folder(folder string, q Query, yield func(session, error) bool) bool {
	entries, err := os.ReadDir(filepath.Join(a.dir, folder))
	if err != nil {
		return yield(session{}, fmt.Errorf("archive: %w", err))
	}
	seen := map[string]bool{}
	for _, e := range entries {
		file := filepath.Join(folder, e.Name())
		n, ok := parseName(e.Name())
		more := true
		switch {
		case strings.HasPrefix(e.Name(), asidePrefix):
		case !ok:
			more = yield(session{}, fileError(file, ErrForeign, "take it out of the archive's folder"))
		case seen[n.content]: // two processes added it at once, with different versions of the code
		case q.hasDays() && n.day == "":
			more = yield(session{}, fileError(file, ErrUndated, "its day is not known, so it is not among those from %q to %q", q.From, q.To))
		case q.day(n.day):
			more = yield(session{file, n}, nil)
		}
		seen[n.content] = true
		if !more {
			return false
		}
	}
	return true
}

// A session is one file to be read.
type session struct {
	file string
	name name
}

// inFlight is how many sessions for each worker are being read or wait for their
// turn: what bounds the memory.
const inFlight = 4

// each runs work on every session, on as many cores as the runtime may use, and
// yields the results in the order of the sessions. An error is yielded in its
// place and ends nothing but that session, except the context's, which ends all.
func each[T any](ctx context.Context, sessions iter.Seq2[session, error], work func(session) (T, error)) iter.Seq2[T, error] {
	type result struct {
		value T
		err   error
	}
	type job struct {
		session session
		done    chan result
	}
	return func(yield func(T, error) bool) {
		inner, cancel := context.WithCancel(ctx)
		workers := runtime.GOMAXPROCS(0)
		jobs := make(chan job)
		queue := make(chan chan result, inFlight*workers)
		var wg sync.WaitGroup
		defer wg.Wait()
		defer cancel()
		wg.Go(func() {
			defer close(queue)
			defer close(jobs)
			for s, err := range sessions {
				done := make(chan result, 1)
				select {
				case queue <- done:
				case <-inner.Done():
					return
				}
				if err != nil {
					done <- result{err: err}
					continue
				}
				select {
				case jobs <- job{s, done}:
				case <-inner.Done():
					return
				}
			}
		})
		for range workers {
			wg.Go(func() {
				for j := range jobs {
					v, err := work(j.session)
					j.done <- result{v, err}
				}
			})
		}
		var none T
		for done := range queue {
			select {
			case r := <-done:
				if ctx.Err() != nil {
					yield(none, ctx.Err())
					return
				}
				if !yield(r.value, r.err) {
					return
				}
			case <-ctx.Done():
				yield(none, ctx.Err())
				return
			}
		}
		if ctx.Err() != nil { // the queue ended early
			yield(none, ctx.Err())
		}
	}
}

// begin checks what every stream needs, and yields what is wrong.
func begin(ctx context.Context, q Query) error {
	if ctx == nil {
		return fmt.Errorf("archive: %w", ErrMissing)
	}
	return q.check()
}

// failed is a stream of one error.
func failed[T any](err error) iter.Seq2[T, error] {
	return func(yield func(T, error) bool) {
		var none T
		yield(none, err)
	}
}

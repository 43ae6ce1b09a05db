package resample

import (
	"context"
	"runtime"
	"sync"
)

// ChunkSize is how many resamples share one stream of random numbers. It is
// part of what a seed means: another size gives other draws.
const ChunkSize = 1000

// Most is how many resamples may be asked for: each keeps a value or more, and a
// number mistyped by some digits must not take all memory.
const Most = 1_000_000

// Chunks calls work for every chunk of [0, total), on as many cores as the
// runtime may use, and returns when all calls have returned. Chunk c is
// [lo, hi) = [c·size, min((c+1)·size, total)).
//
// Chunks run in any order and at the same time. An answer that doesn't depend
// on the number of cores follows when work writes to slots that belong to its
// chunk or its indices alone and the caller then reads them in order.
//
// Progress, if not nil, is told the number of finished indices, from one
// goroutine at a time, always growing, the last call being (total, total).
//
// The first error to be found stops the hand-out of further chunks; of the
// errors returned by chunks that ran, the one of the lowest chunk is returned.
// A done context stops the work likewise, and its error is returned.
func Chunks(ctx context.Context, total, size int, progress func(done, total int), work func(chunk, lo, hi int) error) error {
	if total <= 0 {
		return ctx.Err()
	}
	size = max(size, 1)
	count := (total-1)/size + 1
	var (
		mu       sync.Mutex
		next     int
		done     int
		failed   = count // the lowest chunk that failed
		firstErr error
	)
	take := func() (chunk int, ok bool) {
		mu.Lock()
		defer mu.Unlock()
		if firstErr != nil || next == count || ctx.Err() != nil {
			return 0, false
		}
		next++
		return next - 1, true
	}
	report := func(chunk, finished int, err error) {
		mu.Lock()
		defer mu.Unlock()
		if err != nil {
			if chunk < failed {
				failed, firstErr = chunk, err
			}
			return
		}
		done += finished
		if progress != nil {
			progress(done, total)
		}
	}
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), count) {
		workers.Go(func() {
			for {
				chunk, ok := take()
				if !ok {
					return
				}
				lo := chunk * size
				hi := lo + min(size, total-lo)
				report(chunk, hi-lo, work(chunk, lo, hi))
			}
		})
	}
	workers.Wait()
	if firstErr != nil {
		return firstErr
	}
	if done < total {
		return ctx.Err()
	}
	return nil
}

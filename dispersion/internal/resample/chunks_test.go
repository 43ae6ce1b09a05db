package resample

import (
	"context"
	"errors"
	"runtime"
	"testing"
	"time"
)

func TestChunksCoverEverythingOnceOnAnyNumberOfCores(t *testing.T) {
	for _, workers := range []int{1, 2, 7} {
		old := runtime.GOMAXPROCS(workers)
		for _, total := range []int{1, 9, 10, 11, 95} {
			slots := make([]int, total)
			last := 0
			err := Chunks(context.Background(), total, 10, func(done, of int) {
				if done <= last || of != total {
					t.Errorf("progress went from %d to %d of %d", last, done, of)
				}
				last = done
			}, func(chunk, lo, hi int) error {
				for i := lo; i < hi; i++ {
					slots[i] += chunk + 1
				}
				return nil
			})
			if err != nil || last != total {
				t.Errorf("%d workers, %d indices: error %v, progress ended at %d", workers, total, err, last)
			}
			for i, got := range slots {
				if got != i/10+1 {
					t.Errorf("%d workers: slot %d holds %d, want %d", workers, i, got, i/10+1)
				}
			}
		}
		runtime.GOMAXPROCS(old)
	}
}

func TestChunksReturnsTheErrorOfTheLowestChunk(t *testing.T) {
	low, high := errors.New("low"), errors.New("high")
	both := make(chan struct{})
	old := runtime.GOMAXPROCS(2)
	defer runtime.GOMAXPROCS(old)
	err := Chunks(context.Background(), 2, 1, nil, func(chunk, _, _ int) error {
		if chunk == 1 {
			close(both)
			return high
		}
		<-both
		time.Sleep(time.Millisecond) // so that the higher chunk reports first
		return low
	})
	if !errors.Is(err, low) {
		t.Errorf("got %v, want the error of chunk 0", err)
	}
}

func TestChunksStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	calls := make(chan int, 1000)
	err := Chunks(ctx, 1000, 1, nil, func(chunk, _, _ int) error {
		calls <- chunk
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want context.Canceled", err)
	}
	if n := len(calls); n > runtime.GOMAXPROCS(0) {
		t.Errorf("%d chunks ran after the context was done", n)
	}
	if err := Chunks(ctx, 0, 1, nil, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("no work, done context: got %v", err)
	}
}

// A context that is done only after the last chunk has finished spoils nothing.
func TestChunksKeepsAFinishedAnswer(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	if err := Chunks(ctx, 1, 1, nil, func(int, int, int) error { cancel(); return nil }); err != nil {
		t.Errorf("all work was done, yet %v", err)
	}
}

// Duckdb fills an archive with drawn sessions and times its streams beside
// DuckDB on the same Parquet files, in one run, and prints how many times as
// long DuckDB takes.
//
//	cd dispersion/internal/peers/duckdb && go run . -shots 10000000
//
// It is a module of its own, since DuckDB is some 80 MB of C++ that nobody else
// needs. It takes cgo, a C++ compiler and a Unix. Both use every core. Before
// any time is told, the sums of both are compared, number by number.
package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"slices"
	"syscall"
	"time"

	"github.com/landfall-golf/landfall/dispersion/archive"
)

func main() {
	log.SetFlags(0)
	shots := flag.Int("shots", 1_000_000, "shots in the archive")
	session := flag.Int("session", 100, "shots of one session")
	pupils := flag.Int("pupils", 2000, "pupils")
	runs := flag.Int("runs", 3, "timed runs of each question; the median counts")
	within := flag.String("in", "", "folder for the archive, removed at the end; empty for the system's temporary one")
	flag.Parse()
	if err := run(*shots, *session, *pupils, *runs, *within); err != nil {
		log.Fatal(err)
	}
}

func run(shots, session, pupils, runs int, within string) (err error) {
	dir, err := os.MkdirTemp(within, "archive")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	ctx := context.Background()
	a, err := archive.Create(dir)
	if err != nil {
		return err
	}
	if err := fill(ctx, a, dir, shots, session, pupils); err != nil {
		return err
	}
	if err := streams(ctx, a, shots); err != nil {
		return err
	}
	d, err := openDuck(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := compareSums(ctx, a, d); err != nil {
		return err
	}
	fmt.Printf("\n%-46s %20s %8s %20s %8s\n%-46s %9s %10s %8s %9s %10s %8s\n", "", "seconds of the clock", "", "seconds of all cores", "",
		"question", "ours", "DuckDB", "ratio", "ours", "DuckDB", "ratio")
	for _, q := range questions {
		theirs, err := median(runs, func() error { return d.ask(ctx, q.sql) })
		if err != nil {
			return fmt.Errorf("%s: %w", q.name, err)
		}
		ours, err := median(runs, func() error { return q.ours(ctx, a) })
		if err != nil {
			return fmt.Errorf("%s: %w", q.name, err)
		}
		fmt.Printf("%-46s %9.2f %10.2f %8.2f %9.2f %10.2f %8.2f\n", q.name, ours.clock, theirs.clock, theirs.clock/ours.clock, ours.cores, theirs.cores, theirs.cores/ours.cores)
	}
	return nil
}

// streams prints what each stream takes, over a tenth of the pupils and over
// all: the time grows tenfold and the memory does not.
func streams(ctx context.Context, a *archive.Archive, shots int) error {
	fmt.Printf("\n%-26s %9s %9s %9s %12s %14s\n", "stream", "groups", "seconds", "of cores", "rows/s", "peak RSS, MB")
	for _, part := range []archive.Part{{Index: 0, Of: 10}, {}} {
		for _, s := range []struct {
			name string
			run  func(archive.Query) (groups int, rows int64, err error)
		}{
			{"Summaries", func(q archive.Query) (n int, rows int64, err error) {
				for s, err := range a.Summaries(ctx, q) {
					if err != nil {
						return 0, 0, err
					}
					n++
					rows += s.All.Sums.N
				}
				return n, rows, nil
			}},
			{"Groups, with all columns", func(q archive.Query) (n int, rows int64, err error) {
				for g, err := range a.Groups(ctx, q) {
					if err != nil {
						return 0, 0, err
					}
					n++
					rows += int64(len(g.Shots))
				}
				return n, rows, nil
			}},
		} {
			resetPeak()
			begin, used := time.Now(), coreSeconds()
			groups, rows, err := s.run(archive.Query{Part: part})
			if err != nil {
				return err
			}
			took := time.Since(begin).Seconds()
			if part == (archive.Part{}) && rows != int64(shots) {
				return fmt.Errorf("%s: %d shots, not %d", s.name, rows, shots)
			}
			fmt.Printf("%-26s %9d %9.2f %9.2f %12.0f %14.0f\n", s.name, groups, took, coreSeconds()-used, float64(rows)/took, peak())
		}
	}
	return nil
}

// A cost is what a run takes: by the clock, and of all cores together, which
// other programs on the machine disturb less.
type cost struct{ clock, cores float64 }

// median returns the run in the middle, by the time of all cores.
func median(runs int, f func() error) (cost, error) {
	var costs []cost
	for range runs {
		begin, used := time.Now(), coreSeconds()
		if err := f(); err != nil {
			return cost{}, err
		}
		costs = append(costs, cost{time.Since(begin).Seconds(), coreSeconds() - used})
	}
	slices.SortFunc(costs, func(a, b cost) int { return cmp.Compare(a.cores, b.cores) })
	return costs[len(costs)/2], nil
}

// coreSeconds returns what this program has used of all cores.
func coreSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return math.NaN() // and so is every ratio
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()).Seconds()
}

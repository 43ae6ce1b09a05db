package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// importers is how many sessions are added at once: more than cores, since most
// of the time is spent waiting for the disk.
const importers = 8

// fill draws sessions and adds them to the archive.
func fill(ctx context.Context, a *archive.Archive, dir string, shots, session, pupils int) error {
	resetPeak()
	begin, used := time.Now(), coreSeconds()
	var next atomic.Int64
	var wg sync.WaitGroup
	errs := make([]error, importers)
	for w := range importers {
		wg.Go(func() {
			for {
				n := int(next.Add(1)) - 1
				if n*session >= shots {
					return
				}
				l, err := draw(n, min(session, shots-n*session), pupils)
				if err == nil {
					_, err = a.Add(ctx, l)
				}
				if err != nil {
					errs[w] = err
					return
				}
			}
		})
	}
	wg.Wait()
	if err := errors.Join(errs...); err != nil {
		return err
	}
	took := time.Since(begin).Seconds()
	files, bytes := 0, int64(0)
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		files, bytes = files+1, bytes+info.Size()
		return err
	})
	if err != nil {
		return err
	}
	fmt.Printf("%d shots of %d pupils in %d files, %.0f MB, drawn and added in %.0f s, %.0f of all cores: %.0f rows/s, peak RSS %.0f MB\n",
		shots, pupils, files, float64(bytes)/1e6, took, coreSeconds()-used, float64(shots)/took, peak())
	return nil
}

// draw makes the n-th session: three stages, two clubs, two numbers and a note
// beside carry and side.
func draw(n, shots, pupils int) (*lesson.Lesson, error) {
	rng := rand.New(rand.NewPCG(1, uint64(n)))
	pupil := n % pupils
	mean := 150 + 10*rand.New(rand.NewPCG(2, uint64(pupil))).NormFloat64()
	l := &lesson.Lesson{
		Pupil: fmt.Sprintf("pupil %d", pupil), Unit: lesson.Yards, Rows: shots,
		Session: time.Date(2010, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n/pupils).Format(time.DateOnly),
		Stages:  []lesson.Stage{{Name: "old swing", Intent: lesson.Baseline}, {Name: "towel drill", Intent: lesson.Drill}, {Name: "new swing", Intent: lesson.Full}},
		Columns: []lesson.Column{{Name: "spin_rpm", Unit: "rpm", Numeric: true}, {Name: "launch_deg", Unit: "deg", Numeric: true}, {Name: "note"}},
	}
	cells := make([][]string, shots)
	tenth := func(v float64) float64 { return math.Round(10*v) / 10 }
	for i := range shots {
		s := l.Stages[min(i*len(l.Stages)/shots, len(l.Stages)-1)]
		carry := mean + 6*rng.NormFloat64()
		if rng.IntN(20) == 0 {
			carry -= 50
		}
		l.Shots = append(l.Shots, lesson.Shot{Line: i + 2, Ball: i + 1, Stage: s.Name, Intent: s.Intent, Club: []string{"7i", "D"}[i%7/5],
			Carry: tenth(max(0, carry)), Side: tenth(8 * rng.NormFloat64())})
		note := ""
		if rng.IntN(20) == 0 {
			note = "wind from the left"
		}
		cells[i] = []string{strconv.Itoa(5000 + rng.IntN(2000)), strconv.FormatFloat(tenth(16+2*rng.NormFloat64()), 'f', 1, 64), note}
	}
	return l, l.SetCells(cells)
}

// resetPeak makes the system forget how much memory the program ever had, where
// it can (Linux).
func resetPeak() {
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // peak then tells the whole run's
}

// peak returns the most memory in MB since resetPeak, 0 where the system doesn't
// tell.
func peak() float64 {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			kb, err := strconv.ParseFloat(strings.Fields(rest)[0], 64)
			if err != nil {
				return 0
			}
			return kb / 1000
		}
	}
	return 0
}

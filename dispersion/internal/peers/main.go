// Peers times this library beside general-purpose programs that answer the same
// question, on the same points, in one run on one core, and prints how many
// times as long each of them takes.
//
//	go run ./dispersion/internal/peers
//
// The peers are R with robustbase, ddalpha, boot, energy and lme4, and Python with
// scikit-learn and SciPy (Debian: r-base-core r-cran-robustbase r-cran-ddalpha
// r-cran-boot r-cran-energy r-cran-lme4 python3-sklearn python3-scipy). One
// that is not installed is named and left out. Each row is the median of
// several calls after one that does not count; neither starting a program nor
// reading the points is timed.
package main

import (
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"

	"github.com/landfall-golf/landfall/dispersion"
)

// A row is one question put to all.
type row struct {
	name  string
	n     int
	calls int // timed ones
	ours  func(g *dispersion.Group) error
	peers []peer
}

func main() {
	log.SetFlags(0)
	if err := pinned(); err != nil {
		log.Fatal(err)
	}
	dir, err := os.MkdirTemp("", "peers")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	fmt.Printf("%-34s %-28s %10s %10s %8s\n", "question", "peer", "ours ms", "peer ms", "ratio")
	for _, r := range rows {
		if err := r.run(dir); err != nil {
			log.Print(err)
		}
	}
}

// pinned restarts the program on one core, if the system can.
func pinned() error {
	const done = "PEERS_PINNED"
	taskset, err := exec.LookPath("taskset")
	if os.Getenv(done) != "" {
		return nil
	}
	if err != nil {
		fmt.Println("taskset is not installed: nothing is pinned to one core")
		return nil
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	c := exec.Command(taskset, "-c", "0", self)
	c.Env = append(os.Environ(), done+"=1", "GOMAXPROCS=1", "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	if err := c.Run(); err != nil {
		return err
	}
	os.Exit(0)
	return nil
}

func (r row) run(dir string) error {
	points := normalPoints(r.n)
	g, err := dispersion.NewGroup(points)
	if err != nil {
		return err
	}
	file := filepath.Join(dir, "points.csv")
	if err := writePoints(file, points); err != nil {
		return err
	}
	for _, p := range r.peers {
		theirs, err := p.time(file, r.calls)
		if err != nil {
			fmt.Printf("%-34s %-28s %v\n", r.name, p.name, err)
			continue
		}
		// Ours are timed right after theirs, so that both meet the same load.
		ours, err := r.timeOurs(g)
		if err != nil {
			return fmt.Errorf("%s: %w", r.name, err)
		}
		fmt.Printf("%-34s %-28s %10.3f %10.3f %8.1f\n", r.name, p.name, ours, theirs, theirs/ours)
	}
	return nil
}

// timeOurs returns the median milliseconds of a call.
func (r row) timeOurs(g *dispersion.Group) (float64, error) {
	var times []time.Duration
	for i := range r.calls + 1 {
		start := time.Now()
		if err := r.ours(g); err != nil {
			return 0, err
		}
		if i > 0 {
			times = append(times, time.Since(start))
		}
	}
	slices.Sort(times)
	return float64(times[len(times)/2].Nanoseconds()) / 1e6, nil
}

// normalPoints draws a group with one wild shot in twenty.
func normalPoints(n int) []dispersion.Point {
	rng := rand.New(rand.NewPCG(1, uint64(n)))
	points := make([]dispersion.Point, n)
	for i := range points {
		u, v := rng.NormFloat64(), rng.NormFloat64()
		points[i] = dispersion.Point{X: 8 * u, Y: 150 + 6*(.8*v-.6*u)}
		if i%20 == 19 {
			points[i].Y -= 60
		}
	}
	return points
}

func writePoints(file string, points []dispersion.Point) error {
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	for _, p := range points {
		if _, err := fmt.Fprintf(f, "%.17g,%.17g\n", p.X, p.Y); err != nil {
			return err
		}
	}
	return f.Close()
}

package archive_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/parquet-go/parquet-go"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Sessions of 100 and of 5,000 shots: what a file costs, and what a row.
var benchSizes = []int{100, 5000}

func BenchmarkAdd(b *testing.B) {
	for _, shots := range benchSizes {
		b.Run(fmt.Sprint(shots), func(b *testing.B) {
			a, _ := filled(b, 0, 0, 0)
			l := read(b, file("Ann", "2024-05-01", shots, 1), lesson.ReadOptions{})
			n := 0
			for b.Loop() {
				l.Pupil = fmt.Sprint(n) // or it would be there already
				n++
				add(b, a, l)
			}
			b.ReportMetric(float64(b.N)*float64(shots)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

func BenchmarkSummaries(b *testing.B) {
	benchStream(b, func(a *archive.Archive) (rows int64, err error) {
		for s, err := range a.Summaries(background, archive.Query{}) {
			if err != nil {
				return 0, err
			}
			rows += s.All.Moments.N
		}
		return rows, nil
	})
}

func BenchmarkGroups(b *testing.B) {
	benchStream(b, func(a *archive.Archive) (rows int64, err error) {
		for g, err := range a.Groups(background, archive.Query{}) {
			if err != nil {
				return 0, err
			}
			rows += int64(len(g.Shots))
		}
		return rows, nil
	})
}

// BenchmarkReadByRows reads the columns of Summaries, but for two, from the same
// files row by row and adds nothing up: what reading by column pages saves.
func BenchmarkReadByRows(b *testing.B) {
	for _, shots := range benchSizes {
		b.Run(fmt.Sprint(shots), func(b *testing.B) {
			_, dir := filled(b, 5, 4, shots)
			files, err := filepath.Glob(filepath.Join(dir, "*", "*.parquet"))
			if err != nil {
				b.Fatal(err)
			}
			rows := 0
			for b.Loop() {
				for _, f := range files {
					all, err := parquet.ReadFile[shotOfFile](f)
					if err != nil {
						b.Fatal(err)
					}
					rows += len(all)
				}
			}
			b.ReportMetric(float64(rows)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

// BenchmarkReadCSV is what the same sessions take as the files they came in.
func BenchmarkReadCSV(b *testing.B) {
	for _, shots := range benchSizes {
		b.Run(fmt.Sprint(shots), func(b *testing.B) {
			text := file("Ann", "2024-05-01", shots, 1)
			for b.Loop() {
				read(b, text, lesson.ReadOptions{}).Groups()
			}
			b.ReportMetric(float64(b.N)*float64(shots)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

func benchStream(b *testing.B, run func(*archive.Archive) (int64, error)) {
	for _, shots := range benchSizes {
		b.Run(fmt.Sprint(shots), func(b *testing.B) {
			a, _ := filled(b, 5, 4, shots)
			var rows int64
			for b.Loop() {
				n, err := run(a)
				if err != nil {
					b.Fatal(err)
				}
				rows += n
			}
			b.ReportMetric(float64(rows)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

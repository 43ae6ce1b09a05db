package archive_test

import (
	"errors"
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A file whose bytes were changed together with the checksum in its name passes
// for whole. Whatever is in it, it is read or named in an error, and the program
// lives on.
func TestHostileFiles(t *testing.T) {
	a, dir := filled(t, 1, 1, 30)
	files, err := filepath.Glob(filepath.Join(dir, "*", "*.parquet"))
	if err != nil || len(files) != 1 {
		t.Fatal(files, err)
	}
	whole, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(3, 3))
	refused := 0
	for range 600 {
		bytes := slices.Clone(whole)
		for range 1 + rng.IntN(4) {
			bytes[rng.IntN(len(bytes))] = byte(rng.Uint32())
		}
		sum := crc32.Checksum(bytes, crc32.MakeTable(crc32.Castagnoli))
		file := filepath.Join(filepath.Dir(files[0]), fmt.Sprintf("undated.%032x.%08x.parquet", 1, sum))
		if err := os.WriteFile(file, bytes, 0o644); err != nil {
			t.Fatal(err)
		}
		_, one := collect(a.Groups(background, archive.Query{}))
		_, two := collect(a.Summaries(background, archive.Query{}))
		for _, err := range []error{one, two} {
			if err == nil {
				continue
			}
			refused++
			var at *archive.FileError
			if !errors.Is(err, archive.ErrForeign) || !errors.As(err, &at) || filepath.Join(dir, at.File) != file {
				t.Fatalf("%v, want an error of kind ErrForeign that names %s", err, file)
			}
		}
		if err := os.Remove(file); err != nil {
			t.Fatal(err)
		}
	}
	if refused < 300 {
		t.Errorf("only %d of 1200 were refused, so this test shows little", refused)
	}
}

// A file that was moved to another pupil's folder is an error to every reader.
func TestMovedFile(t *testing.T) {
	dir := t.TempDir()
	a, err := archive.Create(dir)
	if err != nil {
		t.Fatal(err)
	}
	added := add(t, a, read(t, "pupil,session,carry_yd,side_yd\nAnn,2024-01-01,150,1\n", lesson.ReadOptions{}))
	other := add(t, a, read(t, "pupil,session,carry_yd,side_yd\nBob,2024-01-02,150,1\n", lesson.ReadOptions{}))
	moved := filepath.Join(filepath.Dir(other.File), filepath.Base(added.File))
	if err := os.Rename(filepath.Join(dir, added.File), filepath.Join(dir, moved)); err != nil {
		t.Fatal(err)
	}
	_, load := a.Load(moved)
	_, groups := collect(a.Groups(background, archive.Query{}))
	_, summaries := collect(a.Summaries(background, archive.Query{}))
	for name, err := range map[string]error{"Load": load, "Groups": groups, "Summaries": summaries} {
		if !errors.Is(err, archive.ErrForeign) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

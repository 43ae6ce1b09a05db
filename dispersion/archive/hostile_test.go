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

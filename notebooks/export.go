package main

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
)

// runExport writes a lesson the plain way: shots.csv and datapackage.json.
func runExport(args []string, stdout, stderr io.Writer) int {
	var s review.Source
	var out, key string
	flags := flag.NewFlagSet("export", flag.ContinueOnError)
	flags.SetOutput(stderr)
	lessonFlags(flags, &s)
	flags.StringVar(&out, "o", "", "the `folder` to write to, needed")
	flags.StringVar(&key, "anonymise", "", "give the pupil a pseudonym, move the dates and leave the notes out, by the key in this `file`;\na new one is made if it is not there: keep it, and keep it to yourself")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: go run ./notebooks export -lesson FILE -o FOLDER [-anonymise KEYFILE]")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return exitDone
	} else if err != nil {
		return exitUsage
	}
	if out == "" || flags.NArg() > 0 {
		fmt.Fprintln(stderr, "landfall: export needs -o FOLDER, and the lesson comes after -lesson")
		flags.Usage()
		return exitUsage
	}
	if err := export(s, out, key, stdout); err != nil {
		fmt.Fprintf(stderr, "landfall: %v\n", err)
		return exitFailed
	}
	return exitDone
}

func export(s review.Source, out, keyFile string, stdout io.Writer) error {
	if s.File != "" && resolved(filepath.Dir(s.File)) == resolved(out) {
		return fmt.Errorf("the export would lie in %s, where the lesson is, and could take the place of its files: give another folder", out)
	}
	l, err := s.Read()
	if err != nil {
		return err
	}
	if keyFile != "" {
		if l, err = anonymise(l, keyFile, out, stdout); err != nil {
			return err
		}
	}
	var csv, descriptor bytes.Buffer
	if err := l.WriteCSV(&csv); err != nil {
		return err
	}
	if err := l.WriteDescriptor(&descriptor, "shots.csv"); err != nil {
		return err
	}
	for _, f := range []struct {
		name    string
		content []byte
	}{{"shots.csv", csv.Bytes()}, {"datapackage.json", descriptor.Bytes()}} {
		if err := writeWhole(filepath.Join(out, f.name), f.content); err != nil {
			return err
		}
	}
	for _, w := range l.Warnings {
		fmt.Fprintf(stdout, "Note: %s.\n", line(w.Error(), 2000))
	}
	_, err = fmt.Fprintf(stdout, "%d shots written, %d rows that could not be read left out: %s\n", len(l.Shots), len(l.Rejected), filepath.Join(out, "datapackage.json"))
	return err
}

// anonymise hides whose lesson it is. The key may not lie in the folder that is
// given away with the lesson.
func anonymise(l *lesson.Lesson, keyFile, out string, stdout io.Writer) (*lesson.Lesson, error) {
	if within(out, keyFile) {
		return nil, fmt.Errorf("the key %s would lie in the folder of the export: put it somewhere else, since whoever has it can tell the pseudonyms", keyFile)
	}
	key, err := readKey(keyFile)
	if errors.Is(err, fs.ErrNotExist) {
		key, err = newKey(keyFile)
		if err == nil {
			fmt.Fprintf(stdout, "A new key: %s. With it, the same pupil keeps the same pseudonym; whoever has it can tell who that is.\n", keyFile)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("the key: %w", err)
	}
	return l.Anonymise(key)
}

// within tells whether a file lies in a folder or below it.
func within(folder, file string) bool {
	way, err := filepath.Rel(resolved(folder), resolved(file))
	return err == nil && way != ".." && !strings.HasPrefix(way, ".."+string(filepath.Separator))
}

// resolved returns the place that a path leads to, its links followed as far as
// it exists.
func resolved(path string) string {
	path, err := filepath.Abs(path)
	if err != nil { // the working folder is gone; the path then serves as it is
		return path
	}
	for rest := ""; ; {
		if real, err := filepath.EvalSymlinks(path); err == nil {
			return filepath.Join(real, rest)
		}
		if filepath.Dir(path) == path {
			return filepath.Join(path, rest)
		}
		path, rest = filepath.Dir(path), filepath.Join(filepath.Base(path), rest)
	}
}

// keyBytes is the length of a new key: that of the hash.
const keyBytes = 32

func readKey(file string) ([]byte, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	key, err := hex.DecodeString(strings.TrimSpace(string(text)))
	if err != nil {
		return nil, fmt.Errorf("%s holds no hexadecimal digits: it is no key that was made here", file)
	}
	return key, nil
}

// newKey makes a key that only its owner can read.
func newKey(file string) ([]byte, error) {
	key := make([]byte, keyBytes)
	rand.Read(key) // never fails
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	_, err = fmt.Fprintf(f, "%x\n", key)
	return key, errors.Join(err, f.Sync(), f.Close())
}

package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/notebooks/internal/kernel"
	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// courseFiles returns the paths of the course's notebooks in their order, and of
// the solutions to their exercises.
func courseFiles(root string) (lessons, solutions []string, err error) {
	folder := filepath.Join(root, "notebooks", "course")
	lessons, err1 := filepath.Glob(filepath.Join(folder, "*.ipynb"))
	solutions, err2 := filepath.Glob(filepath.Join(folder, "solutions", "*.ipynb"))
	if err := errors.Join(err1, err2); err != nil {
		return nil, nil, err
	}
	slices.Sort(lessons)
	slices.Sort(solutions)
	return lessons, solutions, nil
}

// course runs notebooks of the course and writes their outputs into them, or
// with -check tells which are not what a fresh run gives.
func course(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("course", flag.ContinueOnError)
	flags.SetOutput(stderr)
	check := flags.Bool("check", false, "write nothing; tell which outputs are not what a fresh run gives")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: go run ./notebooks course [-check] [name ...]\nRuns the notebooks of notebooks/course whose name starts so, all without a name, their solutions too.")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitDone
		}
		return exitUsage
	}
	if err := runCourse(ctx, flags.Args(), *check, stdout, stderr); err != nil {
		fmt.Fprintf(stderr, "landfall: %v\n", err)
		return exitFailed
	}
	return exitDone
}

func runCourse(ctx context.Context, names []string, check bool, stdout, stderr io.Writer) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	lessons, solutions, err := courseFiles(root)
	if err != nil {
		return err
	}
	var chosen []string
	for _, file := range append(lessons, solutions...) {
		starts := func(name string) bool { return strings.HasPrefix(filepath.Base(file), name) }
		if len(names) == 0 || slices.ContainsFunc(names, starts) {
			chosen = append(chosen, file)
		}
	}
	if len(chosen) == 0 {
		return fmt.Errorf("no notebook of the course is called %s", strings.Join(names, " or "))
	}
	var stale []error
	for _, file := range chosen {
		name, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		committed, fresh, err := rerun(ctx, root, file, stderr)
		switch {
		case err != nil:
			return fmt.Errorf("%s: %w", name, err)
		case bytes.Equal(committed, fresh):
			fmt.Fprintf(stdout, "%s: as it was\n", name)
		case check:
			stale = append(stale, fmt.Errorf("%s: a fresh run gives something else: run go run ./notebooks course %s", name, filepath.Base(file)))
		default:
			if err := writeWhole(file, fresh); err != nil {
				return err
			}
			fmt.Fprintf(stdout, "%s: written\n", name)
		}
	}
	return errors.Join(stale...)
}

// rerun runs a notebook and returns it as it is in the file and as a fresh run
// leaves it.
func rerun(ctx context.Context, root, file string, stderr io.Writer) (committed, fresh []byte, err error) {
	if committed, err = os.ReadFile(file); err != nil {
		return nil, nil, err
	}
	nb, err := nbformat.Read(bytes.NewReader(committed))
	if err != nil {
		return nil, nil, err
	}
	say := newProgress(stderr)
	err = kernel.Run(ctx, nb, kernel.Options{Root: root, Progress: say.step})
	say.done()
	if err != nil {
		return nil, nil, err
	}
	dropBitmaps(nb)
	var b bytes.Buffer
	err = nbformat.Write(&b, nb)
	return committed, b.Bytes(), err
}

// dropBitmaps leaves of each figure the drawing, which is sharp at any size and
// a fifth as large as the bitmap beside it.
func dropBitmaps(nb *nbformat.Notebook) {
	for _, c := range nb.Cells {
		for _, o := range c.Outputs {
			if _, ok := o.Data["text/html"]; ok {
				delete(o.Data, "image/png")
			}
		}
	}
}

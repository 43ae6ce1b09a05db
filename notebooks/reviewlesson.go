package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"github.com/landfall-golf/landfall/notebooks/internal/kernel"
	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
	"github.com/landfall-golf/landfall/notebooks/internal/page"
	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
	"github.com/landfall-golf/landfall/notebooks/review"
)

// reviewLesson reads the lesson first, so that a bad file is told of at once,
// then runs the notebook on it and writes what came of it.
func reviewLesson(ctx context.Context, source review.Source, out string, stdout, stderr io.Writer) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	if out == "" {
		out = filepath.Join(root, "notebooks", "out")
	}
	if source.File != "" {
		if source.File, err = filepath.Abs(source.File); err != nil {
			return err
		}
	}
	if source.Columns != "" {
		if source.Columns, err = filepath.Abs(source.Columns); err != nil {
			return err
		}
	}
	r, err := review.Open(source)
	if err != nil {
		return err
	}
	// The numbers are worked out while the kernel compiles.
	var numbers, effects, shuffled []byte
	var numbersErr error
	var working sync.WaitGroup
	working.Go(func() {
		var err1, err2, err3 error
		numbers, err1 = r.JSON(ctx, nil)
		effects, err2 = r.CSV(ctx)
		shuffled, err3 = shuffleWallPage(r)
		numbersErr = errors.Join(err1, err2, err3)
	})
	say := newProgress(stderr)
	nb, err := execute(ctx, root, source, say)
	say.done()
	working.Wait()
	if err := cmp.Or(err, numbersErr); err != nil {
		return err
	}
	hideFolder(nb, source.File)
	hideFolder(nb, source.Columns)
	var html, ipynb bytes.Buffer
	if err := page.Write(&html, nb, page.Options{Downloads: []page.Download{
		{Name: "review.csv", Type: "text/csv", Data: effects},
		{Name: "review.json", Type: "application/json", Data: numbers},
	}}); err != nil {
		return err
	}
	if err := nbformat.Write(&ipynb, nb); err != nil {
		return err
	}
	// The numbers come last: whoever waits for them finds the page there.
	for _, f := range []struct {
		name    string
		content []byte
	}{{shuffleWallFile, shuffled}, {"review.html", html.Bytes()}, {"review.ipynb", ipynb.Bytes()}, {"review.json", numbers}} {
		if err := writeWhole(filepath.Join(out, f.name), f.content); err != nil {
			return err
		}
	}
	return tell(ctx, r, filepath.Join(out, "review.html"), stdout)
}

// execute runs the review notebook with the source as its parameters.
func execute(ctx context.Context, root string, s review.Source, say *progress) (*nbformat.Notebook, error) {
	text, err := os.ReadFile(filepath.Join(root, "notebooks", "review.ipynb"))
	if err != nil {
		return nil, err
	}
	nb, err := nbformat.Read(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	var parameters []kernel.Parameter
	for _, p := range [][2]string{
		{"lessonFile", s.File}, {"stages", s.Stages}, {"pupil", s.Pupil}, {"session", s.Session}, {"unit", s.Unit}, {"device", s.Device}, {"columns", s.Columns},
	} {
		if p[1] != "" {
			parameters = append(parameters, kernel.Parameter{Name: p[0], Value: strconv.Quote(p[1])})
		}
	}
	if s.Mirror {
		parameters = append(parameters, kernel.Parameter{Name: "mirror", Value: "true"})
	}
	err = kernel.Run(ctx, nb, kernel.Options{Root: root, Parameters: parameters, Progress: say.step})
	return nb, err
}

// hideFolder leaves only the name of a file in the notebook: the page goes to
// others, and where the file lies is none of their business.
func hideFolder(nb *nbformat.Notebook, file string) {
	for i, c := range nb.Cells {
		if file != "" && c.HasTag("injected-parameters") {
			nb.Cells[i].Source = strings.ReplaceAll(c.Source, strconv.Quote(file), strconv.Quote(filepath.Base(file)))
		}
	}
}

// tell prints the findings and where the page is.
func tell(ctx context.Context, r *review.Review, page string, w io.Writer) error {
	headline, err := r.Headline(ctx)
	if err != nil {
		return err
	}
	for _, s := range append(r.Opening(), headline...) {
		fmt.Fprintln(w, plaintext.Cut(plaintext.OneLine(s), 2000))
	}
	_, err = fmt.Fprintf(w, "The page: %s\nBefore it, to guess which picture is real: %s\n", page, filepath.Join(filepath.Dir(page), shuffleWallFile))
	return err
}

// writeWhole writes a file under a temporary name in its folder and renames
// it, so that nobody ever reads half of it.
func writeWhole(path string, content []byte) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	f, err := os.CreateTemp(folder, "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		if gone := os.Remove(f.Name()); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}
	return err
}

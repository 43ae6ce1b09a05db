// Package kernel executes notebooks on the project's Go kernel without a
// browser, a server or Python. It starts the kernel through the same
// kernelspec that Jupyter uses (notebooks/kernels/landfall), so that a notebook
// gives the same outputs in both.
//
// The kernel is spoken to over Unix sockets in a private directory that also
// holds every temporary file of the kernel. Nothing is left when [Run]
// returns, and nothing when the program that called it is killed.
//
// Reference: Project Jupyter, "Messaging in Jupyter", version 5.4,
// https://jupyter-client.readthedocs.io/en/stable/messaging.html
package kernel

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// Options tell [Run] how to execute a notebook. Root is required; the zero
// value of every other field is its default.
type Options struct {
	// Root is the directory of the module, which holds go.mod and notebooks.
	Root string

	// Parameters replace values of the cell tagged "parameters".
	Parameters []Parameter

	// CellTimeout is how long one cell may take; zero is 5 minutes.
	CellTimeout time.Duration

	// Progress, if not nil, is told what happens next: done of total code
	// cells have been executed, and title is the heading above the next one,
	// or what makes the start take long. It is never called concurrently.
	Progress func(done, total int, title string)
}

// defaultCellTimeout is generous: a cell that compiles a library first can take
// a minute on a slow machine.
const defaultCellTimeout = 5 * time.Minute

// Run executes the code cells of nb in order, on a kernel of its own, and
// stores their outputs and execution counts in nb. Cells without code are left
// as they are. Paths in cells are relative to the directory notebooks of Root,
// where Jupyter would start them.
//
// A cell that fails ends the run, unless it carries the tag "raises-exception";
// what was executed until then, the failed cell's outputs included, is in nb.
//
// Errors: [*CellError] for a cell that fails, that takes too long (then it
// wraps [context.DeadlineExceeded]) or that ends the kernel;
// [*ParameterError]; ctx.Err, wrapped, soon after ctx is done; an error with
// the end of the kernel's own messages if the kernel does not start.
func Run(ctx context.Context, nb *nbformat.Notebook, o Options) (err error) {
	if o.CellTimeout == 0 {
		o.CellTimeout = defaultCellTimeout
	}
	progress := o.Progress
	var one sync.Mutex // what the kernel says at its start comes from elsewhere
	o.Progress = func(done, total int, title string) {
		if progress != nil {
			one.Lock()
			defer one.Unlock()
			progress(done, total, title)
		}
	}
	root, err := filepath.Abs(o.Root)
	if err != nil {
		return err
	}
	if err := inject(nb, o.Parameters); err != nil {
		return err
	}
	total := 0
	for _, c := range nb.Cells {
		if hasCode(c) {
			total++
		}
	}
	k, err := start(ctx, root, imports(nb), func(what string) { o.Progress(0, total, what) })
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, k.close()) }()
	if nb.Metadata == nil {
		nb.Metadata = map[string]any{}
	}
	nb.Metadata["language_info"] = k.languageInfo
	return k.executeAll(ctx, nb, o, total)
}

func (k *kernel) executeAll(ctx context.Context, nb *nbformat.Notebook, o Options, total int) error {
	defer k.drain()
	done, title := 0, ""
	for i := range nb.Cells {
		cell := &nb.Cells[i]
		if h := heading(*cell); h != "" {
			title = h
		}
		if !hasCode(*cell) {
			continue
		}
		o.Progress(done, total, title)
		err := k.execute(ctx, cell, o.CellTimeout)
		if e := (*CellError)(nil); errors.As(err, &e) {
			if (e.Name == failed || e.Name == uncompiled) && cell.HasTag("raises-exception") {
				err = nil
			}
			e.Cell, e.Title = i+1, title
		}
		if err != nil {
			return err
		}
		done++
	}
	o.Progress(done, total, "")
	return ctxError(ctx)
}

func hasCode(c nbformat.Cell) bool {
	return c.Type == nbformat.Code && strings.TrimSpace(c.Source) != ""
}

// heading returns the text of the last heading of a markdown cell, or "".
func heading(c nbformat.Cell) string {
	title := ""
	if c.Type == nbformat.Markdown {
		for line := range strings.Lines(c.Source) {
			if text := strings.TrimLeft(line, "#"); len(text) < len(line) && strings.HasPrefix(text, " ") {
				title = strings.TrimSpace(text)
			}
		}
	}
	return title
}

func ctxError(ctx context.Context) error {
	if ctx.Err() == nil {
		return nil
	}
	return fmt.Errorf("the notebook was stopped: %w", context.Cause(ctx))
}

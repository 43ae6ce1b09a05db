package main

import (
	"fmt"
	"io"
	"os"
)

// A progress tells on a terminal how far the notebook has got, on one line that
// is written again and again. Elsewhere it tells only what comes first, so that
// logs stay short.
type progress struct {
	w        io.Writer
	terminal bool
	told     string
}

func newProgress(w io.Writer) *progress {
	p := &progress{w: w}
	if f, ok := w.(*os.File); ok {
		info, err := f.Stat()
		p.terminal = err == nil && info.Mode()&os.ModeCharDevice != 0
	}
	return p
}

// step is told what is being done now: done of total cells are finished.
func (p *progress) step(done, total int, title string) {
	switch {
	case p.terminal:
		fmt.Fprintf(p.w, "\r\x1b[K%2d of %d  %s", done, total, title)
	case p.told == "":
		fmt.Fprintf(p.w, "Running the notebook, %d cells …\n", total)
	}
	p.told = title
}

// done ends the line.
func (p *progress) done() {
	if p.terminal && p.told != "" {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}

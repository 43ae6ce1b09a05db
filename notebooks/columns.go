package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"text/tabwriter"

	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
	"github.com/landfall-golf/landfall/notebooks/review"
)

// runColumns proposes what the columns of a file are, and writes the proposal
// for its reader to correct. It never writes over one: that may be corrected
// already.
func runColumns(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("columns", flag.ContinueOnError)
	flags.SetOutput(stderr)
	var out string
	flags.StringVar(&out, "o", "", "the `file` to write (default columns.json beside the lesson, where the review looks for it)")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: go run ./notebooks columns [-o mapping.json] FILE")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return exitDone
	} else if err != nil {
		return exitUsage
	}
	if flags.NArg() != 1 {
		fmt.Fprintln(stderr, "landfall: columns takes one file")
		flags.Usage()
		return exitUsage
	}
	if out == "" {
		out = filepath.Join(filepath.Dir(flags.Arg(0)), review.ColumnsFile)
	}
	if err := proposeColumns(flags.Arg(0), out, stdout); err != nil {
		fmt.Fprintf(stderr, "landfall: %v\n", err)
		return exitFailed
	}
	return exitDone
}

func proposeColumns(name, out string, stdout io.Writer) error {
	file, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("the lesson file: %w", err)
	}
	defer file.Close()
	p, err := lesson.Propose(file)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := p.Mapping.Write(&text); err != nil {
		return err
	}
	if err := writeNew(out, text.Bytes()); err != nil {
		return err
	}
	return tellProposal(p, out, stdout)
}

// writeNew writes a file that is not there yet.
func writeNew(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already and was left as it is: say in it what each column is (\"measure\": \"carry\" in the field of the carry), or remove it, or give another with -o", path)
	}
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return errors.Join(err, f.Close())
}

// tellProposal prints what each column seems to be and every doubt.
func tellProposal(p *lesson.Proposal, out string, w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "The header is line %d.\n\ncolumn\tseems to be\tin\tsure\n", p.Line)
	doubts := 0
	for _, f := range p.Mapping.Fields {
		sure := "yes"
		if f.Doubt != "" {
			doubts++
			sure = "no: " + f.Doubt
		}
		measure := f.Measure
		if measure == lesson.None {
			measure = "(kept under its own name)"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", line(f.Name, 40), measure, line(f.Unit, 20), line(sure, 500))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, d := range p.Doubts {
		fmt.Fprintf(w, "Not sure: %s.\n", line(d, 500))
	}
	if n := doubts + len(p.Doubts); n > 0 {
		fmt.Fprintf(w, "\nDoubts: %d. Look at each in the file below, correct it, and take its \"doubt\" out.\n", n)
	}
	_, err := fmt.Fprintf(w, "The proposal: %s\n", out)
	return err
}

// line makes a text from a file one short line that moves no cursor.
func line(text string, most int) string { return plaintext.Cut(plaintext.OneLine(text), most) }

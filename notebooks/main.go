// Command notebooks reviews a lesson: it runs the review notebook on the Go
// kernel without a browser, and leaves a page, the executed notebook and the
// numbers.
//
//	go run ./notebooks                  # the demo lesson
//	go run ./notebooks -lesson my.csv   # a lesson of one's own
//	go run ./notebooks -lesson my.csv -watch
//	                                    # follow a lesson while it is hit, on a wall
//	go run ./notebooks course           # run the course's notebooks anew
//	go run ./notebooks site             # write the course as pages
//	go run ./notebooks columns my.csv   # proposes what its columns are
//	go run ./notebooks export -lesson my.csv -o FOLDER   # writes it the plain way, with pseudonyms if asked
//
// It exits with 0 when done, 1 if the lesson could not be reviewed, and 2 when
// called wrongly.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/landfall-golf/landfall/notebooks/internal/wall"
	"github.com/landfall-golf/landfall/notebooks/review"
)

const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run is the command without its process. What was found goes to stdout; how
// far it has got and what went wrong goes to stderr.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	if len(args) > 0 {
		switch args[0] {
		case "course":
			return course(ctx, args[1:], stdout, stderr)
		case "site":
			return site(args[1:], stdout, stderr)
		case "columns":
			return runColumns(args[1:], stdout, stderr)
		case "export":
			return runExport(args[1:], stdout, stderr)
		}
	}
	source, out, watch, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return exitDone
	}
	if err != nil {
		return exitUsage
	}
	if watch {
		if err := watchLesson(ctx, source, stdout); err != nil {
			fmt.Fprintf(stderr, "landfall: %v\n", err)
			return exitFailed
		}
		return exitDone
	}
	if err := reviewLesson(ctx, source, out, stdout, stderr); err != nil {
		fmt.Fprintf(stderr, "landfall: %v\n", err)
		return exitFailed
	}
	return exitDone
}

// watchLesson shows the lesson as it is hit, until it is interrupted.
func watchLesson(ctx context.Context, s review.Source, stdout io.Writer) error {
	return wall.Watch(ctx, s, func(address string) {
		fmt.Fprintf(stdout, "The wall: %s\nOpen it in a browser of this machine. Ctrl-C ends it.\n", address)
	})
}

func parse(args []string, stderr io.Writer) (s review.Source, out string, watch bool, err error) {
	flags := flag.NewFlagSet("notebooks", flag.ContinueOnError)
	flags.SetOutput(stderr)
	lessonFlags(flags, &s)
	flags.StringVar(&s.Device, "device", "", "how far the device is off, such as `\"carry 2 1, side 1.5\"`: by how much single shots (a standard\ndeviation), then by how much all shots of a stage may be off, in the lesson's unit")
	flags.StringVar(&out, "o", "", "the `folder` to write to (default notebooks/out in the module)")
	flags.BoolVar(&watch, "watch", false, "follow the lesson's file while the lesson is hit, and show it on a page of this machine")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: go run ./notebooks [-lesson my.csv] [more flags]\n       go run ./notebooks columns FILE\n       go run ./notebooks export -lesson FILE -o FOLDER")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		return s, out, watch, err
	}
	if flags.NArg() > 0 {
		err := fmt.Errorf("don't know what to do with %q: a lesson file comes after -lesson", flags.Arg(0))
		fmt.Fprintf(stderr, "landfall: %v\n", err)
		flags.Usage()
		return s, out, watch, err
	}
	return s, out, watch, nil
}

// lessonFlags are the flags that say which lesson to read and how.
func lessonFlags(flags *flag.FlagSet, s *review.Source) {
	flags.StringVar(&s.File, "lesson", "", "the lesson's `file` (CSV or datapackage.json, see docs/data-format.md); without it the demo lesson")
	flags.StringVar(&s.Stages, "stages", "", "mark-up of the stages by ball number, such as `1-8:old/baseline,9-16:new`;\nwithout it the stage and intent columns, or stages.csv beside the lesson")
	flags.StringVar(&s.Pupil, "pupil", "", "the `name` to review, where the file holds several pupils")
	flags.StringVar(&s.Session, "session", "", "the `session` to review, where the file holds several")
	flags.StringVar(&s.Unit, "unit", "", "the `unit` of columns called plainly carry and side: yd, m or ft")
	flags.StringVar(&s.Columns, "columns", "", "the `file` that says what the columns are; without it columns.json beside the lesson, where there is one")
	flags.BoolVar(&s.Mirror, "mirror", false, "exchange right and left, for a left-handed player")
}

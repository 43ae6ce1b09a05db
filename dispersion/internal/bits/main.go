// Bits prints what must not depend on the machine: the words drawn, the indices
// they become and what resamples give. Two builds are held against each other by
//
//	bits > one.txt                  built for one architecture
//	bits -against one.txt           built for another
//
// Lines that begin with "exact" must be equal to the last bit: whole numbers, and
// values that take no more than + − × ÷ √. Lines that begin with "near" hold
// logarithms, exponentials and what gonum makes, and must agree to 1e-12.
package main

import (
	"bufio"
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"strconv"
	"strings"
)

func main() {
	against := flag.String("against", "", "file that another build printed, to compare with")
	flag.Parse()
	if err := run(os.Stdout, *against); err != nil {
		fmt.Fprintln(os.Stderr, "bits:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, against string) error {
	var own bytes.Buffer
	if err := lines(context.Background(), &own); err != nil {
		return err
	}
	if against == "" {
		_, err := own.WriteTo(w)
		return err
	}
	other, err := os.ReadFile(against)
	if err != nil {
		return err
	}
	exact, near, err := compared(own.String(), string(other))
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "%s: %d values to the last bit and %d to 1e-12 as in %s\n", runtime.GOARCH, exact, near, against)
	return nil
}

// compared counts the lines of two builds that agree; the first that doesn't is
// an error.
func compared(own, other string) (exact, near int, err error) {
	a, b := bufio.NewScanner(strings.NewReader(own)), bufio.NewScanner(strings.NewReader(other))
	for number := 1; ; number++ {
		more, moreOther := a.Scan(), b.Scan()
		if more != moreOther {
			return 0, 0, fmt.Errorf("line %d: one build prints more lines than the other", number)
		}
		if !more {
			break
		}
		switch {
		case a.Text() == b.Text():
		case strings.HasPrefix(a.Text(), "near ") && agree(a.Text(), b.Text()):
		default:
			return 0, 0, fmt.Errorf("line %d: %q here, %q there", number, a.Text(), b.Text())
		}
		if strings.HasPrefix(a.Text(), "exact ") {
			exact++
		} else {
			near++
		}
	}
	if exact == 0 || near == 0 {
		return 0, 0, fmt.Errorf("%d exact and %d near values are too few to compare", exact, near)
	}
	return exact, near, nil
}

// agree tells whether two near lines name the same value, to a share of 1e-12.
func agree(a, b string) bool {
	nameA, valueA, okA := strings.Cut(strings.TrimPrefix(a, "near "), " = ")
	nameB, valueB, okB := strings.Cut(strings.TrimPrefix(b, "near "), " = ")
	x, errX := strconv.ParseFloat(valueA, 64)
	y, errY := strconv.ParseFloat(valueB, 64)
	return okA && okB && nameA == nameB && errX == nil && errY == nil && math.Abs(x-y) <= 1e-12*math.Max(math.Abs(x), math.Abs(y))
}

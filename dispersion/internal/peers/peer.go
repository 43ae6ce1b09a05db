package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
)

// A peer is a call in another language.
type peer struct {
	name     string
	programs []string // tried in this order
	probe    string   // program text that fails where the package is missing
	script   string   // program text; %q is the file, %d the number of calls
}

var errMissing = errors.New("not installed")

func inR(name, library, call string) peer {
	return peer{
		name: name, programs: []string{"Rscript"}, probe: "library(" + library + ")",
		script: "suppressMessages(library(" + library + ")); X <- as.matrix(read.csv(%q, header=FALSE)); set.seed(1)\n" +
			// The clock of R ticks in milliseconds: repeat short calls.
			"invisible(" + call + "); s <- Sys.time(); " + call + "; k <- max(1, ceiling(.02/as.numeric(difftime(Sys.time(), s, units=\"secs\"))))\n" +
			"t <- replicate(%d, { s <- Sys.time(); for(i in 1:k) " + call + "; as.numeric(difftime(Sys.time(), s, units=\"secs\"))/k })\n" +
			"cat(sprintf(\"%%.9f\\n\", 1000*median(t)))\n",
	}
}

func inPython(name, imports, call string) peer {
	return peer{
		// The system's Python is the one that apt fills.
		name: name, programs: []string{"/usr/bin/python3", "python3"}, probe: imports,
		script: imports + "\nimport numpy, time, warnings\nwarnings.filterwarnings('ignore')\n" +
			"X = numpy.loadtxt(%q, delimiter=',')\n" + call + "\nt = []\n" +
			"for i in range(%d):\n    s = time.perf_counter()\n    " + call + "\n    t.append(time.perf_counter() - s)\n" +
			"print(1000 * numpy.median(t))\n",
	}
}

// time returns the median milliseconds of a call.
func (p peer) time(file string, calls int) (float64, error) {
	program, err := p.program()
	if err != nil {
		return 0, err
	}
	out, err := runScript(program, fmt.Sprintf(p.script, file, calls))
	if err != nil {
		return 0, err
	}
	fields := strings.Fields(out)
	if len(fields) == 0 {
		return 0, errors.New("printed nothing")
	}
	return strconv.ParseFloat(fields[len(fields)-1], 64)
}

// program returns the first program that has the package.
func (p peer) program() (string, error) {
	for _, name := range p.programs {
		path, err := exec.LookPath(name)
		if err != nil {
			continue
		}
		if _, err := runScript(path, p.probe+"\n"); err == nil {
			return path, nil
		}
	}
	return "", errMissing
}

func runScript(program, text string) (string, error) {
	f, err := os.CreateTemp("", "peer")
	if err != nil {
		return "", err
	}
	defer os.Remove(f.Name())
	if _, err := f.WriteString(text); err != nil {
		return "", err
	}
	if err := f.Close(); err != nil {
		return "", err
	}
	out, err := exec.Command(program, f.Name()).Output()
	return string(out), err
}

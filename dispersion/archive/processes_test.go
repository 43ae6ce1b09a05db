package archive_test

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// The test program starts itself again as one of several processes.
const roleVariable = "ARCHIVE_TEST_ROLE"

func TestMain(m *testing.M) {
	role := strings.Split(os.Getenv(roleVariable), " ")
	var err error
	switch role[0] {
	case "":
		os.Exit(m.Run())
	case "part":
		err = part(role[1], role[2], role[3])
	case "import":
		err = importUntilKilled(role[1], role[2])
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// process returns the command that plays a role.
func process(role ...string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), roleVariable+"="+strings.Join(role, " "))
	c.Stderr = os.Stderr
	return c
}

// part prints an ellipse for every group of one part of an archive's pupils.
func part(dir, index, of string) error {
	a, err := archive.Open(dir)
	if err != nil {
		return err
	}
	var q archive.Query
	if q.Part.Index, err = strconv.Atoi(index); err != nil {
		return err
	}
	if q.Part.Of, err = strconv.Atoi(of); err != nil {
		return err
	}
	var mu sync.Mutex
	return a.ForEachGroup(context.Background(), q, func(g archive.Group) error {
		clean, err := g.Clean()
		if err != nil {
			return err
		}
		e, err := clean.MeanEllipse(0.95)
		if err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		_, err = fmt.Printf("%s %s %s %x %x %x %x %x\n", g.File, g.Stage.Name, g.Club, e.Centre.X, e.Centre.Y, e.SemiMajor, e.SemiMinor, e.Angle)
		return err
	})
}

// The same lines whether one process goes through the pupils, or two, or five.
func TestProcessesShareAFolder(t *testing.T) {
	_, dir := filled(t, 12, 2, 60)
	var want []string
	for _, of := range []int{1, 2, 5} {
		var processes []*exec.Cmd
		outs := make([]bytes.Buffer, of)
		for i := range of {
			c := process("part", dir, strconv.Itoa(i), strconv.Itoa(of))
			c.Stdout = &outs[i]
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			processes = append(processes, c)
		}
		var lines []string
		worked := 0
		for i, c := range processes {
			if err := c.Wait(); err != nil {
				t.Fatal(err)
			}
			if outs[i].Len() > 0 {
				worked++
			}
			lines = append(lines, strings.Split(strings.TrimSuffix(outs[i].String(), "\n"), "\n")...)
		}
		lines = slices.DeleteFunc(lines, func(s string) bool { return s == "" })
		slices.Sort(lines)
		if want == nil {
			want = lines
		}
		if len(lines) != 12*2*6 || !slices.Equal(lines, want) {
			t.Errorf("%d processes print %d lines, and not those of one", of, len(lines))
		}
		if of > 1 && worked < 2 {
			t.Errorf("of %d processes %d had anything to do", of, worked)
		}
	}
}

// numbered returns the n-th session of an endless import.
func numbered(n int) (*lesson.Lesson, error) {
	return lesson.Read(strings.NewReader(file(fmt.Sprintf("pupil %d", n%5), day(n%300), 10+n%50, uint64(n))), lesson.ReadOptions{})
}

// importUntilKilled adds one session after the other and says so of each once
// Add has returned.
func importUntilKilled(dir, from string) error {
	a, err := archive.Open(dir)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(from)
	if err != nil {
		return err
	}
	for ; ; n++ {
		l, err := numbered(n)
		if err != nil {
			return err
		}
		if _, err := a.Add(context.Background(), l); err != nil {
			return err
		}
		if _, err := fmt.Println(n); err != nil {
			return err
		}
	}
}

// Fifty times an import is killed at a moment drawn at random, and each time the
// archive opens, nothing in it is damaged, and it holds every session that was
// acknowledged, and of the others at most the one at hand.
func TestKilledImports(t *testing.T) {
	const kills = 50
	a, dir := filled(t, 0, 0, 0)
	rng := rand.New(rand.NewPCG(5, 0))
	acknowledged := map[int]bool{}
	next := 0
	for range kills {
		c := process("import", dir, strconv.Itoa(next))
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		// Some acknowledgements are awaited and then a part of a session's time,
		// so that the kill comes while files are written and not while the program
		// starts.
		lines := bufio.NewScanner(out)
		for range rng.IntN(6) {
			if !lines.Scan() {
				t.Fatal("the import ended by itself")
			}
			next = acknowledge(t, acknowledged, lines.Text())
		}
		time.Sleep(time.Duration(rng.IntN(6000)) * time.Microsecond)
		if err := c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for lines.Scan() { // said before it died
			next = acknowledge(t, acknowledged, lines.Text())
		}
		if _, err := io.Copy(io.Discard, out); err != nil && !errors.Is(err, os.ErrClosed) {
			t.Fatal(err)
		}
		if err := c.Wait(); err == nil {
			t.Fatal("the import ended by itself")
		}
		again, err := archive.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		held := map[string]bool{}
		for s, err := range again.Summaries(background, archive.Query{}) {
			if err != nil {
				t.Fatal(err)
			}
			held[s.File] = true
		}
		if extra := len(held) - len(acknowledged); extra < 0 || extra > kills {
			t.Fatalf("%d sessions are held, %d were acknowledged", len(held), len(acknowledged))
		}
	}
	for n := range acknowledged {
		l, err := numbered(n)
		if err != nil {
			t.Fatal(err)
		}
		added := add(t, a, l)
		if added.New {
			t.Errorf("session %d was acknowledged and is not there", n)
		}
		back, err := a.Load(added.File)
		if err != nil {
			t.Fatal(err)
		}
		sameLesson(t, back, l)
		if !reflect.DeepEqual(back.Groups()[0].Mishit, l.Groups()[0].Mishit) {
			t.Errorf("session %d has other mishits", n)
		}
	}
	t.Logf("%d sessions acknowledged over %d kills", len(acknowledged), kills)
	if len(acknowledged) < kills/2 {
		t.Errorf("only %d sessions were acknowledged, so this test shows little", len(acknowledged))
	}
}

func acknowledge(t *testing.T, acknowledged map[int]bool, line string) (next int) {
	t.Helper()
	n, err := strconv.Atoi(line)
	if err != nil {
		t.Fatalf("the import said %q", line)
	}
	acknowledged[n] = true
	return n + 1
}

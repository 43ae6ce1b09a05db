//go:build unix

package show_test

import (
	"bytes"
	"encoding/gob"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/janpfeifer/gonb/gonbui/protocol"

	"github.com/landfall-golf/landfall/notebooks/show"
)

// explored is what the cells of these tests draw.
func explored(number int, name string) (show.Picture, string, error) {
	if number == 13 {
		return nil, "", errors.New("no ball 13")
	}
	return picture{alt: fmt.Sprintf("%d balls, %s", number, name)}, fmt.Sprintf("The %s of %d.", name, number), nil
}

// A fakeKernel runs a cell as a kernel with a browser does.
type fakeKernel struct {
	t      *testing.T
	cell   *exec.Cmd
	stderr bytes.Buffer
	reader *os.File
	writer *os.File
	to     *gob.Encoder

	mu      sync.Mutex
	address string            // that the cell has subscribed to; "" is none
	shown   map[string]string // plain text of the outputs, by the end of their id
	all     []string          // of all outputs in turn
	html    map[string]string
	changed chan struct{} // after each output, and after the subscription ends
}

func startExplore(t *testing.T, env ...string) *fakeKernel { return startCell(t, "explore", env...) }

func startCell(t *testing.T, name string, env ...string) *fakeKernel {
	t.Helper()
	to, back := filepath.Join(t.TempDir(), "to"), filepath.Join(t.TempDir(), "back")
	for _, fifo := range []string{to, back} {
		if err := syscall.Mkfifo(fifo, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	k := &fakeKernel{t: t, cell: cell(t, name, append(env, "GONB_PIPE="+to, "GONB_PIPE_BACK="+back)...),
		shown: map[string]string{}, html: map[string]string{}, changed: make(chan struct{}, 100)}
	k.cell.Stderr = &k.stderr
	if err := k.cell.Start(); err != nil {
		t.Fatal(err)
	}
	// In this order the two ends wait for each other.
	var err1, err2 error
	k.reader, err1 = os.Open(to)
	k.writer, err2 = os.OpenFile(back, os.O_WRONLY, 0)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = errors.Join(k.reader.Close(), k.cell.Process.Kill()) })
	k.to = gob.NewEncoder(k.writer)
	go k.serve()
	return k
}

func (k *fakeKernel) serve() {
	from := gob.NewDecoder(k.reader)
	for {
		var got protocol.DisplayData
		if from.Decode(&got) != nil {
			close(k.changed)
			return
		}
		if value, ok := got.Data[protocol.MIMECommValue].(protocol.CommValue); ok {
			_ = k.send(protocol.GonbuiSyncAckAddress, value.Value) // the test may have closed it
			continue
		}
		k.mu.Lock()
		if s, ok := got.Data[protocol.MIMECommSubscribe].(protocol.CommSubscription); ok {
			k.address = s.Address
			if s.Unsubscribe {
				k.address = ""
			}
			k.mu.Unlock()
			continue
		}
		part := got.DisplayID[strings.LastIndex(got.DisplayID, "-")+1:]
		k.shown[part], k.html[part] = got.Data[protocol.MIMETextPlain].(string), got.Data[protocol.MIMETextHTML].(string)
		k.all = append(k.all, k.shown[part])
		k.mu.Unlock()
		k.changed <- struct{}{}
	}
}

// send writes one answer.
func (k *fakeKernel) send(address string, value any) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.to.Encode(protocol.CommValue{Address: address, Value: value})
}

// state returns the address, the text of an output and the markup of the controls.
func (k *fakeKernel) state(part string) (address, text, controls string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.address, k.shown[part], k.html["controls"]
}

// await waits until an output is as wanted.
func (k *fakeKernel) await(part, want string) {
	k.t.Helper()
	late := time.After(20 * time.Second)
	for {
		_, text, _ := k.state(part)
		if text == want {
			return
		}
		select {
		case _, open := <-k.changed:
			if _, text, _ := k.state(part); !open && text != want {
				k.t.Fatalf("the cell ended with %q shown, want %q", text, want)
			}
		case <-late:
			k.t.Fatalf("%q is shown, want %q", text, want)
		}
	}
}

// choose sends what a browser sends.
func (k *fakeKernel) choose(values ...any) {
	k.t.Helper()
	address, _, _ := k.state("")
	for _, v := range values {
		if err := k.send(address, v); err != nil {
			k.t.Fatal(err)
		}
	}
}

func TestExploreFollowsTheReader(t *testing.T) {
	k := startExplore(t, "LANDFALL_LIVE=1")
	k.await("picture", "12 balls, mean\n\nThe mean of 12.")
	address, _, controls := k.state("")
	if address == "" || !strings.Contains(controls, address) || !strings.Contains(controls, hostileHTML) || strings.Contains(controls, "alert('x')</script>") {
		t.Errorf("subscribed to %q, controls %s", address, controls)
	}
	k.choose("1 12 0")
	// Out of order, out of range and nonsense: only what is newest and makes sense counts.
	k.choose("3 20 1", "2 5 0", "4 99 0", "5 7 2", "6 7 -1", "x", 17, 3.5, "")
	k.await("picture", "20 balls, median\n\nThe median of 20.")
	k.choose("7 13 0")
	k.await("picture", "no ball 13")
	k.choose("8 4 0")
	k.await("picture", "4 balls, mean\n\nThe mean of 4.")
	if err := k.cell.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	k.await("controls", "Stopped: run this cell to move the slider again.")
	err := k.cell.Wait()
	if address, _, _ := k.state(""); err != nil || address != "" || k.stderr.Len() > 0 {
		t.Errorf("it ended with %v, still subscribed to %q, and wrote %q", err, address, k.stderr.String())
	}
}

// A server whose browser does not answer must not keep the cell waiting.
func TestExploreWithoutAnAnswer(t *testing.T) {
	k := startExplore(t, "LANDFALL_LIVE=1")
	k.await("controls", "No browser answered: in Jupyter, run this cell to move the slider.")
	if err := k.cell.Wait(); err != nil {
		t.Error(err, k.stderr.String())
	}
	k.await("picture", "12 balls, mean\n\nThe mean of 12.")
}

// Without a browser there is one output, the first state, and nothing to move.
func TestExploreHeadless(t *testing.T) {
	got := inKernel(t, "explore")
	if text := got[protocol.MIMETextPlain]; text != "12 balls, mean\n\nThe mean of 12." {
		t.Errorf("%q is shown", text)
	}
	if markup := got[protocol.MIMETextHTML].(string); strings.Contains(markup, "<script") || strings.Contains(markup, "<input") || !strings.HasSuffix(markup, "<p>The mean of 12.</p>") {
		t.Errorf("%s is shown", markup)
	}
}

func TestExploreWhenTheKernelGoes(t *testing.T) {
	k := startExplore(t, "LANDFALL_LIVE=1")
	k.await("picture", "12 balls, mean\n\nThe mean of 12.")
	if err := k.writer.Close(); err != nil {
		t.Fatal(err)
	}
	var exit *exec.ExitError
	if err := k.cell.Wait(); !errors.As(err, &exit) || !strings.Contains(k.stderr.String(), "the kernel closed the pipe") {
		t.Errorf("%v, %q", err, k.stderr.String())
	}
}

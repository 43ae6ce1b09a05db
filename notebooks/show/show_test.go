//go:build unix

package show_test

import (
	"bytes"
	"encoding/gob"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/janpfeifer/gonb/gonbui/protocol"

	"github.com/landfall-golf/landfall/notebooks/show"
)

// hostile is a name as a file may hold it: markup, quotes, a control
// character, a line end and a mark that turns the text round.
const hostile = "<script>alert('x')</script> \"&\x1b[31m\n\u202E =1+1"

// hostileText and hostileHTML are what must be shown of it.
const (
	hostileText = `<script>alert('x')</script> "&\x1b[31m \u202e =1+1`
	hostileHTML = `&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &#34;&amp;\x1b[31m \u202e =1+1`
)

type picture struct {
	alt string
	err error
}

func (p picture) SVG() ([]byte, error) { return []byte("<svg/>"), p.err }
func (p picture) PNG() ([]byte, error) { return []byte("\x89PNG"), nil }
func (p picture) Alt() string          { return p.alt }

var cells = map[string]func(){
	"text":      func() { show.Text("Ten balls each.", hostile) },
	"sentences": func() { show.Sentences([]string{"One.", hostile}) },
	"table": func() {
		show.Table(show.TableData{
			Caption: "Carry in yards",
			Header:  []string{"stage", "balls", "gain", "p", "note"},
			Rows: [][]string{
				{"old swing", "10", "–", "", "first"},
				{hostile, "1,204", "\u22123.5", "< 0.001"},
				{"näher", "9", "+12.25", "0.4", "2 mishits"},
			},
		})
	},
	"figure":      func() { show.Figure(picture{alt: hostile}) },
	"long":        func() { show.Text(strings.Repeat("x", 10<<20)) },
	"must ok":     func() { show.Text(show.Must("fine", nil)) },
	"must fails":  func() { show.Text(show.Must("", errors.New("line 7: carry \"abc\"\nis not a number"))) },
	"no columns":  func() { show.Table(show.TableData{Caption: "empty"}) },
	"no picture":  func() { show.Figure(nil) },
	"broken":      func() { show.Figure(picture{alt: "dots", err: errors.New("no font")}) },
	"no alt text": func() { show.Figure(picture{alt: " "}) },
	"explore": func() {
		show.Explore(show.Slider{Label: "Balls", From: 3, To: 20, Start: 12}, show.Choice{Label: hostile, Names: []string{"mean", "median"}}, explored)
	},
	"progress": func() {
		tell := show.Progress("Lessons " + hostile)
		for i := range 20 {
			tell(i, 20)
			time.Sleep(100 * time.Millisecond)
		}
		tell(20, 20)
		show.Text("done")
	},
	"quick progress": func() {
		tell := show.Progress("Lessons")
		tell(0, 2)
		tell(2, 2)
		show.Text("done")
	},
	"explore nothing": func() {
		show.Explore(show.Slider{Label: "Balls", From: 3, To: 3, Start: 3}, show.Choice{Label: "Centre", Names: []string{"mean"}}, explored)
	},
	"explore fails": func() {
		show.Explore(show.Slider{Label: "Balls", From: 3, To: 20, Start: 13}, show.Choice{Label: "Centre", Names: []string{"mean"}}, explored)
	},
	"empty header": func() { show.Table(show.TableData{Rows: [][]string{{"a", "1"}}}) },
}

// A cell is a program of its own: gonbui looks for the kernel when the program
// starts, and a failing cell exits. So each test runs this binary as the cell.
func TestMain(m *testing.M) {
	if name := os.Getenv("SHOW_TEST_CELL"); name != "" {
		cells[name]()
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func cell(t *testing.T, name string, env ...string) *exec.Cmd {
	t.Helper()
	if cells[name] == nil {
		t.Fatalf("no cell %q", name)
	}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "SHOW_TEST_CELL="+name, "GONB_PIPE=", "GONB_PIPE_BACK=")
	cmd.Env = append(cmd.Env, env...)
	return cmd
}

// inKernel runs a cell with the test as its kernel and returns the one bundle
// it sent.
func inKernel(t *testing.T, name string) map[protocol.MIMEType]any {
	t.Helper()
	to, back := filepath.Join(t.TempDir(), "to"), filepath.Join(t.TempDir(), "back")
	for _, fifo := range []string{to, back} {
		if err := syscall.Mkfifo(fifo, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := cell(t, name, "GONB_PIPE="+to, "GONB_PIPE_BACK="+back)
	var output bytes.Buffer
	cmd.Stdout, cmd.Stderr = &output, &output
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	// Both ends are opened for reading and writing: opening never blocks then.
	reader, err := os.OpenFile(to, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	writer, err := os.OpenFile(back, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Close()

	// The cell waits for the answer to its sync, so it ends early only when it
	// fails; closing the pipe then ends the decoding below.
	ended := make(chan error, 1)
	go func() {
		ended <- cmd.Wait()
		reader.Close()
	}()

	decoder := gob.NewDecoder(reader)
	var shown map[protocol.MIMEType]any
	for {
		var got protocol.DisplayData
		if err := decoder.Decode(&got); err != nil {
			t.Fatalf("%s: %v, the cell ended with %v\n%s", name, err, <-ended, output.Bytes())
		}
		if value, ok := got.Data[protocol.MIMECommValue]; ok {
			sync := value.(protocol.CommValue)
			ack := protocol.CommValue{Address: protocol.GonbuiSyncAckAddress, Value: sync.Value}
			if err := gob.NewEncoder(writer).Encode(ack); err != nil {
				t.Fatal(err)
			}
			break
		}
		if shown != nil {
			t.Errorf("%s: more than one bundle", name)
		}
		shown = got.Data
	}
	if err := <-ended; err != nil {
		t.Errorf("%s: %v\n%s", name, err, output.Bytes())
	}
	if output.Len() > 0 {
		t.Errorf("%s: also wrote %q", name, output.Bytes())
	}
	return shown
}

func TestBundles(t *testing.T) {
	for name, want := range map[string]map[protocol.MIMEType]string{
		"text": {
			protocol.MIMETextHTML:  "<p>Ten balls each.</p>\n<p>" + hostileHTML + "</p>",
			protocol.MIMETextPlain: "Ten balls each.\n\n" + hostileText,
		},
		"sentences": {
			protocol.MIMETextHTML:  "<ul>\n<li>One.</li>\n<li>" + hostileHTML + "</li>\n</ul>",
			protocol.MIMETextPlain: "- One.\n- " + hostileText,
		},
		"figure": { // PHN2Zy8+ is base64 of <svg/>
			protocol.MIMETextHTML:  `<figure><img alt="` + hostileHTML + `" src="data:image/svg+xml;base64,PHN2Zy8+"></figure>`,
			protocol.MIMETextPlain: hostileText,
			protocol.MIMEImagePNG:  "\x89PNG",
		},
	} {
		got := inKernel(t, name)
		if len(got) != len(want) {
			t.Errorf("%s: %d forms, want %d", name, len(got), len(want))
		}
		for mime, w := range want {
			g, isText := got[mime].(string)
			if raw, ok := got[mime].([]byte); ok && mime == protocol.MIMEImagePNG {
				g, isText = string(raw), true
			}
			if !isText || g != w {
				t.Errorf("%s, %s:\n got %q\nwant %q", name, mime, got[mime], w)
			}
		}
	}
}

func TestTable(t *testing.T) {
	got := inKernel(t, "table")
	markup := got[protocol.MIMETextHTML].(string)
	for _, want := range []string{
		"<caption>Carry in yards</caption>",
		`<th scope="col" style="text-align:left">stage</th>`,
		`<th scope="col" style="text-align:right">balls</th>`,
		`<th scope="row" style="text-align:left">` + hostileHTML + `</th>`,
		`<td style="text-align:right">1,204</td>`,
		`<td style="text-align:right">` + "\u22123.5</td>",
		`<td style="text-align:right">&lt; 0.001</td>`,
		`<td style="text-align:left">2 mishits</td>`,
		`<td style="text-align:left"></td></tr>`, // the cell that the short row lacks
	} {
		if !strings.Contains(markup, want) {
			t.Errorf("no %s in\n%s", want, markup)
		}
	}
	wide := len(hostileText)
	pad := func(s string) string { return s + strings.Repeat(" ", wide-len([]rune(s))) }
	want := "Carry in yards\n\n" +
		pad("stage") + "  balls    gain        p  note\n" +
		strings.Repeat("-", wide) + "  -----  ------  -------  ---------\n" +
		pad("old swing") + "     10       –           first\n" +
		hostileText + "  1,204    \u22123.5  < 0.001\n" +
		pad("näher") + "      9  +12.25      0.4  2 mishits"
	if text := got[protocol.MIMETextPlain]; text != want {
		t.Errorf("got\n%s\nwant\n%s", text, want)
	}
}

func TestLongTextIsCut(t *testing.T) {
	const end = "x… (characters left out: 10483760)" // 10·2²⁰ − 2000
	if got := inKernel(t, "long")[protocol.MIMETextPlain].(string); !strings.HasSuffix(got, end) {
		t.Errorf("got %d bytes ending in %q, want the end %q", len(got), got[max(0, len(got)-60):], end)
	}
}

// Under go run and go test there is no kernel, and the text must still come.
func TestOutsideAKernel(t *testing.T) {
	for name, want := range map[string]string{
		"text":         "Ten balls each.\n\n" + hostileText + "\n",
		"figure":       hostileText + "\n",
		"must ok":      "fine\n",
		"empty header": "\n-  -\na  1\n",
		"explore":      "12 balls, mean\n\nThe mean of 12.\n",
	} {
		out, err := cell(t, name).Output()
		if err != nil || string(out) != want {
			t.Errorf("%s: %v, got %q, want %q", name, err, out, want)
		}
	}
}

func TestFailingCellSaysWhyInOneLine(t *testing.T) {
	for name, want := range map[string]string{
		"must fails":  "This cell stopped: line 7: carry \"abc\" is not a number\n",
		"no columns":  "This cell stopped: show.Table: the table has no columns; give it a Header or Rows\n",
		"no picture":  "This cell stopped: show.Figure: there is no figure\n",
		"broken":      "This cell stopped: show.Figure: drawing the SVG: no font\n",
		"no alt text": "This cell stopped: show.Figure: the figure has no alt text; say in words what it shows\n",

		"explore nothing": "This cell stopped: show.Explore: \"Balls\" runs from 3 to 3 and starts at 3, \"Centre\" has 1 names: there is nothing to choose\n",
		"explore fails":   "This cell stopped: show.Explore: no ball 13\n",
	} {
		cmd := cell(t, name)
		var stdout, stderr bytes.Buffer
		cmd.Stdout, cmd.Stderr = &stdout, &stderr
		err := cmd.Run()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != 1 {
			t.Errorf("%s: %v, want exit status 1", name, err)
		}
		if stdout.Len() > 0 || stderr.String() != want {
			t.Errorf("%s: stdout %q, stderr %q, want %q", name, stdout.String(), stderr.String(), want)
		}
	}
}

package kernel

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

func collect(t *testing.T, messages ...message) nbformat.Cell {
	t.Helper()
	cell := nbformat.Cell{Outputs: []nbformat.Output{{Type: nbformat.Stream, Text: "of an earlier run"}}, ExecutionCount: 9}
	c := newCollector(&cell)
	for _, m := range messages {
		if err := c.add(m); err != nil {
			t.Fatal(err)
		}
	}
	c.flush()
	return cell
}

func stream(name, text string) message {
	content, _ := json.Marshal(map[string]string{"name": name, "text": text})
	return message{Type: "stream", Content: content}
}

func display(kind, content string) message {
	return message{Type: kind, Content: json.RawMessage(content)}
}

func TestStreamsAreJoined(t *testing.T) {
	cell := collect(t, stream("stdout", "a"), stream("stdout", "b\n"), stream("stderr", "c"), stream("stdout", "d"),
		display("display_data", `{"data": {"text/plain": "e", "x": 1.50}, "metadata": {}}`), stream("stdout", "f"),
		display("status", `{"execution_state": "idle"}`))
	want := []string{"ab\n", "c", "d", "", "f"}
	if len(cell.Outputs) != len(want) {
		t.Fatalf("outputs %+v, want %q", cell.Outputs, want)
	}
	for i, text := range want {
		if cell.Outputs[i].Text != text {
			t.Errorf("output %d: %q, want %q", i+1, cell.Outputs[i].Text, text)
		}
	}
	if got := cell.Outputs[3].Data["x"]; got != json.Number("1.50") {
		t.Errorf("number %v, want it as it was sent", got)
	}
}

// A late piece of a stream joins the output that was already closed.
func TestLateStream(t *testing.T) {
	cell := nbformat.Cell{}
	c := newCollector(&cell)
	for _, text := range []string{"a", "b"} {
		if err := c.add(stream("stdout", text)); err != nil {
			t.Fatal(err)
		}
		c.flush()
	}
	if len(cell.Outputs) != 1 || cell.Outputs[0].Text != "ab" {
		t.Errorf("outputs %+v, want one with ab", cell.Outputs)
	}
}

func TestDisplayIsUpdated(t *testing.T) {
	cell := collect(t,
		display("display_data", `{"data": {"text/plain": "0 %"}, "metadata": {}, "transient": {"display_id": "bar"}}`),
		display("display_data", `{"data": {"text/plain": "other"}, "metadata": {}}`),
		display("update_display_data", `{"data": {"text/plain": "100 %"}, "metadata": {}, "transient": {"display_id": "bar"}}`))
	if len(cell.Outputs) != 2 || cell.Outputs[0].Data["text/plain"] != "100 %" || cell.Outputs[1].Data["text/plain"] != "other" {
		t.Errorf("outputs %+v, want 100 %% and other", cell.Outputs)
	}
}

// The expected texts are those of coalesce_streams in nbconvert 6.5.3, which
// substitutes "" for `.*\r(?=[^\n])`.
func TestCarriageReturns(t *testing.T) {
	for text, want := range map[string]string{
		"10 %\r20 %\r30 %\n": "30 %\n",
		"a\rb\nc\rd":         "b\nd",
		"dos\r\nline\r\n":    "dos\r\nline\r\n",
		"a\rb\r":             "b\r",
		"a\rb\r\nc":          "b\r\nc",
		"\r":                 "\r",
		"\rx":                "x",
	} {
		if got := overwrite(text); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}

func TestOutputIsCapped(t *testing.T) {
	line := strings.Repeat("x", 999) + "\n"
	cell := nbformat.Cell{}
	c := newCollector(&cell)
	within(t, 5*time.Second, func() {
		for range 50_000 { // 50 MB
			if err := c.add(stream("stdout", line)); err != nil {
				t.Fatal(err)
			}
		}
		c.flush()
	})
	if len(cell.Outputs) != 2 {
		t.Fatalf("%d outputs, want 2", len(cell.Outputs))
	}
	// A message is longer than its text, so that less than the limit gets in.
	if n := len(cell.Outputs[0].Text); n > maxOutput || n < maxOutput*9/10 {
		t.Errorf("%d bytes were kept, the limit is %d", n, maxOutput)
	}
	if got := cell.Outputs[1]; got.Name != "stderr" || !strings.Contains(got.Text, "left out: a cell may have 8 MB") {
		t.Errorf("the reader is told %q on %s", got.Text, got.Name)
	}
}

func TestStderrLog(t *testing.T) {
	var told []string
	l := &stderrLog{notice: func(text string) { told = append(told, text) }}
	for _, text := range []string{"land", "fall: building\nI1125 14:13:26.693692   24515 main.go:191] all is well\n",
		"E1125 14:13:26.7   24515 main.go:1] \x1b[31mno\x1b[0m\n", strings.Repeat("x", 2*logSize), "\nend"} {
		if _, err := l.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if len(told) != 1 || told[0] != "building" {
		t.Errorf("notices %q, want building", told)
	}
	if got := l.String(); len(got) > logSize || !strings.HasSuffix(got, "xx\nend") {
		t.Errorf("%d bytes are kept that end in %q", len(got), got[len(got)-10:])
	}
	l.forget()
	l.Write([]byte("I1125 14:13:26.693692   24515 main.go:191] all is well\n\x1b[31mE1125 trouble\x1b[0m\n"))
	if got := l.String(); got != "E1125 trouble" {
		t.Errorf("the log shows %q, want only the trouble", got)
	}
}

func TestClean(t *testing.T) {
	const panicked = "panic: boom at 0xc000012345 [recovered]\n\ngoroutine 1 [running]:\nmain.at({0x0?, 0xc00001c0f8?, 0x2}, 0x3)\n" +
		"\t\x1b[7m[[ Cell [3] Line 2 ]]\x1b[0m /var/folders/x1/T/landfall-359232656/t/gonb_68f11634/main.go:12 +0x65\nf(1, 0x2)"
	const want = "panic: boom at 0x… [recovered]\n\ngoroutine 1 [running]:\nmain.at(...)\n\t[[ Cell [3] Line 2 ]] main.go:12\nf(1, 0x2)"
	if got := clean(panicked); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

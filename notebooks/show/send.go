package show

import (
	"fmt"
	"os"

	"github.com/janpfeifer/gonb/gonbui/protocol"
)

// Must returns v, or ends the cell with a one-line message if err is not nil:
//
//	lesson := show.Must(lesson.Read(file, lesson.ReadOptions{}))
func Must[T any](v T, err error) T {
	if err != nil {
		stop(err)
	}
	return v
}

// stop ends the cell's program. The kernel reports the exit status, and the
// line on standard error says why.
func stop(err error) {
	fmt.Fprintln(os.Stderr, "This cell stopped:", clean(err.Error(), longest))
	os.Exit(1)
}

// A bundle is one output in several forms; the reader's program picks one.
type bundle struct {
	html string
	png  []byte // nil: none
	text string
	id   string // of an output that may be replaced; "" is one that stays
}

// send hands b to the kernel and waits until it has arrived, since output
// still on its way when a cell's program ends is lost.
func send(b bundle) {
	kernel, err := kernelPipe()
	if err != nil {
		stop(fmt.Errorf("the kernel can't be reached: %w", err))
	}
	if kernel == nil {
		fmt.Println(b.text)
		return
	}
	data := map[protocol.MIMEType]any{
		protocol.MIMETextHTML:  b.html,
		protocol.MIMETextPlain: b.text,
	}
	if b.png != nil {
		data[protocol.MIMEImagePNG] = b.png
	}
	if err := kernel.send(data, b.id); err != nil {
		stop(fmt.Errorf("the output did not reach the kernel: %w", err))
	}
}

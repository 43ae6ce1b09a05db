package show

import (
	"encoding/gob"
	"errors"
	"fmt"
	"os"
	"sync"

	"github.com/janpfeifer/gonb/gonbui/protocol"
)

// A pipe carries outputs from a cell's program to its kernel, and receipts and what
// a reader chose back. It is written here, on the kernel's own message types, since
// every cell links what this package imports: the kernel's library brings a logger,
// sockets and TLS along, and cells with it take a fifth longer to start. Its widgets
// wait for ever where no browser answers.
type pipe struct {
	to       *gob.Encoder
	sent     int
	receipts chan int
	chosen   chan string // by the reader, in any order: the kernel may change it
	closed   chan struct{}
	err      error // why it is closed
}

// chosenAtOnce is more than the kernel keeps.
const chosenAtOnce = 256

// kernelPipe opens the pipe to the kernel, once. Nil without an error: there is
// no kernel.
var kernelPipe = sync.OnceValues(func() (*pipe, error) {
	name := os.Getenv(protocol.GONB_PIPE_ENV)
	if name == "" {
		return nil, nil
	}
	// In the kernel's order: each end waits until the other is open.
	to, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return nil, err
	}
	back, err := os.Open(os.Getenv(protocol.GONB_PIPE_BACK_ENV))
	if err != nil {
		return nil, err
	}
	p := &pipe{to: gob.NewEncoder(to), receipts: make(chan int, 1), chosen: make(chan string, chosenAtOnce), closed: make(chan struct{})}
	go p.read(gob.NewDecoder(back))
	return p, nil
})

// read sorts what comes back, until the pipe is closed. It never waits for anybody,
// so that a receipt behind a value and a value behind a receipt both arrive.
func (p *pipe) read(back *gob.Decoder) {
	defer close(p.closed)
	for {
		var answer protocol.CommValue
		if p.err = back.Decode(&answer); p.err != nil {
			return
		}
		if answer.Address == protocol.GonbuiSyncAckAddress {
			n, ok := answer.Value.(int)
			if !ok {
				p.err = fmt.Errorf("the kernel answered %v, no number of an output", answer.Value)
				return
			}
			select {
			case <-p.receipts: // one that nobody waits for any more
			default:
			}
			p.receipts <- n
			continue
		}
		if value, ok := answer.Value.(string); ok {
			select {
			case p.chosen <- value:
			default: // the program does not look; the kernel drops them likewise
			}
		}
	}
}

// message writes one message, without waiting.
func (p *pipe) message(kind protocol.MIMEType, content any) error {
	return p.to.Encode(protocol.DisplayData{Data: map[protocol.MIMEType]any{kind: content}})
}

// send writes data and returns when the kernel says that it has read it. What was
// sent before under the same id, if there is one, is replaced.
func (p *pipe) send(data map[protocol.MIMEType]any, id string) error {
	if err := p.to.Encode(protocol.DisplayData{Data: data, DisplayID: id}); err != nil {
		return err
	}
	return p.settle()
}

// settle returns when the kernel says that it has read all that was written.
func (p *pipe) settle() error {
	p.sent++
	if err := p.message(protocol.MIMECommValue, protocol.CommValue{Address: protocol.GonbuiSyncAddress, Value: p.sent}); err != nil {
		return err
	}
	select {
	case n := <-p.receipts:
		if n != p.sent {
			return fmt.Errorf("the kernel answered with the receipt of output %d, not of %d", n, p.sent)
		}
		return nil
	case <-p.closed:
		return errors.Join(errors.New("the kernel closed the pipe"), p.err)
	}
}

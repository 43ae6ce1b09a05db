package show

import (
	"encoding/gob"
	"fmt"
	"os"
	"sync"

	"github.com/janpfeifer/gonb/gonbui/protocol"
)

// A pipe carries outputs from a cell's program to its kernel and answers back.
// It is written here, on the kernel's own message types, since every cell links
// what this package imports: the kernel's library brings a logger, sockets and
// TLS along, and cells with it take a fifth longer to start.
type pipe struct {
	to   *gob.Encoder
	back *gob.Decoder
	sent int
}

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
	return &pipe{to: gob.NewEncoder(to), back: gob.NewDecoder(back)}, nil
})

// send writes data and returns when the kernel says that it has read it.
func (p *pipe) send(data map[protocol.MIMEType]any) error {
	if err := p.to.Encode(protocol.DisplayData{Data: data}); err != nil {
		return err
	}
	p.sent++
	request := protocol.CommValue{Address: protocol.GonbuiSyncAddress, Value: p.sent}
	if err := p.to.Encode(protocol.DisplayData{Data: map[protocol.MIMEType]any{protocol.MIMECommValue: request}}); err != nil {
		return err
	}
	var answer protocol.CommValue
	if err := p.back.Decode(&answer); err != nil {
		return err
	}
	if answer.Address != protocol.GonbuiSyncAckAddress || answer.Value != any(p.sent) {
		return fmt.Errorf("the kernel answered %v at %q, not the receipt of output %d", answer.Value, answer.Address, p.sent)
	}
	return nil
}

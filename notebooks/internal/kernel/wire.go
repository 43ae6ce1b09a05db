package kernel

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"time"

	"github.com/go-zeromq/zmq4"
)

// A message is one message of the kernel, as far as it matters here.
type message struct {
	Type    string
	Parent  string // id of the request it belongs to
	Content json.RawMessage
}

// A wire is the connection to a kernel: requests go out on shell and control,
// replies come in on shell, and everything else on iopub.
type wire struct {
	shell, control, iopub zmq4.Socket
	replies, published    chan message
	session               string
	done                  context.Context
	cancel                context.CancelFunc
}

// dial connects to the sockets as soon as the kernel has made them. It gives up
// when stop is closed.
func dial(p *process, stop <-chan struct{}) (*wire, error) {
	ctx, cancel := context.WithCancel(context.Background())
	session := newID()
	options := []zmq4.Option{
		// The kernel answers requests on control through shell, by identity.
		zmq4.WithID(zmq4.SocketIdentity(session)),
		zmq4.WithDialerMaxRetries(0),
		zmq4.WithLogger(log.New(io.Discard, "", 0)),
	}
	w := &wire{
		shell: zmq4.NewDealer(ctx, options...), control: zmq4.NewDealer(ctx, options...), iopub: zmq4.NewSub(ctx, options...),
		replies: make(chan message), published: make(chan message),
		session: session, done: ctx, cancel: cancel,
	}
	if err := w.iopub.SetOption(zmq4.OptionSubscribe, ""); err != nil {
		return nil, errors.Join(err, w.close())
	}
	for _, s := range []struct {
		socket zmq4.Socket
		port   int
	}{{w.shell, shellPort}, {w.control, controlPort}, {w.iopub, iopubPort}} {
		for s.socket.Dial(fmt.Sprintf("ipc://%s/s-%d", p.dir, s.port)) != nil {
			select {
			case <-stop:
				return nil, errors.Join(errors.New("can't connect to the kernel"), w.close())
			case <-time.After(10 * time.Millisecond):
			}
		}
	}
	go w.receive(w.shell, w.replies)
	go w.receive(w.iopub, w.published)
	return w, nil
}

// close needs both calls: without the first, goroutines of the sockets stay.
func (w *wire) close() error {
	w.cancel()
	return errors.Join(w.shell.Close(), w.control.Close(), w.iopub.Close())
}

// delimiter separates the addresses of a message from its parts: signature,
// header, parent's header, metadata, content.
var delimiter = []byte("<IDS|MSG>")

// send sends a request and returns its id. That it returns no error does not
// mean that there is still a kernel.
func (w *wire) send(s zmq4.Socket, kind string, content any) (string, error) {
	id := newID()
	header, err := json.Marshal(map[string]string{
		"msg_id": id, "msg_type": kind, "session": w.session, "username": "landfall",
		"version": "5.4", "date": time.Now().UTC().Format(time.RFC3339Nano),
	})
	if err != nil {
		return "", err
	}
	body, err := json.Marshal(content)
	if err != nil {
		return "", err
	}
	empty := []byte("{}")
	return id, s.SendMulti(zmq4.NewMsgFrom(delimiter, nil, header, empty, empty, body))
}

// receive passes on the messages of a socket until the wire is closed. What is
// not a message of the protocol is dropped.
func (w *wire) receive(s zmq4.Socket, to chan<- message) {
	for {
		raw, err := s.Recv()
		if err != nil {
			return // closed by close, or by the kernel's end, which process.died tells
		}
		m, ok := parse(raw.Frames)
		if !ok {
			continue
		}
		select {
		case to <- m:
		case <-w.done.Done():
			return
		}
	}
}

func parse(frames [][]byte) (message, bool) {
	for i, frame := range frames {
		if !bytes.Equal(frame, delimiter) || len(frames) < i+6 {
			continue
		}
		var header, parent struct {
			ID   string `json:"msg_id"`
			Type string `json:"msg_type"`
		}
		err := errors.Join(json.Unmarshal(frames[i+2], &header), json.Unmarshal(frames[i+3], &parent))
		return message{header.Type, parent.ID, frames[i+5]}, err == nil
	}
	return message{}, false
}

func newID() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

package kernel

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

const (
	// interruptGrace is how long an interrupted cell may take to end. The
	// kernel itself kills the cell's program 5 s after the interrupt, and may
	// not even notice an interrupt while it compiles.
	interruptGrace = 7 * time.Second

	// cancelGrace is the same when the caller wants to stop: nobody waits for
	// the cell's last words then.
	cancelGrace = time.Second

	// drainTime is how long to wait for output that comes after the end of
	// its cell.
	drainTime = 20 * time.Millisecond
)

// execute executes one cell. The cell is done when its reply and the kernel's
// return to idle have come, in either order.
func (k *kernel) execute(ctx context.Context, cell *nbformat.Cell, timeout time.Duration) error {
	if err := ctxError(ctx); err != nil {
		return err
	}
	out := newCollector(cell)
	defer out.flush()
	id, err := k.send(k.shell, "execute_request", map[string]any{
		"code": cell.Source, "silent": false, "store_history": true, "stop_on_error": true,
		"allow_stdin": false, "user_expressions": struct{}{},
	})
	if err != nil {
		return err
	}
	k.outputs[id] = out

	var reply *executeReply
	var cause error // why the cell was interrupted
	late := time.NewTimer(timeout)
	defer late.Stop()
	canceled := ctx.Done()
	for idle := false; reply == nil || !idle; {
		select {
		case m := <-k.replies:
			if m.Parent == id && m.Type == "execute_reply" {
				reply = &executeReply{}
				if err := json.Unmarshal(m.Content, reply); err != nil {
					return fmt.Errorf("the kernel sent a reply that can't be read: %w", err)
				}
			}
		case m := <-k.published:
			if err := k.collect(m); err != nil {
				return err
			}
			idle = idle || isIdle(m) && m.Parent == id
		case <-k.died:
			if cause == nil {
				k.drain()
				cause = diedError(k.process, out)
			}
			return cause
		case <-canceled:
			canceled = nil
			cause = ctxError(ctx)
			k.interrupt()
			late.Reset(cancelGrace)
		case <-late.C:
			if cause != nil {
				return cause
			}
			cause = timeoutError(timeout)
			k.interrupt()
			late.Reset(interruptGrace)
		}
	}
	out.flush()
	switch {
	case cause != nil:
		return cause
	case reply.Status == "error":
		return failedError(*reply, out)
	}
	return nil
}

type executeReply struct {
	Status     string   `json:"status"`
	ErrorValue string   `json:"evalue"`
	Traceback  []string `json:"traceback"`
}

// interrupt asks the kernel to end the cell that runs. Whether it does shows in
// the reply to that cell.
func (k *kernel) interrupt() {
	_, _ = k.send(k.control, "interrupt_request", struct{}{})
}

// collect adds a published message to the cell it belongs to, which may be an
// earlier one.
func (k *kernel) collect(m message) error {
	if out, ok := k.outputs[m.Parent]; ok {
		return out.add(m)
	}
	return nil
}

// drain waits a moment for output that is still on its way.
func (k *kernel) drain() {
	end := time.After(drainTime)
	for {
		select {
		case m := <-k.published:
			// The run is over: a message that can't be read changes nothing.
			_ = k.collect(m)
		case <-end:
			for _, out := range k.outputs {
				out.flush()
			}
			return
		}
	}
}

func isIdle(m message) bool {
	var c struct {
		State string `json:"execution_state"`
	}
	return m.Type == "status" && json.Unmarshal(m.Content, &c) == nil && c.State == "idle"
}

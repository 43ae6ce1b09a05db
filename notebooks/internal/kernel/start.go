package kernel

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// startLimit allows for a slow machine that has to fetch and build the kernel.
const startLimit = 15 * time.Minute

// A kernel is a process that is ready to execute cells.
type kernel struct {
	*process
	*wire
	languageInfo map[string]any
	outputs      map[string]*collector // by the id of the request
}

// start starts a kernel and waits until it answers.
func start(ctx context.Context, root string, imports []string, notice func(string)) (_ *kernel, err error) {
	if err := ctxError(ctx); err != nil {
		return nil, err
	}
	p, err := startProcess(root, imports, notice)
	if err != nil {
		return nil, err
	}
	k := &kernel{process: p, outputs: map[string]*collector{}}
	limited, cancel := context.WithTimeoutCause(ctx, startLimit, fmt.Errorf("the kernel did not start within %v", startLimit))
	defer cancel()
	// Killing the kernel makes every call below return.
	stop := context.AfterFunc(limited, p.kill)
	defer stop()
	defer func() {
		if err == nil {
			return
		}
		if limited.Err() != nil {
			err = ctxError(limited)
		}
		err = errors.Join(err, k.close())
	}()
	if k.wire, err = dial(p, p.died); err == nil {
		err = k.handshake()
	}
	if err != nil && isClosed(p.died) {
		err = fmt.Errorf("the Go kernel ended before it was ready (%v):\n%s", endOf(p), p.log)
	}
	p.log.forget() // complaints of a start that went well only mislead later
	return k, err
}

// handshake asks for the kernel's description until the answer has come on
// shell, and the request's end on iopub: only then are both connected.
func (k *kernel) handshake() error {
	asked := map[string]bool{}
	ask := func() error {
		id, err := k.send(k.shell, "kernel_info_request", struct{}{})
		asked[id] = true
		return err
	}
	if err := ask(); err != nil {
		return err
	}
	again := time.NewTicker(500 * time.Millisecond)
	defer again.Stop()
	for idle := false; k.languageInfo == nil || !idle; {
		select {
		case m := <-k.replies:
			if m.Type != "kernel_info_reply" {
				continue
			}
			var info struct {
				LanguageInfo map[string]any `json:"language_info"`
			}
			if err := json.Unmarshal(m.Content, &info); err != nil || info.LanguageInfo == nil {
				return fmt.Errorf("the kernel does not describe its language: %s", m.Content)
			}
			k.languageInfo = info.LanguageInfo
		case m := <-k.published:
			idle = idle || isIdle(m) && asked[m.Parent]
		case <-again.C:
			if err := ask(); err != nil {
				return err
			}
		case <-k.died:
			return errors.New("the kernel ended")
		}
	}
	return nil
}

func (k *kernel) close() error {
	err := k.process.remove()
	if k.wire != nil {
		// The peer is gone, so an error here tells nothing.
		_ = k.wire.close()
	}
	return err
}

func isClosed(c <-chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}

func endOf(p *process) string {
	if p.err == nil {
		return "exit status 0"
	}
	return p.err.Error()
}

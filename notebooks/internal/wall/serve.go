package wall

import (
	"context"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
	"github.com/landfall-golf/landfall/notebooks/review"
)

//go:embed wall.html
var wallPage []byte

//go:embed wall.js
var wallScript []byte

// policy lets the page run its own script, ask its own server and show pictures
// that it was given; nothing else.
const policy = "default-src 'none'; script-src 'self'; connect-src 'self'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// longest is the number of characters shown of one text.
const longest = 600

// Watch follows the lesson of s and serves its view on a port of this machine
// that the system chooses, until the context ends. It calls ready with the
// address.
//
// Errors: a source without a file, or with a descriptor in its place; those of the network.
func Watch(ctx context.Context, s review.Source, ready func(address string)) error {
	if s.File == "" {
		return errors.New("watching takes a file: give it after -lesson")
	}
	if strings.EqualFold(filepath.Ext(s.File), ".json") {
		return errors.New("watching takes the file that the device writes, and not a description of it: give the CSV after -lesson")
	}
	f, err := newFollower(s)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return errors.Join(err, f.close())
	}
	w := &server{host: listener.Addr().String(), changed: make(chan struct{})}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	web := &http.Server{
		Handler: w, ReadHeaderTimeout: 5 * time.Second,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	var following sync.WaitGroup
	following.Go(func() { w.follow(ctx, f) })
	context.AfterFunc(ctx, func() { _ = web.Close() })
	ready("http://" + w.host + "/")
	err = web.Serve(listener)
	stop()
	following.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	return errors.Join(err, f.close())
}

// A server hands out the latest view.
type server struct {
	host string

	mu      sync.Mutex
	version int
	view    View
	changed chan struct{} // closed and made anew with every view
}

func (w *server) follow(ctx context.Context, f *follower) {
	w.set(f.view)
	tick := time.NewTicker(every)
	defer tick.Stop()
	for {
		if view, other := f.look(ctx, time.Now()); other {
			w.set(view)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

func (w *server) set(v View) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.version++
	w.view = v
	close(w.changed)
	w.changed = make(chan struct{})
}

func (w *server) latest() (View, int, <-chan struct{}) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.view, w.version, w.changed
}

func (w *server) ServeHTTP(out http.ResponseWriter, in *http.Request) {
	h := out.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-store")
	if !w.ours(in) {
		http.Error(out, "this page is for this machine alone", http.StatusForbidden)
		return
	}
	if in.Method != http.MethodGet {
		h.Set("Allow", http.MethodGet)
		http.Error(out, "only GET", http.StatusMethodNotAllowed)
		return
	}
	switch in.URL.Path {
	case "/":
		h.Set("Content-Type", "text/html; charset=utf-8")
		_, _ = out.Write(wallPage)
	case "/wall.js":
		h.Set("Content-Type", "text/javascript; charset=utf-8")
		_, _ = out.Write(wallScript)
	case "/views":
		w.views(out, in)
	default:
		http.NotFound(out, in)
	}
}

// ours tells whether a request comes from this page or from the address line of
// a browser: by the name it was sent to, so that no foreign name can be pointed
// at this machine, and by where the browser says that it comes from.
func (w *server) ours(in *http.Request) bool {
	if in.Host != w.host {
		return false
	}
	if origin := in.Header.Get("Origin"); origin != "" && origin != "http://"+w.host {
		return false
	}
	switch in.Header.Get("Sec-Fetch-Site") {
	case "", "none", "same-origin":
		return true
	}
	return false
}

// views sends the latest view and then each new one, as server-sent events.
func (w *server) views(out http.ResponseWriter, in *http.Request) {
	out.Header().Set("Content-Type", "text/event-stream")
	control := http.NewResponseController(out)
	for sent := 0; ; {
		view, version, changed := w.latest()
		if version != sent {
			text, err := json.Marshal(view.event())
			if err != nil {
				return
			}
			if _, err := fmt.Fprintf(out, "data: %s\n\n", text); err != nil {
				return
			}
			if err := control.Flush(); err != nil {
				return
			}
			sent = version
		}
		select {
		case <-in.Context().Done():
			return
		case <-changed:
		}
	}
}

// An event is a view as the page's script takes it: text alone, and a picture as
// an address.
type event struct {
	Says    string `json:"says"`
	Picture string `json:"picture"`
	Alt     string `json:"alt"`
	Balls   int    `json:"balls"`
	Trouble string `json:"trouble"`
}

func (v View) event() event {
	clean := func(s string) string { return plaintext.Cut(plaintext.OneLine(s), longest) }
	e := event{Says: clean(v.Says), Alt: plaintext.Cut(plaintext.OneLine(v.Alt), 2000), Balls: v.Balls, Trouble: clean(v.Trouble)}
	if v.SVG != nil {
		e.Picture = "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(v.SVG)
	}
	return e
}

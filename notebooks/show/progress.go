package show

import (
	"fmt"
	"html"
	"os"
	"sync"
	"time"
)

const (
	patience = time.Second            // shorter work shows no progress
	renewal  = 250 * time.Millisecond // between two updates at least
)

// Progress returns a function to be told how far a long computation has got, such as
// compare.Options.Progress takes: how many parts are done, of how many. A reader sees
// it in the notebook from the second second on, always in the same place, and nothing
// is left of it at the end. Where no browser is there it shows nothing.
//
// The function may be called from several goroutines at once.
func Progress(what string) func(done, total int) {
	kernel, err := kernelPipe()
	if err != nil || kernel == nil || os.Getenv(liveVariable) == "" {
		return func(int, int) {}
	}
	var mu sync.Mutex
	begin := time.Now()
	last, shown := begin, false
	id := fmt.Sprintf("landfall-progress-%d", begin.UnixNano())
	return func(done, total int) {
		mu.Lock()
		defer mu.Unlock()
		now := time.Now()
		switch {
		case done >= total && shown:
			shown = false
			send(bundle{id: id})
		case done < total && now.Sub(begin) >= patience && now.Sub(last) >= renewal:
			last, shown = now, true
			text := clean(fmt.Sprintf("%s: %d of %d", what, done, total), longestCell)
			send(bundle{html: "<p>" + html.EscapeString(text) + "</p>", text: text, id: id})
		}
	}
}

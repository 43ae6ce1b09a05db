package kernel

import (
	"bytes"
	"regexp"
	"strings"
	"sync"
)

// logSize is how much of the kernel's own messages is kept for an error.
const logSize = 8 << 10

// A stderrLog keeps the end of what the kernel writes to stderr, and passes on
// the notices among it.
type stderrLog struct {
	mu     sync.Mutex
	tail   []byte
	line   []byte // the line that is not complete yet
	notice func(string)
}

// noticePrefix marks the lines kernel.sh writes for people.
const noticePrefix = "landfall: "

func (l *stderrLog) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.tail = append(l.tail, p...)
	if extra := len(l.tail) - logSize; extra > 0 {
		l.tail = append(l.tail[:0], l.tail[extra:]...)
	}
	l.line = append(l.line, p...)
	for {
		line, rest, ok := bytes.Cut(l.line, []byte("\n"))
		if !ok {
			break
		}
		if text, ok := strings.CutPrefix(string(line), noticePrefix); ok {
			l.notice(text)
		}
		l.line = rest
	}
	if len(l.line) > logSize {
		l.line = nil // no notice is that long
	}
	return len(p), nil
}

// forget drops what was written until now.
func (l *stderrLog) forget() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.tail = nil
}

// String returns the end of the log, without what the kernel says when all is
// well: its lines marked I, for information.
func (l *stderrLog) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	var kept strings.Builder
	for line := range strings.Lines(clean(string(l.tail))) {
		if !information.MatchString(line) {
			kept.WriteString(line)
		}
	}
	return strings.TrimSpace(kept.String())
}

var information = regexp.MustCompile(`^I\d{4} \d\d:\d\d:\d\d`)

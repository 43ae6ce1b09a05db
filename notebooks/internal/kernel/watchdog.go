package kernel

import (
	"fmt"
	"io"
	"os/exec"
)

// watchdogScript waits for the end of its input, which comes when this program
// dies, however it dies. Then it kills the kernel's process group and removes
// the directory $1. A shell is used rather than this program itself, which
// would have to recognise that it runs as its own watchdog.
const watchdogScript = `
trap '' HUP INT TERM
read -r group
if read -r done; then exit; fi
if [ -n "$group" ]; then kill -s KILL -- "-$group"; fi
for try in 1 2 3 4 5; do
	if rm -rf "$1"; then exit; fi
	sleep 1
done
`

// A watchdog cleans up after this program when it can't do so itself.
type watchdog struct {
	cmd  *exec.Cmd
	pipe io.WriteCloser
}

func newWatchdog(dir string) (*watchdog, error) {
	cmd := exec.Command("/bin/sh", "-c", watchdogScript, "watchdog", dir)
	if err := setGroup(cmd); err != nil {
		return nil, err
	}
	pipe, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("can't start the kernel's watchdog: %w", err)
	}
	return &watchdog{cmd, pipe}, nil
}

// guard tells the watchdog the leader of the group to kill.
func (w *watchdog) guard(leader int) error {
	_, err := fmt.Fprintln(w.pipe, leader)
	return err
}

// dismiss ends the watchdog after the clean-up. A kernel that never started
// leaves the first line empty.
func (w *watchdog) dismiss(guarding bool) {
	lines := "done\n"
	if !guarding {
		lines = "\ndone\n"
	}
	_, _ = io.WriteString(w.pipe, lines)
	_ = w.pipe.Close()
	_ = w.cmd.Wait()
}

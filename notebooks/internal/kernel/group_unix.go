//go:build unix

package kernel

import (
	"os/exec"
	"syscall"
)

// setGroup makes cmd the leader of a process group of its own: what it starts
// can then be killed with it, and a Ctrl-C at the terminal does not reach it.
func setGroup(cmd *exec.Cmd) error {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	return nil
}

// killGroup kills the group of a leader. A group that is gone is fine.
func killGroup(leader int) { _ = syscall.Kill(-leader, syscall.SIGKILL) }

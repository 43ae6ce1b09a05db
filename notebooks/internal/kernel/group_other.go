//go:build !unix

package kernel

import (
	"errors"
	"os/exec"
)

func setGroup(*exec.Cmd) error {
	return errors.New("the Go kernel needs Linux or macOS; on Windows, use the Windows Subsystem for Linux")
}

func killGroup(int) {}

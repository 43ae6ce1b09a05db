package kernel

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// A process is the running kernel with its private directory:
//
//	kernel-….json  the connection file
//	s-1 … s-5      the sockets
//	t              the kernel's own TMPDIR
type process struct {
	dir  string
	cmd  *exec.Cmd
	dog  *watchdog
	log  *stderrLog
	died chan struct{} // closed when the kernel has ended
	err  error         // why, once died is closed
}

// Numbers of the sockets. They are "ports" in the connection file, and for the
// ipc transport the ends of their paths.
const (
	shellPort = 1 + iota
	controlPort
	stdinPort
	iopubPort
	heartbeatPort
)

// maxSocketPath is the shortest limit for the path of a Unix socket among the
// systems Go runs on, that of macOS.
const maxSocketPath = 103

func startProcess(root string, imports []string, notice func(string)) (p *process, err error) {
	parent := os.TempDir()
	if len(parent)+len("/landfall-0123456789/s-5") > maxSocketPath {
		parent = "/tmp"
	}
	dir, err := os.MkdirTemp(parent, "landfall-") // with permissions 0700
	if err != nil {
		return nil, err
	}
	p = &process{dir: dir, log: &stderrLog{notice: notice}, died: make(chan struct{})}
	defer func() {
		if err != nil {
			err = errors.Join(err, p.remove())
		}
	}()
	if p.dog, err = newWatchdog(dir); err != nil {
		return p, err
	}
	connection, err := p.writeConnection()
	if err != nil {
		return p, err
	}
	tmp := filepath.Join(dir, "t")
	if err := os.Mkdir(tmp, 0o700); err != nil {
		return p, err
	}
	argv, err := kernelCommand(filepath.Join(root, "notebooks", "kernels", "landfall"), connection)
	if err != nil {
		return p, err
	}
	cmd := exec.Command(argv[0], argv[1:]...)
	cmd.Dir = filepath.Join(root, "notebooks")
	cmd.Env = append(os.Environ(), "TMPDIR="+tmp, "LANDFALL_IMPORTS="+strings.Join(imports, " "))
	cmd.Stdout, cmd.Stderr = p.log, p.log
	cmd.WaitDelay = time.Second // a grandchild may hold stderr open
	if err := setGroup(cmd); err != nil {
		return p, err
	}
	if err := cmd.Start(); err != nil {
		return p, fmt.Errorf("can't start the Go kernel: %w", err)
	}
	p.cmd = cmd
	go func() {
		p.err = cmd.Wait()
		close(p.died)
	}()
	return p, p.dog.guard(cmd.Process.Pid)
}

// writeConnection writes the connection file. The kernel takes its own name
// from the file's. There is no key: who can reach the sockets can read it too.
func (p *process) writeConnection() (string, error) {
	content, err := json.Marshal(map[string]any{
		"transport": "ipc", "ip": filepath.Join(p.dir, "s"), "key": "", "signature_scheme": "hmac-sha256",
		"shell_port": shellPort, "control_port": controlPort, "stdin_port": stdinPort,
		"iopub_port": iopubPort, "hb_port": heartbeatPort,
	})
	if err != nil {
		return "", err
	}
	id := newID()
	path := filepath.Join(p.dir, "kernel-"+id[:8]+"-"+id[8:16]+".json")
	return path, os.WriteFile(path, content, 0o600)
}

// kernelCommand returns the command line of a kernelspec.
func kernelCommand(spec, connection string) ([]string, error) {
	content, err := os.ReadFile(filepath.Join(spec, "kernel.json"))
	if err != nil {
		return nil, fmt.Errorf("the directory of the module is needed: %w", err)
	}
	var kernelspec struct{ Argv []string }
	if err := json.Unmarshal(content, &kernelspec); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(spec, "kernel.json"), err)
	}
	if len(kernelspec.Argv) == 0 {
		return nil, fmt.Errorf("%s has no argv", filepath.Join(spec, "kernel.json"))
	}
	r := strings.NewReplacer("{resource_dir}", spec, "{connection_file}", connection)
	for i, arg := range kernelspec.Argv {
		kernelspec.Argv[i] = r.Replace(arg)
	}
	return kernelspec.Argv, nil
}

// kill ends the kernel and what it started. There is nothing to save: all of
// its state is in the directory that goes too.
func (p *process) kill() { killGroup(p.cmd.Process.Pid) }

// remove kills the process group and leaves nothing of the directory.
func (p *process) remove() error {
	if p.cmd != nil {
		p.kill()
		<-p.died
	}
	// A process that is still dying may create a file meanwhile.
	var err error
	for range 40 {
		if err = os.RemoveAll(p.dir); err == nil {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	if p.dog != nil {
		p.dog.dismiss(p.cmd != nil)
	}
	return err
}

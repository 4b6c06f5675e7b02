//go:build e2e

package webdriver

import (
	"fmt"
	"os/exec"
	"strings"
	"syscall"
	"time"
)

// program finds the first program that is installed.
func program(names ...string) (string, error) {
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("not installed: %s", strings.Join(names, ", "))
}

// run starts a program, and returns how to end it and all that it has started.
func run(command *exec.Cmd) (func(), error) {
	command.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := command.Start(); err != nil {
		return nil, err
	}
	return func() {
		_ = syscall.Kill(-command.Process.Pid, syscall.SIGTERM)
		gone := make(chan struct{})
		go func() { _ = command.Wait(); close(gone) }()
		select {
		case <-gone:
		case <-time.After(5 * time.Second):
		}
		_ = syscall.Kill(-command.Process.Pid, syscall.SIGKILL)
		<-gone
	}, nil
}

// await tries until it works, or patience ends.
func await(patience time.Duration, try func() error) error {
	end := time.Now().Add(patience)
	for {
		err := try()
		if err == nil || time.Now().After(end) {
			return err
		}
		time.Sleep(20 * time.Millisecond)
	}
}

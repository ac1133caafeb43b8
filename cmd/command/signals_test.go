//go:build unix

package command_test

import "syscall"

// Signals that stop a process for a while.
const (
	stopSignal = syscall.SIGSTOP
	goOnSignal = syscall.SIGCONT
)

//go:build !js

package command

import "syscall"

// unwaited opens a pipe without waiting for its writer.
const unwaited = syscall.O_NONBLOCK

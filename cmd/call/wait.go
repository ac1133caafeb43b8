//go:build !js

package call

import "syscall"

// unwaited opens a pipe without waiting for its writer.
const unwaited = syscall.O_NONBLOCK

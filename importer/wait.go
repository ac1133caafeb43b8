//go:build !js

package importer

import "syscall"

// unwaited opens a pipe without waiting for its writer.
const unwaited = syscall.O_NONBLOCK

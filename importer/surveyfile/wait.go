//go:build !js

package surveyfile

import "syscall"

// unwaited opens a pipe without waiting for its writer.
const unwaited = syscall.O_NONBLOCK

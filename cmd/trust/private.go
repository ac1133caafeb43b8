package trust

import "runtime"

// private says that permissions tell who can read a file; on Windows the folder of the user does that.
const private = runtime.GOOS != "windows"

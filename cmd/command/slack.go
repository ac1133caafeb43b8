//go:build !js

package command

import "runtime"

// slackBytes is what may be used between two collections of memory beyond twice what is held: a small roof holds some 2 MB, and would set
// one off for every second roof.
const slackBytes = 16 << 20

// slack lets memory be collected less often until its result is called. What it asks for is never touched, so no memory stands behind it;
// unlike GOGC it gives large roofs no more.
func slack() (end func()) {
	held := make([]byte, slackBytes)
	return func() { runtime.KeepAlive(held) }
}

//go:build !js

package call

import (
	"os"
	"runtime"
	"runtime/debug"
)

// How memory is collected: when what is held, and slackBytes, have grown by slackPercent. A small roof holds some 2 MB, and its usual limit of 4 MB
// is met at every second roof; a roof of a million spots holds a gigabyte, and twice that is more than needed, since most of it are lists of
// numbers, in which there is nothing to look for.
const (
	slackBytes   = 32 << 20
	slackPercent = 40
)

// From so many spots on, memory is collected when it has grown by tightPercent. That takes no more time than can be measured: nearly all that is held
// then are long lists of numbers.
const (
	heavyRoof    = 300_000
	tightPercent = 10
)

// Slack lets memory be collected by these limits until its result is called, unless GOGC says otherwise. The bytes that it asks for are never
// touched, so no memory stands behind them.
func Slack() (end func()) {
	if os.Getenv("GOGC") != "" {
		return func() {}
	}
	before := debug.SetGCPercent(slackPercent)
	held := make([]byte, slackBytes)
	return func() {
		runtime.KeepAlive(held)
		debug.SetGCPercent(before)
	}
}

// Tighten lets memory be collected sooner for a roof of many spots, until the end of slack.
func Tighten(spots int) {
	if spots >= heavyRoof && os.Getenv("GOGC") == "" {
		debug.SetGCPercent(tightPercent)
	}
}

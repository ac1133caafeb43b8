package command

import (
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"runnel/analysis/geometry/reference/chromium"
	"runnel/cmd/call"
	"runnel/cmd/campus"
)

// asProgram makes the test's binary the program, for the tests that end it from outside: workers of a queue fall silent sooner,
// and die at a roof of a name where its value is one.
const asProgram = "RUNNEL_TEST_AS_PROGRAM"

// TestMain gives the tests a configuration folder of their own; the go command, which some run, keeps its file.
func TestMain(m *testing.M) {
	if dies, ok := os.LookupEnv(asProgram); ok {
		campus.Silence = 3 * time.Second
		campus.AtRoof = func(stem string) {
			if stem == dies {
				os.Exit(call.ExitFault) // as by memory that runs out: nothing is put away
			}
		}
		os.Exit(Main(os.Args[1:], call.System()))
	}
	hear()
	dir, err := os.MkdirTemp("", "runnel-configuration")
	if err != nil {
		panic(err)
	}
	if own, err := os.UserConfigDir(); err == nil && os.Getenv("GOENV") == "" {
		_ = os.Setenv("GOENV", filepath.Join(own, "go", "env"))
	}
	_ = os.Setenv("XDG_CONFIG_HOME", dir)
	code := m.Run()
	chromium.End()
	_ = os.RemoveAll(dir)
	os.Exit(code)
}

// hear lets the programs that tests start hear the signals that tests send them, where the tests themselves were started to ignore those, as behind "&" or nohup:
// what one process ignores those that it starts ignore too, but for what it has asked to be told of.
func hear() {
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGHUP} {
		if signal.Ignored(s) {
			signal.Notify(make(chan os.Signal, 1), s)
		}
	}
}

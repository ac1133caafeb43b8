package command

import (
	"os"
	"path/filepath"
	"testing"
)

// TestMain gives the tests a configuration folder of their own; the go command, which some run, keeps its file.
func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "runnel-configuration")
	if err != nil {
		panic(err)
	}
	if own, err := os.UserConfigDir(); err == nil && os.Getenv("GOENV") == "" {
		_ = os.Setenv("GOENV", filepath.Join(own, "go", "env"))
	}
	_ = os.Setenv("XDG_CONFIG_HOME", dir)
	code := m.Run()
	_ = os.RemoveAll(dir)
	os.Exit(code)
}

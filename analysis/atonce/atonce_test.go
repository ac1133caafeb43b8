package atonce_test

import (
	"testing"

	"runnel/analysis/atonce"
)

// Parts run side by side: here each waits for the other.
func TestPartsRunAtOnce(t *testing.T) {
	a, b := make(chan int), make(chan int)
	got := 0
	atonce.Do(func() { a <- 3; got = <-b }, func() { b <- 4 + <-a })
	if got != 7 {
		t.Errorf("%d", got)
	}
}

// The panic of the first part that breaks reaches the caller, but not before the others have ended.
func TestAPanicReachesTheCaller(t *testing.T) {
	ended := false
	defer func() {
		if v := recover(); v != "first" || !ended {
			t.Errorf("recovered %v, the last part ended: %t", v, ended)
		}
	}()
	atonce.Do(func() {}, func() { panic("first") }, func() { panic("second") }, func() { ended = true })
	t.Error("no panic")
}

package halt_test

import (
	"context"
	"errors"
	"testing"

	"runnel/analysis/halt"
)

// work looks n times and counts how often it came by.
func work(l *halt.Line, n int, rounds *int) (err error) {
	defer halt.Caught(&err)
	for range n {
		l.Look()
		*rounds++
	}
	return nil
}

func TestLookStopsWorkThatNobodyWaitsFor(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	line, rounds := halt.Of(ctx), 0
	if err := work(line, 1000, &rounds); err != nil || rounds != 1000 {
		t.Fatalf("%d rounds of 1000, %v", rounds, err)
	}
	cancel()
	rounds = 0
	if err := work(line, 1000, &rounds); !errors.Is(err, context.Canceled) || rounds >= 64 {
		t.Errorf("after the end %d rounds, %v", rounds, err)
	}
	rounds = 0
	if err := work(halt.Of(context.Background()), 1000, &rounds); err != nil || rounds != 1000 {
		t.Errorf("a context without an end: %d rounds, %v", rounds, err)
	}
}

func TestCaughtPassesOtherPanicsOn(t *testing.T) {
	defer func() {
		if v := recover(); v != "broken" {
			t.Errorf("recovered %v", v)
		}
	}()
	var err error
	defer halt.Caught(&err)
	panic("broken")
}

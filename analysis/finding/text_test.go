package finding_test

import (
	"fmt"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/finding/findingtest"
)

func plain(q finding.Quantity) string { return fmt.Sprint(q.Value) }

// TestFill: expected sentences written by hand from the rule "{n} stands for the n-th quantity".
func TestFill(t *testing.T) {
	depth, run := finding.MM("depth", 3), finding.Metres("run", 7)
	for _, c := range []struct {
		name, want string
		text       finding.Text
	}{
		{"no place", "nothing to say", finding.Say("nothing to say")},
		{"in order", "3 deep over 7", finding.Say("{0} deep over {1}", depth, run)},
		{"twice and out of order", "7, 3, 7", finding.Say("{1}, {0}, {1}", depth, run)},
		{"place without a quantity stays", "3 {1}", finding.Say("{0} {1}", depth)},
		{"braces that are no place stay", "{a} {} {-1} 3 {", finding.Say("{a} {} {-1} {0} {", depth)},
	} {
		if got := c.text.Fill(plain); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

// TestAnd: joined texts read as both, one after the other, whatever their places.
func TestAnd(t *testing.T) {
	a := finding.Say("{0} deep.", finding.MM("depth", 3))
	b := finding.Say("{1} wide, {0} long.", finding.Metres("length", 9), finding.Metres("width", 5))
	if got, want := a.And(b).And(a).Fill(plain), "3 deep. 5 wide, 9 long. 3 deep."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	empty := finding.Text{}
	if got, want := empty.And(a).And(empty).Fill(plain), "3 deep."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if len(a.Args) != 1 {
		t.Errorf("joining changed the first text: %d quantities", len(a.Args))
	}
}

// TestKindsAreClosed: the list holds each kind once and none is empty; 13 causes and 31 others stand in kind.go.
func TestKindsAreClosed(t *testing.T) {
	seen := map[finding.Kind]bool{}
	for _, k := range findingtest.Kinds() {
		if k == "" || seen[k] {
			t.Errorf("kind %q is empty or stands twice", k)
		}
		seen[k] = true
	}
	if len(seen) != 13+32 {
		t.Errorf("%d kinds, want 45", len(seen))
	}
}

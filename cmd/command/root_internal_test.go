package command

import (
	"bytes"
	"slices"
	"testing"

	"runnel/cmd/call"
)

// A command that is made alone is the one that the whole program has; all else makes all of them.
func TestTheCommandThatIsNamedIsMadeAlone(t *testing.T) {
	s := call.Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}}
	whole := newRoot(s)
	for _, m := range makers {
		root := newRootFor(s, []string{m.name, "--help"})
		c, _, err := root.Find([]string{m.name})
		all, _, wholeErr := whole.Find([]string{m.name})
		if err != nil || wholeErr != nil || c.Name() != m.name || all.UsageString() != c.UsageString() || all.Long != c.Long || !slices.Equal(flagsOf(root, m.name), flagsOf(whole, m.name)) {
			t.Errorf("%s: made alone it is another command: %v %v", m.name, err, wholeErr)
		}
		if alone := len(root.Commands()) == 1; alone == (m.name == manName) {
			t.Errorf("%s: %d commands are made", m.name, len(root.Commands()))
		}
	}
	for _, args := range [][]string{nil, {"help"}, {"chek"}, {"--help"}, {"__complete", ""}, {"view"}, {"codes"}} {
		if n := len(newRootFor(s, args).Commands()); n < len(makers) {
			t.Errorf("%v: %d commands are made", args, n)
		}
	}
}

//go:build !js

package campus

import (
	"bytes"
	"errors"
	"io"
	"os"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
	"runnel/export/campus"
	"runnel/export/staged"
)

// comparing is one call of "runnel campus compare".
type comparing struct {
	call.Streams
	output call.OutputFlags
}

func newCompare(s call.Streams) *cobra.Command {
	k := &comparing{Streams: s}
	c := &cobra.Command{
		Use:   "compare EARLIER LATER",
		Short: "Say what changed between two runs of a campus",
		Long: `compare says which roofs of a campus became worse, better, wetter or drier since an earlier run,
which are new and which are gone. EARLIER and LATER are the folders of the two runs, or their
files campus.ndjson.

` + campus.Fold(campus.ChangeRule),
		Example: "  runnel campus compare 2025 2026\n  runnel campus compare 2025 2026 -o changes",
		Args:    call.Arguments(2, 2, "give the folders of two runs of campus, the earlier one first"),
		RunE:    func(_ *cobra.Command, args []string) error { return k.run(args[0], args[1]) },
	}
	c.Flags().StringVarP(&k.output.Dir, "out", "o", "", "write campus.change.csv into this `FOLDER`")
	c.Flags().BoolVar(&k.output.Overwrite, "overwrite", false, "replace files that exist")
	k.output.Command = c
	return c
}

func (k *comparing) run(earlier, later string) error {
	scratch := func() (*os.File, error) { return os.CreateTemp("", "runnel-sort-") }
	if k.output.Dir == "" {
		return campus.Compare(earlier, later, scratch, io.Discard, k.Out)
	}
	if err := k.output.Free(k.Err, []string{earlier, later}, campus.ChangeNames()); err != nil {
		return err
	}
	var page bytes.Buffer
	set, err := staged.Stage(k.output.Target([]string{earlier, later}), []staged.Output{{Name: campus.ChangeNames()[0], Write: func(w io.Writer) error {
		return campus.Compare(earlier, later, scratch, w, &page)
	}}})
	if wrong := (*campus.PartsError)(nil); errors.As(err, &wrong) {
		return wrong // of what is read, not of the file that is written
	}
	if err != nil {
		return err
	}
	defer set.Discard()
	if _, err := page.WriteTo(k.Out); err != nil {
		return err
	}
	return k.Commit(set)
}

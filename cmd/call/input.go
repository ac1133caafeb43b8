package call

import (
	"github.com/spf13/cobra"

	"runnel/analysis/choose"
	"runnel/analysis/study"
	"runnel/cmd/option"
	"runnel/export/record"
	"runnel/importer"
)

// RegisterInput adds the flags of in to c, which reads files from the disk.
func RegisterInput(c *cobra.Command, in *option.Input) {
	in.Side = ReadSide
	in.Register(c.Flags())
	for _, f := range option.InputFiles() {
		NamesFile(c, f.Flag, f.Endings...)
	}
}

// UnitsOf returns the units of results: US customary, or else SI.
func UnitsOf(us bool) record.Units { return choose.If(us, record.US, record.SI) }

// Parse reads the flags that check and campus share.
func Parse(in *option.Input, out *OutputFlags) (importer.Options, study.Options, error) {
	if err := out.Parse(); err != nil {
		return importer.Options{}, study.Options{}, err
	}
	if err := in.CheckUnits(); err != nil {
		return importer.Options{}, study.Options{}, err
	}
	options, err := in.Importer()
	if err != nil {
		return options, study.Options{}, err
	}
	steps, err := in.Study()
	return options, steps, err
}

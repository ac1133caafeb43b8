//go:build !js

package campus

import (
	"fmt"

	"runnel/cmd/option"
	"runnel/export/campus"
)

// missed returns a warning for each id that --drop or --keep names and that no roof had.
func missed(f *option.Input, total *campus.Total) (warnings []string) {
	for _, flag := range []struct {
		name  string
		asked []string
	}{{"drop", f.Drop}, {"keep", f.Keep}} {
		for _, id := range flag.asked {
			switch {
			case total.Had(id, flag.name == "drop"):
			case total.Failed > 0:
				warnings = append(warnings, fmt.Sprintf("--%s %s: no roof that could be read has a spot with this id.", flag.name, id))
			default:
				warnings = append(warnings, fmt.Sprintf("--%s %s: no roof has a spot with this id; take the id from the message or the file.", flag.name, id))
			}
		}
	}
	return warnings
}

package call

import (
	"runtime/debug"

	"runnel/analysis/choose"
)

// Version returns the module's version, or the revision it was built from.
func Version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "(unknown)"
	}
	for _, setting := range info.Settings {
		if setting.Key == "vcs.revision" && info.Main.Version == "(devel)" {
			return "revision " + setting.Value
		}
	}
	return choose.If(info.Main.Version == "", "(devel)", info.Main.Version)
}

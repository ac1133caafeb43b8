package call

import "runtime/debug"

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
	if info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

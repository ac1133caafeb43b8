package command

import (
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/standard"
)

// designStorms lists, for help, which document asks for which storm.
func designStorms() string {
	var b strings.Builder
	b.WriteString("Storms that documents ask for; which of them governs, the local code says:\n")
	for _, s := range standard.DesignStorms() {
		mark := choose.If(s.Read, "read", "from memory")
		b.WriteString("\n  " + strings.TrimSuffix(s.Code+" "+s.Edition, " ") + ", " + s.Section + " (" + mark + ")\n")
		if s.Primary != "" {
			b.WriteString("    primary:  " + s.Primary + "\n")
		}
		if s.Overflow != "" {
			b.WriteString("    overflow: " + s.Overflow + "\n")
		}
	}
	return b.String()
}

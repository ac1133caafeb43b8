package draft

import (
	"fmt"
	"math"
	"strings"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// ParseWallRunoff returns the name of a rule for rain that adjoining walls shed onto the roof.
func ParseWallRunoff(text string) (string, error) {
	rules := standard.WallRules()
	names := make([]string, len(rules))
	for i := range rules {
		names[i] = rules[i].Name
		if strings.EqualFold(names[i], strings.TrimSpace(text)) {
			return names[i], nil
		}
	}
	return "", fmt.Errorf("unknown rule for the runoff of walls %.40q: use %s", text, strings.Join(names, ", "))
}

// SetDirection keeps the bearing of the secondary members [degrees clockwise from grid north]; a member runs both
// ways, so half a turn more is the same.
func SetDirection(s *roof.Structure, degrees float64) (rule, mend string) {
	if !(math.Abs(degrees) <= 360) {
		return fmt.Sprintf("member_direction %g is no bearing", degrees), "write degrees clockwise from grid north, 0 to 180"
	}
	turn := math.Mod(degrees, 180)
	if turn < 0 {
		turn += 180
	}
	s.MemberDirection, s.HasDirection = turn, true
	return "", ""
}

// LimitWarning says that a limit of load without its author is not compared with; it is empty where there is
// nothing to say.
func LimitWarning(s *roof.Structure, where string) string {
	if s.LoadLimit > 0 && s.LoadLimitBy == "" {
		return where + ": load_limit is not compared with, because load_limit_by does not say who set it."
	}
	return ""
}

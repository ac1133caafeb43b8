package record

// DepthClass is a class of depth as maps and drawings shade water: deeper than From [m], with the part of the water's colour that it takes.
type DepthClass struct {
	From, Strength float64
	Name           string
}

// DepthClasses returns the classes of depth in the reader's units, the shallowest first.
func DepthClasses(u Units) []DepthClass {
	if u == US {
		return []DepthClass{{0, 0.25, `under 1/2" deep`}, {inch / 2, 0.45, `1/2" to 1"`}, {inch, 0.65, `1" to 2"`}, {2 * inch, 0.9, `over 2"`}}
	}
	return []DepthClass{{0, 0.25, "under 10 mm deep"}, {0.01, 0.45, "10 to 25 mm"}, {0.025, 0.65, "25 to 50 mm"}, {0.05, 0.9, "over 50 mm"}}
}

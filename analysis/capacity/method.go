package capacity

import "slices"

// Names of methods. Those of the links are named after the document whose figures they use.
const (
	SharpCrested = "sharp-crested"
	BroadCrested = "broad-crested"
	Francis      = "francis"
	Table        = "table"
	WeirOrifice  = "weir-orifice"

	PipeTable   = "ipc-1106.2"
	LeaderTable = "ipc-1106.3"
	LeaderFill  = "seven-24ths"
	Rainwater   = "en-12056-3"
	OlderAreas  = "ipc-2012-area"
)

// Methods returns the names of the methods for a kind of inlet, the usual one first.
func Methods(k Kind) []string {
	switch k {
	case Scupper:
		return []string{SharpCrested, BroadCrested, Francis, Table}
	case Drain:
		return []string{Table, WeirOrifice}
	case Standpipe:
		return []string{WeirOrifice}
	case Edge:
		return []string{SharpCrested, BroadCrested}
	}
	return nil
}

// LeaderMethods returns the names of the methods for a leader, the usual one first.
func LeaderMethods() []string {
	return []string{PipeTable, LeaderTable, LeaderFill, Rainwater, OlderAreas}
}

// PipeMethods returns the names of the methods for a horizontal pipe, the usual one first.
func PipeMethods() []string { return []string{PipeTable, Rainwater, OlderAreas} }

// pick returns the method that holds: the first known one where none is asked for.
func pick(of, method string, known []string) (string, error) {
	if method == "" {
		return known[0], nil
	}
	if !slices.Contains(known, method) {
		return "", &MethodError{Of: of, Method: method, Known: known}
	}
	return method, nil
}

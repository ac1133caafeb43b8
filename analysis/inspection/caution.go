package inspection

// Caution is the key of one safety text; the texts themselves stand with the exports.
type Caution string

// The cautions, in the order in which a report prints them.
const (
	DeepPond  Caution = "keep-off"   // nobody onto a deep pond or a sagging roof
	Height    Caution = "height"     // work at height
	Skylights Caution = "skylights"  // skylights and fragile decks
	Ice       Caution = "ice"        // ice
	Electric  Caution = "electric"   // electricity
	Water     Caution = "water"      // what standing water weighs
	Structure Caution = "structure"  // no cutting of structure; a parapet opening is structure
	Cores     Caution = "cores"      // before and after a core is cut
	LocalCode Caution = "local-code" // local code and licensed engineers decide
)

// Cautions returns the cautions that apply to a roof. Those that hold on every roof are always there: ice
// and skylights cannot be ruled out by a survey.
func Cautions(r *Results) []Caution {
	var out []Caution
	water := len(r.Listed) > 0 || r.deep()
	if off := KeepOffOf(r); water || off.Is() {
		out = append(out, DeepPond)
	}
	out = append(out, Height, Skylights, Ice, Electric)
	if water {
		out = append(out, Water)
	}
	return append(out, Structure, Cores, LocalCode)
}

// Everywhere returns the cautions that end a list of roofs, whatever stands on them.
func Everywhere() []Caution {
	return []Caution{DeepPond, Height, Skylights, Ice, Electric, Structure, LocalCode}
}

// deep reports whether water stands over deepWater in any of the cases, as in a storm with outlets blocked.
func (r *Results) deep() bool {
	for i := range r.Cases {
		for v, level := range r.Cases[i].Level {
			if level-r.Surface.Cut.Z[v] > deepWater {
				return true
			}
		}
	}
	return false
}

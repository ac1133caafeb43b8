package mend

// phrases say in a few words what a change of each kind is, as somebody on the roof says it.
var phrases = map[Kind]string{
	Clear:        "clear outlets and flow-test them",
	Dewater:      "take the water off until the mend",
	RemoveSource: "stop the water that no rain brings",
	MoveObstacle: "move what dams the water",
	Resecure:     "fasten the loose boards again",
	LowerRise:    "take the rise off",
	LowerOutlet:  "set the outlet down",
	ReplacePatch: "replace the patch",
	RaiseCurb:    "raise the curb",
	Cricket:      "build a cricket",
	LowerEdge:    "lower the edge",
	Fill:         "lay a small taper",
	AddScupper:   "cut a scupper through the parapet",
	AddOutlet:    "add a drain",
	Retaper:      "re-taper the section",
	Overlay:      "lay tapered boards over the whole roof",
	Replace:      "take the insulation off and lay tapered boards on the deck",
	Structure:    "ask the engineer about the structure",
	AsFound:      "change nothing",
	Combined:     "several mends together",
}

// Phrase says in a few words what is done, for inside a sentence; the kind's own name is for programs.
func (k Kind) Phrase() string {
	if text, ok := phrases[k]; ok {
		return text
	}
	return string(k)
}

// Phrase says in a few words what is done, for inside a sentence.
func (c *Change) Phrase() string {
	if c.Brief != "" {
		return c.Brief
	}
	return c.Kind.Phrase()
}

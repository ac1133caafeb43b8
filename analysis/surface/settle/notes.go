package settle

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/geometry"
)

// note is one kind of thing that was moved, merged, inferred or left out.
type note uint8

const (
	noteMerged note = iota
	noteCorner
	noteOutline
	noteLine
	noteOutside
	noteInCurb
	noteCurbOutside
	noteBreaklineSnapped
	noteCrossed
	noteAssumedEnd
	noteAssumedCorner
	noteAssumedFoot
	noteBentFoot
	noteCurbCorner
	noteCurbFoot
	noteLevelled
	noteFold
	noteTurned
	noteScupper
	noteShared
	noteSpike
	noteKinds
)

// wording of a note: {n} things; the list of their ids follows where there are any.
var wording = [noteKinds][2]string{
	noteMerged:           {"1 spot stands at the same place as another measurement; their elevations were averaged", "%d spots stand at the same place as another measurement; their elevations were averaged"},
	noteCorner:           {"1 outline corner at the same place as another was merged with it", "%d outline corners at the same place as others were merged with them"},
	noteOutline:          {"1 spot near the outline or a curb was moved onto it", "%d spots near the outline or a curb were moved onto it"},
	noteLine:             {"1 spot near a breakline was moved onto it", "%d spots near a breakline were moved onto it"},
	noteOutside:          {"1 spot outside the outline was left out", "%d spots outside the outline were left out"},
	noteInCurb:           {"1 spot inside a curb was left out", "%d spots inside a curb were left out"},
	noteCurbOutside:      {"1 curb outside the outline has no effect", "%d curbs outside the outline have no effect"},
	noteBreaklineSnapped: {"1 breakline point near the outline, a curb or another breakline was moved onto it", "%d breakline points near the outline, a curb or another breakline were moved onto it"},
	noteCrossed:          {"Breaklines cross at 1 place; they share a point there", "Breaklines cross at %d places; they share a point at each"},
	noteAssumedEnd:       {"1 breakline point without an elevation lies beyond those that have one; it was given that of a plane through the nearest spots", "%d breakline points without an elevation lie beyond those that have one; they were given that of a plane through the nearest spots"},
	noteAssumedCorner:    {"1 outline corner has no elevation; it was given that of a plane through the nearest spots, and the area round it is assumed", "%d outline corners have no elevation; they were given that of a plane through the nearest spots, and the area round them is assumed"},
	noteAssumedFoot:      {"1 point of the outline opposite a spot was given the elevation of a plane through the nearest spots", "%d points of the outline opposite spots were given the elevation of a plane through the nearest spots"},
	noteBentFoot:         {"1 point was put on an edge that does not run straight between its corners, as the spots before it show; it was given the elevation of a plane through the nearest of them", "%d points were put on edges that do not run straight between their corners, as the spots before them show; they were given the elevation of a plane through the nearest spots"},
	noteCurbCorner:       {"1 curb corner without an elevation was given that of the roof surface there", "%d curb corners without an elevation were given that of the roof surface there"},
	noteCurbFoot:         {"1 point of a curb opposite a spot was given the elevation of a plane through the spots beside it", "%d points of curbs opposite spots were given the elevation of a plane through the spots beside them"},
	noteLevelled:         {"1 end of a breakline on the outline was given the outline's elevation", "%d ends of breaklines on the outline were given the outline's elevation"},
	noteFold:             {"1 fold that nobody coded was found where two planes meet, and the surface runs along it; code the line to be sure of it", "%d folds that nobody coded were found where planes meet, and the surface runs along them; code the lines to be sure of them"},
	noteTurned:           {"1 level facet between points of one breakline was removed by turning an edge", "%d level facets between points of one breakline were removed by turning an edge"},
	noteScupper:          {"1 scupper was moved onto the outline", "%d scuppers were moved onto the outline"},
	noteShared:           {"1 outlet lies wholly in the footprint of another; leave it out of one file where both are the same outlet", "%d outlets lie wholly in the footprints of others; leave out of one file those that are the same outlets"},
	noteSpike:            {"1 spot stands far above or far below everything round it; check its elevation", "%d spots stand far above or far below everything round them; check their elevations"},
}

// How many ids a sentence names, and how many of what was left out.
const (
	shownIDs = 5
	shownOut = 20
)

// notes counts what was done to the input.
type notes struct {
	n   [noteKinds]int
	who [noteKinds][]source

	mostApart int32 // by how much a spot differs at most from what it was averaged with, in grid units
}

// add counts one thing that has an id.
func (t *notes) add(k note, s source) {
	t.n[k]++
	t.who[k] = append(t.who[k], s)
}

// count counts one thing without an id.
func (t *notes) count(k note) { t.n[k]++ }

// sentences returns everything that is to be said, naming the first things of each kind in the order of the input.
func (d *draft) sentences() []string {
	var out []string
	t := &d.notes
	for k, n := range t.n {
		if n == 0 {
			continue
		}
		text := wording[k][0]
		if n > 1 {
			text = fmt.Sprintf(wording[k][1], n)
		}
		if ids, more := d.firstIDs(t.who[k], note(k)); len(ids) > 0 {
			text += ": " + strings.Join(ids, ", ")
			if more > 0 {
				text += fmt.Sprintf(" and %d more", more)
			}
		}
		if note(k) == noteMerged && geometry.Metres(t.mostApart) > sameElevation {
			text += "; they differ by up to " + d.height(geometry.Metres(t.mostApart))
		}
		if note(k) == noteOutside && 2*n > len(d.r.Spots) {
			text += "; that is most of them: check that outline and spots are in the same frame, unit and order of coordinates"
		}
		out = append(out, text+".")
	}
	if len(d.onThings) > 0 {
		out = append(out, d.sayRaised())
	}
	return out
}

// firstIDs returns the ids of the first things in the order of the input, and how many more there are.
func (d *draft) firstIDs(who []source, k note) (ids []string, more int) {
	shown := choose.If(k == noteOutside || k == noteInCurb, shownOut, shownIDs)
	slices.SortFunc(who, func(a, b source) int { return cmp.Or(cmp.Compare(a.role, b.role), cmp.Compare(a.index, b.index)) })
	who = slices.Compact(who)
	for _, s := range who[:min(shown, len(who))] {
		ids = append(ids, d.id(s))
	}
	return ids, len(who) - len(ids)
}

package importer

import (
	"fmt"
	"slices"
	"strconv"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// uniqueIDs gives everything an id, and an id of its own within its kind: a second "17" becomes "17.2".
func uniqueIDs(r *roof.Roof) {
	renamed := unique(len(r.Spots), "S", func(i int) *roof.Feature { return &r.Spots[i].Feature })
	if len(renamed) > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("Spot ids that occur twice were made different: %s.", draft.Listing(renamed)))
	}
	unique(len(r.Edges), "E", func(i int) *roof.Feature { return &r.Edges[i].Feature })
	unique(len(r.Breaklines), "B", func(i int) *roof.Feature { return &r.Breaklines[i].Feature })
	unique(len(r.Curbs), "C", func(i int) *roof.Feature { return &r.Curbs[i].Feature })
	unique(len(r.Outlets), "O", func(i int) *roof.Feature { return &r.Outlets[i].Feature })
	unique(len(r.Cores), "K", func(i int) *roof.Feature { return &r.Cores[i].Feature })
	unique(len(r.Stains), "W", func(i int) *roof.Feature { return &r.Stains[i].Feature })
	unique(len(r.Sills), "L", func(i int) *roof.Feature { return &r.Sills[i].Feature })
	unique(len(r.Answers), "A", func(i int) *roof.Feature { return &r.Answers[i].Feature })
	unique(len(r.Controls), "P", func(i int) *roof.Feature { return &r.Controls[i].Feature })
}

// unique settles the ids of n things and returns those that it changed because they were taken. Ids that
// rise by length and text, as a surveyor's numbers do, need no table.
func unique(n int, letter string, at func(int) *roof.Feature) (renamed []string) {
	rising, last := true, ""
	for i := range n {
		f := at(i)
		if f.ID == "" {
			f.ID = letter + strconv.Itoa(i+1)
			f.Origin.ID = f.ID
		}
		rising = rising && less(last, f.ID)
		last = f.ID
	}
	if rising {
		return nil
	}
	taken := make(map[string]int, n)
	for i := range n {
		taken[at(i).ID]++
	}
	used := make(map[string]int, n)
	for i := range n {
		f := at(i)
		used[f.ID]++
		if used[f.ID] == 1 {
			continue
		}
		fresh := f.ID
		for k := used[f.ID]; taken[fresh] > 0; k++ {
			fresh = f.ID + "." + strconv.Itoa(k)
		}
		taken[fresh]++
		f.ID, f.Origin.ID = fresh, fresh
		used[fresh]++
		renamed = append(renamed, fresh)
	}
	return renamed
}

// less orders ids by length, then by text.
func less(a, b string) bool {
	if len(a) != len(b) {
		return len(a) < len(b)
	}
	return a < b
}

// dropSpots leaves out spots by id, and says so.
func dropSpots(r *roof.Roof, ids []string) {
	if len(ids) == 0 {
		return
	}
	r.Spots = slices.DeleteFunc(r.Spots, func(s roof.Spot) bool {
		if !slices.Contains(ids, s.ID) {
			return false
		}
		r.Warnings = append(r.Warnings, fmt.Sprintf("%s: the spot was left out as --drop says.", s.Origin))
		r.Dropped = append(r.Dropped, s.ID)
		return true
	})
}

// dropTops leaves out the elevations of the outer ring where they are those of the tops of its walls, and says so. The foot of the walls is then drawn from
// the spots.
func dropTops(r *roof.Roof) {
	if r.Outline.Elevations != roof.WallTops {
		return
	}
	ring := r.Outline.Rings[0]
	n := 0
	for i := range ring {
		if ring[i].HasZ && i < len(ring)-1 {
			n++
		}
		ring[i] = roof.Position{Plan: ring[i].Plan}
	}
	if n > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%s: %d elevations of the outline are those of the tops of its walls and were left out: the roof at the walls is drawn from the spots.", r.Outline.Origin, n))
	}
}

// keepSpots notes which spots and outlets are meant, however odd they look.
func keepSpots(r *roof.Roof, ids []string) {
	if len(ids) == 0 {
		return
	}
	for i := range r.Spots {
		if slices.Contains(ids, r.Spots[i].ID) {
			r.Kept = append(r.Kept, r.Spots[i].ID)
		}
	}
	for i := range r.Outlets {
		if name := r.Outlets[i].Called(); slices.Contains(ids, name) {
			r.Kept = append(r.Kept, name)
		}
	}
}

// checkDrops refuses ids that no spot had.
func checkDrops(r *roof.Roof, o Options, problems *roof.Refusal) {
	for _, id := range o.Keep {
		if r != nil && !slices.Contains(r.Kept, id) {
			problems.Add(roof.Problem{Rule: fmt.Sprintf("--keep %s: there is no spot with this id, and no outlet", id), Mend: "take the id from the message or the file"})
		}
	}
	for _, id := range o.Drop {
		if r != nil && !slices.Contains(r.Dropped, id) {
			problems.Add(roof.Problem{Rule: fmt.Sprintf("--drop %s: there is no spot with this id", id), Mend: "take the id from the message or the file"})
		}
	}
}

// Package importer reads a roof from the files that a surveyor and a drawing office hand over.
//
// Files are opened first, so that each can say its unit and frame; then units and frames are settled for
// all of them, the files that hold outlines are read, and after them the point files, whose columns the outline may
// have to tell apart. What a format is, format.go says. Last, everything is brought into one metric frame about the outline. Where the frames
// of the files differ, control points must tie them. What cannot be used is refused with its place, the
// rule that it breaks and the mend, up to twenty problems at once; what is left out or assumed is said in
// the roof's warnings.
package importer

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
)

// Read joins the files at paths into one roof. Input that cannot be used is a *roof.Refusal.
func Read(paths []string, o Options) (*roof.Roof, error) {
	var problems roof.Refusal
	checkNames(paths, o, &problems)
	r := read(paths, o, &problems)
	checkDrops(r, o, &problems)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return r, nil
}

// read joins files into one roof; it returns nil where problems were found before one could be made.
func read(paths []string, o Options, problems *roof.Refusal) *roof.Roof {
	sources, warnings := openSources(paths, o, problems)
	warnings = append(warnings, unusedFlags(sources, o)...)
	warnings = append(warnings, readSources(sources, false, problems)...)
	oneSetUp(sources, problems)
	outline, home := theOutline(sources, problems)
	if outline == nil {
		return nil
	}
	r := assemble(sources, outline, home, o, problems)
	if r == nil {
		return nil
	}
	r.Warnings = append(warnings, r.Warnings...)
	if r.Name == "" {
		r.Name = draft.Clean(stem(paths[0]))
	}
	return r
}

// openSources opens the files and settles their units and frames.
func openSources(paths []string, o Options, problems *roof.Refusal) (sources []*source, warnings []string) {
	if len(paths) == 0 {
		problems.Add(roof.Problem{Rule: "no file is given", Mend: "name the file of the outline and that of the spots"})
		return nil, nil
	}
	sources = open(paths, o, problems)
	for _, s := range sources {
		s.sigma = o.Sigma[""]
		if said, ok := lookup(o.Sigma, s.path); ok {
			s.sigma = said
		}
	}
	return sources, settle(sources, o, problems)
}

// readSources reads the files. many says that a file may hold several outlines.
func readSources(sources []*source, many bool, problems *roof.Refusal) (warnings []string) {
	for _, outlines := range []bool{true, false} {
		for _, s := range sources {
			if s.format.Outlines == outlines {
				s.set.Many = many
				warnings = append(warnings, s.read(sources, problems)...)
			}
		}
	}
	for _, s := range sources {
		s.stateSigma(s.draft)
		warnings = append(warnings, s.draft.Warnings...)
	}
	return warnings
}

// stateSigma gives the spots of a file that state no standard error the one that was said for the file.
func (s *source) stateSigma(d *draft.Draft) {
	for i := range d.Spots {
		if spot := &d.Spots[i]; spot.Sigma == 0 {
			spot.Sigma = s.sigma
		}
	}
}

// assemble joins drafts into the roof of outline, which home holds; it returns nil where problems were found.
func assemble(sources []*source, outline *draft.Outline, home *source, o Options, problems *roof.Refusal) *roof.Roof {
	if len(problems.Problems) > 0 {
		return nil
	}
	p := newPlacer(sources, outline, home, problems)
	if p == nil || len(problems.Problems) > 0 {
		return nil
	}
	r := join(p, sources, outline)
	dropSpots(r, o.Drop)
	keepSpots(r, o.Keep)
	dropTops(r)
	return r
}

// read reads a file, after the outlines of those read before have told its columns apart if need be.
func (s *source) read(sources []*source, problems *roof.Refusal) (warnings []string) {
	if f, ok := s.file.(draft.Columned); ok && f.Undecided() {
		said, ok := f.Decide(insideOf(sources, s), s.set.Geographic, problems)
		if !ok {
			s.draft = &draft.Draft{}
			return nil
		}
		warnings = append(warnings, said)
	}
	if f, ok := s.file.(draft.Taped); ok && f.Taped() && !s.set.Geographic {
		f.Along(knownBefore(sources, s))
	}
	if f, ok := s.file.(draft.Cropped); ok {
		f.Crop(roofsBefore(sources, s), s.metres())
	}
	if f, ok := s.file.(*points.File); ok && s.set.Many {
		if s.deal = points.NewDeal(f, s.set); s.deal != nil {
			s.draft = s.deal.Rest(problems)
			return warnings
		}
	}
	s.draft = s.file.Read(s.set, problems)
	return warnings
}

// theOutline returns the one outline among the files and the file that holds it.
func theOutline(sources []*source, problems *roof.Refusal) (outline *draft.Outline, home *source) {
	polygons := 0
	var unknown []string
	for _, s := range sources {
		polygons += s.draft.Polygons
		unknown = append(unknown, s.draft.Unknown...)
		for i := range s.draft.Outlines {
			o := &s.draft.Outlines[i]
			if outline != nil {
				problems.Add(roof.Problem{
					Origin: o.Origin, At: o.Rings[0][0].Plan, HasAt: true,
					Rule: "a second outline; the first is " + outline.Origin.String(), Mend: "check one roof at a time, or name this file by itself to campus",
				})
				return nil, nil
			}
			outline, home = o, s
		}
	}
	switch {
	case outline != nil || len(problems.Problems) > 0:
	case polygons > 1:
		problems.Add(roof.Problem{
			Rule: fmt.Sprintf("there is no outline: none of the %d Polygons says which it is", polygons),
			Mend: `give one of them the property "role": "outline", or use campus for many roofs`,
		})
	case len(unknown) > 0:
		problems.Add(roof.Problem{
			Rule: "there is no outline, and codes of points are not known: " + draft.Listing(unknown),
			Mend: "say what they stand for with --code-list FILE, a row for each: the code, a comma, and OUTLINE, DRAIN, SCUPPER, CURB or SPOT (runnel help codes lists all)",
		})
	default:
		problems.Add(roof.Problem{
			Rule: "there is no outline", Mend: `add the edge of the roof as a Polygon with the property "role": "outline", or as points with the code OUTLINE`,
		})
	}
	return outline, home
}

// edgeReach is how far beyond the outline a point still counts as on it when columns are told apart [m].
const edgeReach = 0.5

// insideOf returns a test of whether a place in the coordinates of s is on an outline of the files in the same
// kind of frame, nil where there is none.
func insideOf(sources []*source, s *source) func(orb.Point) bool {
	type area struct {
		ring  orb.Ring
		scale float64
		reach float64
	}
	var areas []area
	for _, other := range sources {
		if other.draft == nil || other.set.Geographic != s.set.Geographic {
			continue
		}
		a := area{scale: 1, reach: edgeReach / degree}
		if !s.set.Geographic {
			a.scale, a.reach = s.set.Unit.Metres()/other.set.Unit.Metres(), edgeReach/other.set.Unit.Metres()
		}
		for i := range other.draft.Outlines {
			a.ring = roof.PlanOf(other.draft.Outlines[i].Rings[0])
			areas = append(areas, a)
		}
	}
	if areas == nil {
		return nil
	}
	return func(p orb.Point) bool {
		return slices.ContainsFunc(areas, func(a area) bool { return onRing(a.ring, orb.Point{p[0] * a.scale, p[1] * a.scale}, a.reach) })
	}
}

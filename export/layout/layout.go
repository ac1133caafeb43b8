// Package layout draws the sheets of one correction: the layout of planes and boards to scale, sections through the outlets, and the
// schedules, limits and set-out that an estimator, a crew and an engineer need beside it.
//
// The sheets show a design, not a survey: each says that it is preliminary. Thickness stands at the corners of the
// planes, numbered as in the table of set-out points; boards are named by their two thicknesses. What no board fits is hatched and
// named with its reason. Numbers are compared with limits, and nothing is said about strength.
package layout

import (
	"cmp"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/svg"
	"runnel/export/record"
)

// Set is what the sheets are drawn from.
type Set struct {
	Book    *record.Book // of the roof as surveyed
	Result  *correction.Result
	Option  int    // index into Result.Options
	Name    string // of that option
	TakeOff *takeoff.TakeOff
	Plan    drawing.Options // sheet and scale
	Mark    string          // bench mark, as setout.New names it; empty: the usual one
}

// WritePDF writes all sheets.
func WritePDF(w io.Writer, s *Set) error {
	h, err := newSheets(s)
	if err != nil {
		return err
	}
	pages, err := h.pages()
	if err != nil {
		return err
	}
	return pdf.Write(w, pages...)
}

// WriteSVG writes the layout sheet.
func WriteSVG(w io.Writer, s *Set) error {
	h, err := newSheets(s)
	if err != nil {
		return err
	}
	plan, err := h.plan(4)
	if err != nil {
		return err
	}
	return svg.Write(w, plan)
}

// sheets is a set being drawn.
type sheets struct {
	*Set
	option   *correction.Option
	design   *taper.Design // nil where the surface stays
	u        record.Units
	old      *surface.Locator // of the roof as surveyed
	sections []section
	corners  []corner
	walls    *walls
	local    bool // every change is small enough for a detail

	detailRoom float64 // that all details may take in height [mm]
}

func newSheets(s *Set) (*sheets, error) {
	h := &sheets{Set: s, option: &s.Result.Options[s.Option], u: s.Book.Units, old: surface.NewLocator(s.Book.Study.Surface.TIN), detailRoom: roomForDetails}
	h.design = h.option.Design
	var err error
	if h.walls, err = newWalls(h.corrected(), s.Mark); err != nil {
		return nil, err
	}
	h.local = h.design != nil && h.TakeOff.Area > 0 && h.TakeOff.Area < smallShare*h.Book.Study.Surface.Area
	h.gather()
	h.cutSections()
	return h, nil
}

// corrected returns the book of the corrected roof, whose set-out has the same walls and bench mark as the sheets.
func (h *sheets) corrected() *record.Book {
	b := record.NewBook(h.option.Study, h.Book.Names.Roof, h.u)
	b.Proposed, b.Found = true, h.Book.Study
	return b
}

// corner is a numbered corner of the new planes.
type corner struct {
	plan      orb.Point
	z         float64 // of the new surface [m]
	was       float64 // of the roof as surveyed [m]
	thickness float64 // of the new insulation; a cut is below 0 [m]
}

// sameCorner is how far apart corners stand that get one number [m].
const sameCorner = 0.03

// gather collects the corners of the planes that are new.
func (h *sheets) gather() {
	if h.design == nil {
		return
	}
	at := map[orb.Point]int{}
	for i := range h.design.Vertices {
		at[h.design.Vertices[i].Plan] = i
	}
	seen, bends, ends := map[int]bool{}, h.bends(), h.ends()
	for i := range h.TakeOff.Fields {
		f := &h.TakeOff.Fields[i]
		for _, ring := range h.design.Facets[f.Facet].Polygon {
			for _, p := range ring[:len(ring)-1] {
				v, ok := at[p]
				if !ok || seen[v] {
					continue
				}
				seen[v] = true
				if x := &h.design.Vertices[v]; math.Abs(x.Thickness()) < mend.Seen && !beside(bends, x.Plan) && (f.Mesh || !ends[v]) {
					continue // next to nothing is laid or cut there, and the line in which new meets old goes straight on
				}
				h.corner(&h.design.Vertices[v])
			}
		}
	}
	h.extremes()
	if h.local || h.option.Kind == mend.Fill || len(h.corners) > most { // the thickest are told first
		slices.SortStableFunc(h.corners, func(a, b corner) int { return cmp.Compare(math.Abs(b.thickness), math.Abs(a.thickness)) })
	}
	h.thinned()
	h.chosen()
}

// extremes adds the places where most is laid and cut, where no corner of the planes is: between its corners the old surface rises and falls.
func (h *sheets) extremes() {
	t := h.TakeOff
	for _, x := range []struct {
		at   orb.Point
		most float64
	}{{t.At, t.Greatest}, {t.CutAt, t.Deepest}, {t.HighestAt, h.above()}} {
		z, ok := h.design.Height(x.at)
		was, on := h.old.HeightAt(x.at[0], x.at[1])
		if x.most == 0 || !ok || !on || slices.ContainsFunc(h.corners, func(c corner) bool { return vector.Distance(c.plan, x.at) < sameCorner }) {
			continue
		}
		c := corner{plan: x.at, z: z, was: was, thickness: z - was}
		if h.option.Kind == mend.Replace {
			c.thickness = x.most
		}
		h.corners = append(h.corners, c)
	}
}

// above is how far boards on leveller stand above the old roof at most, 0 where none lie.
func (h *sheets) above() float64 {
	if h.TakeOff.Leveller.Volume == 0 || h.option.Kind == mend.Replace {
		return 0
	}
	return h.TakeOff.Highest
}

// byEye is how far a line on the roof may run beside the drawn one and still be built alike [m]: new work is dressed to the old by eye. Own choice.
const byEye = 0.05

// bends are where the lines in which new work meets the old roof end or turn, as far as a crew can tell.
func (h *sheets) bends() []orb.Point {
	var out []orb.Point
	for _, line := range h.design.CutLines() {
		out = append(out, simplify.DouglasPeucker(byEye).LineString(line.Clone())...)
	}
	return out
}

// ends are the corners in which a valley, a ridge or a hip of new work ends.
func (h *sheets) ends() map[int]bool {
	out := map[int]bool{}
	for i := range h.design.Lines {
		if l := &h.design.Lines[i]; h.kindOfLine(l) != "" {
			out[l.A], out[l.B] = true, true
		}
	}
	return out
}

func beside(list []orb.Point, p orb.Point) bool {
	return slices.ContainsFunc(list, func(q orb.Point) bool { return vector.Distance(p, q) < sameCorner })
}

// chosen puts the corners that are listed first: where there are more than that, half of them are where the line in which new meets old turns, the others the thickest and deepest.
func (h *sheets) chosen() {
	most := h.listed()
	if len(h.corners) <= most {
		return
	}
	line, first := 0, make([]bool, len(h.corners))
	by := func(a, b corner) int { return cmp.Compare(a.thickness, b.thickness) }
	ends := []corner{slices.MaxFunc(h.corners, by), slices.MinFunc(h.corners, by)}
	rest := most
	for _, e := range ends {
		if i := slices.Index(h.corners, e); !first[i] {
			first[i] = true
			rest--
		}
	}
	for i := range h.corners {
		if line < most/2 && !first[i] && math.Abs(h.corners[i].thickness) < flush {
			first[i] = true
			line++
		}
	}
	rest -= line
	for i := range h.corners {
		if rest > 0 && !first[i] {
			first[i] = true
			rest--
		}
	}
	var listed, others []corner
	for i := range h.corners {
		if first[i] {
			listed = append(listed, h.corners[i])
		} else {
			others = append(others, h.corners[i])
		}
	}
	h.corners = slices.Concat(listed, others)
}

// thinned leaves out corners beside others of a small change, and elsewhere those in which new meets old beside others: what a crew sets out is an outline and the deepest places.
func (h *sheets) thinned() {
	const apart = 0.45 // [m]
	var kept []corner
	for _, c := range h.corners {
		built := !h.local && math.Abs(c.thickness) >= flush
		if built || !slices.ContainsFunc(kept, func(k corner) bool { return vector.Distance(k.plan, c.plan) < apart }) {
			kept = append(kept, c)
		}
	}
	h.corners = kept
}

// corner adds one corner, unless one stands at its place already.
func (h *sheets) corner(v *taper.Vertex) {
	for i := range h.corners {
		if vector.Distance(h.corners[i].plan, v.Plan) < sameCorner {
			return
		}
	}
	c := corner{plan: v.Plan, z: v.Z, thickness: v.Thickness()}
	c.was, _ = h.old.HeightAt(v.Plan[0], v.Plan[1])
	h.corners = append(h.corners, c)
}

// height returns the elevation of the new surface.
func (h *sheets) height(p orb.Point) (float64, bool) {
	if h.design != nil {
		return h.design.Height(p)
	}
	return h.old.HeightAt(p[0], p[1])
}

// outlets returns the outlets of the corrected roof.
func (h *sheets) outlets() []surface.Outlet { return h.option.Study.Surface.Outlets }

// before returns the outlet of the roof as surveyed that o was, nil for a new one.
func (h *sheets) before(o *surface.Outlet) *surface.Outlet {
	all := h.Book.Study.Surface.Outlets
	for i := range all {
		if o.Type == roof.EdgeOutlet {
			if all[i].Type == roof.EdgeOutlet && all[i].Label == o.Label {
				return &all[i]
			}
			continue
		}
		if o.Source >= 0 && all[i].Source == o.Source && !correction.IsNew(h.Book.Study.Roof, h.option.Roof, o.Source) {
			return &all[i]
		}
	}
	return nil
}

// onMesh reports whether a facet follows the facets of the survey: it is no plane that a crew sets out.
func (h *sheets) onMesh(f int) bool {
	for i := range h.TakeOff.Fields {
		if t := &h.TakeOff.Fields[i]; t.Facet == f {
			return t.Mesh
		}
	}
	return false
}

func (h *sheets) isNew(f int) bool { return !h.design.Facets[f].Existing }

// kindOfLine says how a line is drawn and called: "" where it is not.
func (h *sheets) kindOfLine(l *taper.Line) string {
	if !h.isNew(l.Left) || !h.isNew(l.Right) || h.onMesh(l.Left) && h.onMesh(l.Right) {
		return ""
	}
	switch l.Kind {
	case roof.Valley:
		return "valley"
	case roof.Ridge:
		return "ridge"
	case roof.Hip:
		return "hip"
	case roof.GradeBreak, roof.Cricket:
	}
	return ""
}

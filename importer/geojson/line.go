package geojson

import (
	"math"
	"strings"

	"github.com/tidwall/gjson"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// edge reads a stretch of the outline with its own type.
func (r *reader) edge() {
	line, ok := r.line()
	if !ok {
		return
	}
	if _, ok := r.given("type"); !ok {
		r.refuse("the edge has no type", "give it the type wall, gutter or free")
		return
	}
	r.out.Edges = append(r.out.Edges, roof.Edge{
		Feature: r.head(),
		Line:    line,
		Type:    word(r, "type", roof.Wall, roof.ParseEdgeType),
		Height:  r.size("height", 0, false),
		Duty:    word(r, "duty", roof.Primary, roof.ParseDuty),
		Label:   r.text("label"),

		AdjoiningHeight: r.adjoining(),
	})
}

// adjoining reads the height of a wall's face that sheds rain onto the roof.
func (r *reader) adjoining() quantity.Length {
	l := r.size("adjoining_height", 0, false)
	if v, _ := r.given("type"); l > 0 && !strings.EqualFold(strings.TrimSpace(v.String()), "wall") {
		r.refuse("adjoining_height is given on an edge that is no wall", "make it a wall, or leave it out")
	}
	return l
}

// elevations gives a line's positions those of the property "elevations", one for each between semicolons, a dash where there is
// none: coordinates in degrees carry none in files that this program wrote.
func (r *reader) elevations(line []roof.Position) bool {
	v, given := r.given("elevations")
	if !given {
		return true
	}
	list := strings.Split(v.String(), ";")
	if v.Type != gjson.String || len(list) != len(line) {
		r.refuse("elevations is not a text of one elevation for each position", `write as many as the line has positions, a dash where there is none: "31.42; -; 31.5"`)
		return false
	}
	for i, e := range list {
		if e = strings.TrimSpace(e); e == "-" {
			continue
		}
		z, ok := r.lengthOf("elevations", gjson.Result{Type: gjson.String, Str: e})
		if !ok {
			return false
		}
		p := &line[i]
		if p.HasZ && math.Abs(p.Z-float64(z)) > sameElevation {
			r.refuseAt(p.Plan, `the third coordinate and "elevations" differ`, "leave one of them out")
			return false
		}
		p.Z, p.HasZ = float64(z), true
		if !r.checkedElevation(*p) {
			return false
		}
	}
	return true
}

// breakline reads a line the surface folds on. Elevations that are missing are found from the spots later.
func (r *reader) breakline() {
	line, ok := r.line()
	if !ok || !r.elevations(line) {
		return
	}
	r.out.Breaklines = append(r.out.Breaklines, roof.Breakline{
		Feature: r.head(), Line: line, Type: word(r, "type", roof.GradeBreak, roof.ParseBreaklineType),
	})
}

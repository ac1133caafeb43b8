package geojson

import (
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
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
		Type:    word(r, "type", roof.Wall, draft.ParseEdgeType),
		Height:  r.size("height", 0, false),
		Duty:    word(r, "duty", roof.Primary, draft.ParseDuty),
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

// breakline reads a line the surface folds on. Elevations that are missing are found from the spots later.
func (r *reader) breakline() {
	line, ok := r.line()
	if !ok {
		return
	}
	r.out.Breaklines = append(r.out.Breaklines, roof.Breakline{
		Feature: r.head(), Line: line, Type: word(r, "type", roof.GradeBreak, draft.ParseBreaklineType),
	})
}

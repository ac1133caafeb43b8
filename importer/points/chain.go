package points

import (
	"fmt"
	"strings"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/code"
)

// chainKey tells lines apart: two ridges by their numbers.
type chainKey struct {
	role   code.Role
	number string
}

// chain is a line or an area that grows point by point.
type chain struct {
	first  code.Code // of the first point
	pairs  []code.Pair
	origin roof.Origin
	line   []roof.Position
	closed bool
}

// chain adds the row at hand to its line. "begin" starts a new one, "end" and "close" end it.
func (r *reader) chain() {
	key := chainKey{r.code.Role, strings.ToUpper(r.code.Number)}
	c := r.growing[key]
	if c == nil || r.code.Begin {
		c = &chain{first: *r.code, origin: r.origin()}
		c.origin.ID = strings.TrimRight(r.code.Word+"-"+r.code.Number, "-")
		r.chains = append(r.chains, c)
		r.growing[key] = c
	}
	c.line = append(c.line, r.place)
	c.pairs = append(c.pairs, r.code.Pairs...)
	if r.code.End || r.code.Close {
		c.closed = r.code.Close
		delete(r.growing, key)
	}
}

// finishChains turns the lines into what they are, in the order in which they began.
func (r *reader) finishChains() {
	for _, c := range r.chains {
		r.number, r.id = c.origin.Line, c.origin.ID
		r.place = c.line[0]
		r.code = &c.first
		r.code.Pairs = c.pairs
		switch c.first.Role {
		case code.Outline, code.Curb:
			r.area(c)
		case code.Wall, code.Gutter, code.Free:
			r.edge(c)
		case code.Ridge, code.Valley, code.Hip, code.Cricket, code.Break:
			r.breakline(c)
		case code.Spot, code.Skip, code.Drain, code.Scupper, code.Overflow, code.Core, code.Sill, code.Control,
			code.Waterline, code.Sounding, code.Pond, code.Slope, code.Low, code.Lip, code.Before, code.Inlet, code.Visit, code.Answer:
		}
	}
}

// long reports whether a line has at least two points.
func (r *reader) long(c *chain) bool {
	if len(c.line) >= 2 {
		return true
	}
	r.refuseAt(fmt.Sprintf("%s has one point only", strings.ToUpper(c.origin.ID)), "measure its other points, or give them the same code and number")
	return false
}

// edge keeps a stretch of the outline.
func (r *reader) edge(c *chain) {
	if !r.long(c) {
		return
	}
	kinds := map[code.Role]roof.EdgeType{code.Wall: roof.Wall, code.Gutter: roof.Gutter, code.Free: roof.Free}
	label := ""
	if p, ok := r.code.Value("label"); ok {
		label = p.Value
	}
	r.out.Edges = append(r.out.Edges, roof.Edge{
		Feature: r.head(), Line: c.around(), Type: kinds[c.first.Role],
		Height: r.size(0, false, "h", "height"), Duty: r.duty(roof.Primary), Label: label,

		AdjoiningHeight: r.size(0, false, "adjoining", "adjoining_height"),
	})
}

// breakline keeps a line the surface folds on.
func (r *reader) breakline(c *chain) {
	if !r.long(c) {
		return
	}
	kinds := map[code.Role]roof.BreaklineType{
		code.Ridge: roof.Ridge, code.Valley: roof.Valley, code.Hip: roof.Hip, code.Cricket: roof.Cricket, code.Break: roof.GradeBreak,
	}
	r.out.Breaklines = append(r.out.Breaklines, roof.Breakline{Feature: r.head(), Line: c.around(), Type: kinds[c.first.Role]})
}

// around returns the line, with its first point again at the end where it was closed.
func (c *chain) around() []roof.Position {
	if c.closed && len(c.line) > 2 && c.line[0].Plan != c.line[len(c.line)-1].Plan {
		return append(c.line, c.line[0])
	}
	return c.line
}

// area keeps an outline or a curb: its points in order, closed.
func (r *reader) area(c *chain) {
	ring := c.line
	if ring[0].Plan != ring[len(ring)-1].Plan || len(ring) == 1 {
		ring = append(ring, ring[0])
	}
	rings := [][]roof.Position{ring}
	if fault := draft.SettleRings(rings, strings.ToLower(c.origin.ID)); fault != nil {
		r.problems.Add(roof.Problem{Origin: r.origin(), At: fault.At, HasAt: fault.HasAt, Rule: fault.Rule, Mend: fault.Mend})
		return
	}
	if c.first.Role == code.Curb {
		r.out.Curbs = append(r.out.Curbs, roof.Curb{Feature: r.head(), Ring: ring, Height: r.size(0, false, "h", "height"), Label: r.label()})
		return
	}
	o := draft.Outline{Outline: roof.Outline{Feature: r.head(), Rings: rings, EdgeAssumed: true}}
	if p, ok := r.code.Value("name"); ok {
		o.Name = p.Value
	}
	if p, ok := r.code.Value("edge"); ok {
		kind, err := roof.ParseEdgeType(p.Value)
		if err != nil {
			r.refuseAt(err.Error(), "correct the code")
		}
		o.Edge, o.EdgeAssumed = kind, false
	}
	if p, ok := r.code.Value("elevations"); ok {
		kind, err := roof.ParseElevations(p.Value)
		if err != nil {
			r.refuseAt(err.Error(), "correct the code")
		}
		o.Elevations = kind
	}
	r.structure(&o)
	r.out.Outlines = append(r.out.Outlines, o)
}

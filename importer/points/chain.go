package points

import (
	"fmt"
	"strings"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// chainKey tells lines apart: two ridges by their numbers.
type chainKey struct {
	role   role
	number string
}

// chain is a line or an area that grows point by point.
type chain struct {
	first  code // of the first point
	pairs  []pair
	origin roof.Origin
	line   []roof.Position
	closed bool
}

// chain adds the row at hand to its line. "begin" starts a new one, "end" and "close" end it.
func (r *reader) chain() {
	key := chainKey{r.code.role, strings.ToUpper(r.code.number)}
	c := r.growing[key]
	if c == nil || r.code.begin {
		c = &chain{first: *r.code, origin: r.origin()}
		c.origin.ID = strings.TrimRight(r.code.word+"-"+r.code.number, "-")
		r.chains = append(r.chains, c)
		r.growing[key] = c
	}
	c.line = append(c.line, r.place)
	c.pairs = append(c.pairs, r.code.pairs...)
	if r.code.end || r.code.close {
		c.closed = r.code.close
		delete(r.growing, key)
	}
}

// finishChains turns the lines into what they are, in the order in which they began.
func (r *reader) finishChains() {
	for _, c := range r.chains {
		r.number, r.id = c.origin.Line, c.origin.ID
		r.place = c.line[0]
		r.code = &c.first
		r.code.pairs = c.pairs
		switch c.first.role {
		case outlineRole, curbRole:
			r.area(c)
		case wallRole, gutterRole, freeRole:
			r.edge(c)
		case ridgeRole, valleyRole, hipRole, cricketRole, breakRole:
			r.breakline(c)
		case spotRole, skipRole, drainRole, scupperRole, overflowRole, coreRole, sillRole, controlRole,
			waterlineRole, soundingRole, pondRole, slopeRole, lowRole, lipRole, beforeRole, inletRole, visitRole, answerRole:
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
	kinds := map[role]roof.EdgeType{wallRole: roof.Wall, gutterRole: roof.Gutter, freeRole: roof.Free}
	label := ""
	if p, ok := r.code.value("label"); ok {
		label = p.value
	}
	r.out.Edges = append(r.out.Edges, roof.Edge{
		Feature: r.head(), Line: c.around(), Type: kinds[c.first.role],
		Height: r.size(0, false, "h", "height"), Duty: r.duty(roof.Primary), Label: label,

		AdjoiningHeight: r.size(0, false, "adjoining", "adjoining_height"),
	})
}

// breakline keeps a line the surface folds on.
func (r *reader) breakline(c *chain) {
	if !r.long(c) {
		return
	}
	kinds := map[role]roof.BreaklineType{
		ridgeRole: roof.Ridge, valleyRole: roof.Valley, hipRole: roof.Hip, cricketRole: roof.Cricket, breakRole: roof.GradeBreak,
	}
	r.out.Breaklines = append(r.out.Breaklines, roof.Breakline{Feature: r.head(), Line: c.around(), Type: kinds[c.first.role]})
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
	if c.first.role == curbRole {
		r.out.Curbs = append(r.out.Curbs, roof.Curb{Feature: r.head(), Ring: ring, Height: r.size(0, false, "h", "height"), Label: r.label()})
		return
	}
	o := draft.Outline{Outline: roof.Outline{Feature: r.head(), Rings: rings, EdgeAssumed: true}}
	if p, ok := r.code.value("name"); ok {
		o.Name = p.value
	}
	if p, ok := r.code.value("edge"); ok {
		kind, err := roof.ParseEdgeType(p.value)
		if err != nil {
			r.refuseAt(err.Error(), "correct the code")
		}
		o.Edge, o.EdgeAssumed = kind, false
	}
	r.structure(&o)
	r.out.Outlines = append(r.out.Outlines, o)
}

package surface

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
)

// Sizes below which a footprint is not drawn smaller [m].
const leastFootprint = 0.01

// layout is the outlets being laid onto the TIN.
type layout struct {
	*draft
	s       *Surface
	cut     *cutter
	locate  *Locator
	outlets []Outlet
	rings   [][]corner // per outlet, of drains
	ends    [][2]int32 // per outlet, of scuppers: first and last vertex along the border
}

// layOutlets cuts the footprints of all outlets into a copy of the TIN.
func (s *Surface) layOutlets(d *draft) error {
	l := &layout{draft: d, s: s, cut: newCutter(s.TIN)}
	if len(d.r.Outlets) > 0 {
		l.locate = NewLocator(s.TIN)
	}
	for i := range d.r.Outlets {
		if err := l.lay(i); err != nil {
			return err
		}
	}
	if err := d.refusal.Err(); err != nil {
		return err
	}
	l.cut.indexOut()
	l.cut.mendSigns()
	s.Cut = l.cut.TIN
	l.layEdges()
	l.collectDrains()
	l.collectBorders()
	l.name()
	s.Outlets = l.outlets
	return s.checkCut(l.cut.grown)
}

// lay puts outlet i of the roof onto the TIN and cuts its footprint.
func (l *layout) lay(i int) error {
	o := &l.r.Outlets[i]
	out := Outlet{Source: i, Type: o.Type, Duty: o.Duty, Label: o.Label, Plan: o.Plan}
	var ring []corner
	ends := [2]int32{-1, -1}
	if o.Type == roof.Drain {
		if !l.onRoof(i, o.Plan) {
			return nil
		}
		ring = bowl(o.Plan, float64(o.Bowl))
		if err := l.cut.cutRing(l.locate, ring); err != nil {
			return err
		}
	} else {
		var ok bool
		if out.Plan, ends, ok = l.laySlot(i, o); !ok {
			return nil
		}
	}
	l.outlets, l.rings, l.ends = append(l.outlets, out), append(l.rings, ring), append(l.ends, ends)
	return nil
}

// onRoof reports whether a drain stands on the roof, and refuses one that does not.
func (l *layout) onRoof(i int, p orb.Point) bool {
	if _, ok := l.locate.Locate(p[0], p[1]); ok {
		return true
	}
	if _, _, far := l.s.TIN.nearestBorder(p, 0); far <= onLine*l.scale {
		return true
	}
	me := source{isOutlet, int32(i)}
	if !tooFar(p[0]*2) && !tooFar(p[1]*2) && l.newRingTest(l.chains[0].node).holds(onGrid(p[0]), onGrid(p[1])) {
		l.refuse(me, p, l.name1(i)+" stands inside a curb", "move the outlet or mend the curb")
	} else {
		l.refuse(me, p, l.name1(i)+" stands outside the roof", "move it onto the roof or leave it out")
	}
	return false
}

func (l *layout) name1(i int) string { return "outlet " + l.id(source{isOutlet, int32(i)}) }

// Cosines of 22.5, 45 and 67.5 degrees.
const (
	cos1 = 0.92387953251128674
	cos2 = 0.70710678118654752
	cos3 = 0.38268343236508977
)

// bowl returns the regular polygon of 16 corners on the circle of the given diameter, the first due east.
func bowl(p orb.Point, diameter float64) []corner {
	r := math.Max(diameter, leastFootprint) / 2
	c := [17]float64{1, cos1, cos2, cos3, 0, -cos3, -cos2, -cos1, -1, -cos1, -cos2, -cos3, 0, cos3, cos2, cos1, 1}
	ring := make([]corner, 16)
	for i := range ring {
		ring[i] = corner{onGrid(p[0] + float64(r*c[i])), onGrid(p[1] + float64(r*c[(i+12)%16]))}
	}
	return ring
}

// laySlot finds a scupper's place and width on the outline and cuts its two ends.
func (l *layout) laySlot(i int, o *roof.Outlet) (at orb.Point, ends [2]int32, ok bool) {
	e, t, far := l.s.TIN.nearestBorder(o.Plan, OutlineEdge)
	if far > scupperReach*l.scale {
		l.refuse(source{isOutlet, int32(i)}, o.Plan, fmt.Sprintf("%s, a scupper, is %.2f m from the outline", l.name1(i), far),
			"move it to within 0.5 m of the outline or make it a drain")
		return at, ends, false
	}
	if far > sameElevation {
		l.notes.add(noteScupper, l.id(source{isOutlet, int32(i)}))
	}
	at = l.s.TIN.along(e, t)
	half := math.Max(float64(o.Width), leastFootprint) / 2
	e0, t0 := l.s.TIN.slide(e, t, half, false)
	e1, t1 := l.s.TIN.slide(e, t, half, true)
	return at, [2]int32{l.cut.onBorder(e0, t0, l.s.TIN), l.cut.onBorder(e1, t1, l.s.TIN)}, true
}

// nearestBorder returns the place on the border nearest to p, on half-edges with the flag: half-edge, how far along it, distance.
func (t *TIN) nearestBorder(p orb.Point, flag EdgeFlag) (e int32, at, far float64) {
	e, far = -1, math.Inf(1)
	for h, o := range t.Twin {
		if o >= 0 || flag != 0 && t.Flag[h]&flag == 0 {
			continue
		}
		a, b := t.V[h], t.End(int32(h))
		dx, dy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		s := (float64(dx*(p[0]-t.X[a])) + float64(dy*(p[1]-t.Y[a]))) / (float64(dx*dx) + float64(dy*dy))
		s = math.Max(0, math.Min(1, s))
		if d := hypot(p[0]-t.X[a]-float64(s*dx), p[1]-t.Y[a]-float64(s*dy)); d < far {
			e, at, far = int32(h), s, d
		}
	}
	return e, at, far
}

// straight is the cosine of the turn up to which two pieces of outline are one wall for a scupper: 20 degrees.
const straight = 0.93969262078590838

// slide goes a distance along the border from a place, forward or back, round no corner.
func (t *TIN) slide(e int32, at, by float64, forward bool) (int32, float64) {
	for range t.Twin {
		long := t.length(e)
		room := at * long
		if forward {
			room = long - room
		}
		if by <= room {
			if forward {
				return e, at + by/long
			}
			return e, at - by/long
		}
		next := t.Out[t.End(e)]
		if !forward {
			next = t.Last(t.V[e])
		}
		if t.Flag[next]&OutlineEdge == 0 || t.bend(e, next) < straight {
			break
		}
		by -= room
		e, at = next, 1
		if forward {
			at = 0
		}
	}
	if forward {
		return e, 1
	}
	return e, 0
}

// along returns the place t of the way along half-edge e.
func (t *TIN) along(e int32, at float64) orb.Point {
	a, b := t.V[e], t.End(e)
	return orb.Point{t.X[a] + float64(at*(t.X[b]-t.X[a])), t.Y[a] + float64(at*(t.Y[b]-t.Y[a]))}
}

func (t *TIN) length(e int32) float64 {
	a, b := t.V[e], t.End(e)
	return hypot(t.X[b]-t.X[a], t.Y[b]-t.Y[a])
}

// bend returns the cosine between the directions of two half-edges.
func (t *TIN) bend(e, g int32) float64 {
	a, b, c, d := t.V[e], t.End(e), t.V[g], t.End(g)
	dot := float64((t.X[b]-t.X[a])*(t.X[d]-t.X[c])) + float64((t.Y[b]-t.Y[a])*(t.Y[d]-t.Y[c]))
	return dot / (t.length(e) * t.length(g))
}

// onBorder returns the copy's vertex at a place on border half-edge e of the TIN, made if there is none.
func (c *cutter) onBorder(e int32, at float64, t *TIN) int32 {
	a, b := t.V[e], t.End(e)
	x := float64(t.GX[a]) + float64(at*float64(t.GX[b]-t.GX[a]))
	y := float64(t.GY[a]) + float64(at*float64(t.GY[b]-t.GY[a]))
	for e = c.Out[a]; ; e = c.Out[c.End(e)] {
		u, v := c.V[e], c.End(e)
		end := fraction(t.GX, t.GY, a, b, float64(c.GX[v]), float64(c.GY[v]))
		if v == b || at <= end {
			return c.place(e, fraction(c.GX, c.GY, u, v, x, y))
		}
	}
}

// layEdges makes an outlet of every maximal run of gutter or free edge of one type.
func (l *layout) layEdges() {
	t := l.s.Cut
	kind := map[int32]roof.EdgeType{}
	for e, f := range t.Flag {
		if t.Twin[e] < 0 && f&OpenEdge != 0 {
			kind[int32(e)] = l.edgeType(int32(e))
		}
	}
	var runs []Outlet
	for e := range t.Flag {
		k, open := kind[int32(e)]
		if !open {
			continue
		}
		run := []int32{int32(e)}
		for h := t.Last(t.V[e]); h != int32(e); h = t.Last(t.V[h]) {
			if other, ok := kind[h]; !ok || other != k {
				break
			}
			run[0] = h
		}
		run[0] = l.runStart(run[0], k, kind)
		for h := t.Out[t.End(run[0])]; h != run[0]; h = t.Out[t.End(h)] {
			if other, ok := kind[h]; !ok || other != k {
				break
			}
			run = append(run, h)
		}
		for _, h := range run {
			delete(kind, h)
		}
		runs = append(runs, l.edgeOutlet(run, k))
	}
	slices.SortStableFunc(runs, func(a, b Outlet) int { return compareLine(a.Line, b.Line) })
	for _, o := range runs {
		l.outlets, l.rings, l.ends = append(l.outlets, o), append(l.rings, nil), append(l.ends, [2]int32{-1, -1})
	}
}

// runStart returns where a run that may go all the way round begins: at its lowest x, y when it does.
func (l *layout) runStart(e int32, k roof.EdgeType, kind map[int32]roof.EdgeType) int32 {
	t := l.s.Cut
	if other, ok := kind[t.Last(t.V[e])]; !ok || other != k {
		return e
	}
	best := e
	for h := t.Out[t.End(e)]; h != e; h = t.Out[t.End(h)] {
		if v, w := t.V[h], t.V[best]; t.GX[v] < t.GX[w] || t.GX[v] == t.GX[w] && t.GY[v] < t.GY[w] {
			best = h
		}
	}
	return best
}

func compareLine(a, b orb.LineString) int {
	lowest := func(l orb.LineString) orb.Point {
		return slices.MinFunc(l, comparePoint)
	}
	return cmp.Or(comparePoint(lowest(a), lowest(b)), comparePoint(a[0], b[0]))
}

func comparePoint(p, q orb.Point) int {
	return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
}

// edgeSource returns the edge of the roof on which a border half-edge of the cut TIN lies, or -1.
func (l *layout) edgeSource(e int32) int32 {
	t := l.s.Cut
	a, b := t.V[e], t.End(e)
	return l.edgeAt((float64(t.GX[a])+float64(t.GX[b]))/2, (float64(t.GY[a])+float64(t.GY[b]))/2)
}

func (l *layout) edgeType(e int32) roof.EdgeType {
	if i := l.edgeSource(e); i >= 0 {
		return l.r.Edges[i].Type
	}
	return l.r.Outline.Edge
}

// edgeOutlet makes the outlet of a run of half-edges.
func (l *layout) edgeOutlet(run []int32, k roof.EdgeType) Outlet {
	t := l.s.Cut
	o := Outlet{Source: -1, Type: roof.EdgeOutlet, Edge: k, Edges: run, Low: math.Inf(1)}
	see := func(v int32) {
		p := orb.Point{t.X[v], t.Y[v]}
		o.Line = append(o.Line, p)
		o.Vertices = append(o.Vertices, v)
		if t.Z[v] < o.Low || t.Z[v] == o.Low && comparePoint(p, o.Plan) < 0 {
			o.Low, o.Plan = t.Z[v], p
		}
	}
	see(t.V[run[0]])
	for _, e := range run {
		see(t.End(e))
	}
	for _, e := range run {
		if i := l.edgeSource(e); i >= 0 {
			edge := &l.r.Edges[i]
			if o.Label == "" {
				o.Label = edge.Label
			}
			o.Duty = edge.Duty
			break
		}
	}
	o.Invert = o.Low
	return o
}

// collectDrains finds the facets of every bowl, the lowest surface in it and its invert.
func (l *layout) collectDrains() {
	t := l.s.Cut
	var boxes []box
	var of []int
	for i, ring := range l.rings {
		if ring == nil {
			continue
		}
		b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range ring {
			b = b.join(box{float64(p.x), float64(p.y), float64(p.x), float64(p.y)})
		}
		boxes, of = append(boxes, b), append(of, i)
		l.outlets[i].Low = math.Inf(1)
	}
	if len(boxes) == 0 {
		return
	}
	grid := newBoxIndex(len(boxes), max(64, 4*len(boxes)), func(i int) box { return boxes[i] })
	for f := range int32(t.Facets()) {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		x := (float64(t.GX[a]) + float64(t.GX[b]) + float64(t.GX[c])) / 3
		y := (float64(t.GY[a]) + float64(t.GY[b]) + float64(t.GY[c])) / 3
		for _, k := range grid.near(x, y) {
			if i := of[k]; boxes[k].holds(x, y) && inRing(l.rings[i], x, y) {
				o := &l.outlets[i]
				o.Facets = append(o.Facets, f)
				o.Low = math.Min(o.Low, math.Min(t.Z[a], math.Min(t.Z[b], t.Z[c])))
			}
		}
	}
}

// inRing reports whether a place lies in a convex ring, counter-clockwise.
func inRing(ring []corner, x, y float64) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if float64(float64(q.x-p.x)*(y-float64(p.y)))-float64(float64(q.y-p.y)*(x-float64(p.x))) < 0 {
			return false
		}
	}
	return true
}

// collectBorders finds the half-edges of every scupper, then settles inverts and what footprints share.
func (l *layout) collectBorders() {
	t := l.s.Cut
	for i := range l.outlets {
		o := &l.outlets[i]
		if o.Type == roof.Scupper {
			o.Low = math.Inf(1)
			u, w := l.ends[i][0], l.ends[i][1]
			o.Low = math.Min(t.Z[u], t.Z[w])
			for v := u; v != w; v = t.End(t.Out[v]) {
				o.Edges = append(o.Edges, t.Out[v])
				o.Low = math.Min(o.Low, t.Z[v])
			}
		}
		l.setInvert(o)
	}
	l.share()
}

// setInvert takes an outlet's invert from the roof, or assumes the lowest surface plus a dam.
func (l *layout) setInvert(o *Outlet) {
	if o.Source < 0 {
		return
	}
	in := &l.r.Outlets[o.Source]
	o.Invert = in.Invert
	if !in.HasInvert {
		o.Invert, o.InvertAssumed = o.Low+float64(in.DamHeight), true
	}
}

// share gives facets and half-edges that several footprints cover to one: lower invert, then primary, then order.
func (l *layout) share() {
	t := l.s.Cut
	order := make([]int, len(l.outlets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		p, q := &l.outlets[a], &l.outlets[b]
		return cmp.Or(cmp.Compare(p.Invert, q.Invert), cmp.Compare(p.Duty, q.Duty))
	})
	facets, edges := map[int32]bool{}, map[int32]bool{}
	for _, i := range order {
		o := &l.outlets[i]
		had := len(o.Facets) + len(o.Edges)
		o.Facets, o.Edges = claim(o.Facets, facets), claim(o.Edges, edges)
		if had > 0 && len(o.Facets)+len(o.Edges) == 0 && o.Source >= 0 {
			l.notes.add(noteShared, l.id(source{isOutlet, int32(o.Source)}))
		}
		o.Vertices = t.verticesOf(o)
	}
}

func claim(list []int32, taken map[int32]bool) []int32 {
	kept := list[:0]
	for _, v := range list {
		if !taken[v] {
			taken[v] = true
			kept = append(kept, v)
		}
	}
	slices.Sort(kept)
	return kept
}

// verticesOf returns the vertices of an outlet's facets and half-edges, ascending.
func (t *TIN) verticesOf(o *Outlet) []int32 {
	var all []int32
	for _, f := range o.Facets {
		all = append(all, t.V[3*f:3*f+3]...)
	}
	for _, e := range o.Edges {
		all = append(all, t.V[e], t.End(e))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// name gives every outlet an id and a label that no other has.
func (l *layout) name() {
	letters := map[roof.OutletType]string{roof.Drain: "D", roof.Scupper: "S", roof.EdgeOutlet: "E"}
	count := map[string]int{}
	used := map[string]bool{}
	for i := range l.outlets {
		o := &l.outlets[i]
		letter := letters[o.Type]
		count[letter]++
		o.ID = fmt.Sprintf("%s%02d", letter, count[letter])
		o.Label = strings.TrimSpace(o.Label)
		if o.Label == "" {
			continue
		}
		base := o.Label
		for n := 2; used[o.Label]; n++ {
			o.Label = fmt.Sprintf("%s (%d)", base, n)
		}
		used[o.Label] = true
	}
	for i := range l.outlets {
		o := &l.outlets[i]
		if o.Label != "" {
			continue
		}
		letter := o.ID[:1]
		for n := 1; o.Label == "" || used[o.Label]; n++ {
			o.Label = fmt.Sprintf("%s%d", letter, n)
		}
		used[o.Label] = true
	}
}

// checkCut proves the cut TIN: a closed structure of positive facets that covers what the TIN covers, but for the rounding of
// new vertices on the border.
func (s *Surface) checkCut(grown int64) error {
	if err := s.Cut.checkStructure(); err != nil {
		return err
	}
	var was, is int64
	for f := range int32(s.TIN.Facets()) {
		was += s.TIN.TwiceArea(f)
	}
	for f := range int32(s.Cut.Facets()) {
		is += s.Cut.TwiceArea(f)
	}
	if was+grown != is {
		return fault.New("surface", "footprints changed the area from %d to %d square grid units", was, is)
	}
	return nil
}

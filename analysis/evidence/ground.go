package evidence

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// ground is a surface as water meets it: elements (vertices, or cells of several) with an elevation, the weights of
// moving it, and ways from one to the next. Elements stand in the order of the vertices, which
// does not hang on how the roof was written down or is turned, and their places are in its pose: so no tie hangs on that.
type ground struct {
	line     *halt.Line
	z        []float64 // measured elevation [m]
	low      []float64 // per element: price of lowering it by a metre, squared standard errors per m2
	high     []float64 // per element: price of raising it
	measured int       // elements that were measured
	x, y     []float64 // plan, in the pose of the roof [m]

	first []int32 // per element, and one past the last
	near  []int32 // its neighbours, ascending
	sink  []bool  // on an open edge: water leaves at the element's own elevation
	fold  []bool  // a fold that was found runs through the element
	curb  []bool  // it stands beside a curb; nil: none does
	curbs int     // how many there are

	firstDoor []int32 // per element, and one past the last
	doors     []door
	invert    []float64 // per outlet: elevation from which it takes water, -Inf where its footprint alone decides [m]
	outWeight []float64 // per outlet: price of lowering the invert

	vertex []int32 // per element of the finest ground: vertex of the TIN
	number []int32 // per vertex of the TIN: its element there
}

// door leads from an element into an outlet, over the lowest point of the outlet's footprint on a facet of which the
// element is a corner.
type door struct {
	outlet int32
	at     float64 // elevation of that point [m]
	own    float64 // share of the element in it
	weight float64 // price of lowering the point by a metre
}

// groundOf makes the finest ground: the vertices of the TIN before footprints were cut in.
//
// An elevation that was drawn from spots farther off than farSpot, as along an outline without elevations, is off by what the
// fall of the roof makes up to there as well; slope is the typical one.
func groundOf(in *Input, slope float64) *ground {
	t := in.Surface.TIN
	n := len(t.X)
	g := &ground{
		line: in.Surface.TIN.Halt,
		z:    make([]float64, n), low: make([]float64, n), high: make([]float64, n), x: make([]float64, n), y: make([]float64, n),
		sink: make([]bool, n), fold: make([]bool, n), vertex: make([]int32, n), number: make([]int32, n),
	}
	for v := range g.vertex {
		g.vertex[v] = int32(v)
	}
	for i, v := range g.vertex {
		g.number[v] = int32(i)
		at := t.Pose.Plan(orb.Point{t.X[v], t.Y[v]})
		g.z[i], g.x[i], g.y[i] = t.Z[v], at[0], at[1]
		variance := float64(in.Errors.Sigma[v] * in.Errors.Sigma[v])
		if t.Assumed[v] {
			off := slope * beyondSpots(offSpots(t, v))
			variance += float64(off * off)
		}
		below, above := between(t, v)
		g.low[i], g.high[i] = 1/(variance+below), 1/(variance+above)
		switch {
		case t.Assumed[v]:
			g.high[i] = 0 // it follows the spots beside it: raising those raises it
		case !t.Found[v]: // a point of a fold tells nothing that the spots of its planes did not
			g.measured++
		}
	}
	for e, f := range t.Flag {
		if f&surface.FoldEdge != 0 {
			g.fold[g.number[t.V[e]]] = true
		}
	}
	g.join(t)
	g.besideCurbs(t)
	g.openDoors(in, slope)
	return g
}

// between returns what the mesh of spots leaves open about vertex v beside folds that nobody coded, as variances downwards and upwards [m2].
//
// Where a fold could not be placed, the roof lies anywhere from the mesh down to Below under it, one place as likely as another: the mean square of that is a third
// of the square of Below. At the spot itself it stands as the spot was read, and never higher. A valley that was found may be blunt and stand up to Interpolation
// over the place where its planes meet; but a valley that is blunt is so all along, its lip with its low places, so water goes only by what that differs from place to place:
// the variance of a uniform error, a twelfth.
func between(t *surface.TIN, v int32) (below, above float64) {
	if int(v) >= len(t.Interpolation) {
		return 0, 0
	}
	below, above = float64(t.Below[v]*t.Below[v]), float64(t.Interpolation[v]*t.Interpolation[v])
	if t.Found[v] {
		return below, above / 12
	}
	return below / 3, 0
}

// besideCurb is how far from a curb's face a spot stands at its foot [m]: a rod does not fit closer to a flashing than some hand's breadths.
const besideCurb = 0.3

// besideCurbs counts the curbs and marks what stands at one or at its foot.
func (g *ground) besideCurbs(t *surface.TIN) {
	seen := make([]bool, len(t.V))
	for e, f := range t.Flag {
		if f&surface.CurbEdge == 0 || t.Twin[e] >= 0 || seen[e] {
			continue
		}
		if g.curb == nil {
			g.curb = make([]bool, len(g.z))
		}
		g.curbs++
		for e := int32(e); t.Twin[e] < 0 && !seen[e]; e = t.Out[t.End(e)] { // once round
			seen[e] = true
			g.markFoot(t, t.V[e])
		}
	}
}

// markFoot marks vertex v of a curb and the spots at its foot.
func (g *ground) markFoot(t *surface.TIN, v int32) {
	g.curb[g.number[v]] = true
	for e := range t.Star(v) {
		if w := t.End(e); vector.Norm(t.X[w]-t.X[v], t.Y[w]-t.Y[v]) < besideCurb {
			g.curb[g.number[w]] = true
		}
	}
}

// farSpot is the distance of a spot from an edge up to which the edge is drawn as the spot stands [m].
const farSpot = 2.0

// beyondSpots returns the stretch over which the fall of the roof makes an error of an elevation that was drawn from spots so far off [m]: half the way, and
// no more than what lies beyond farSpot, so that a spot a hand's breadth farther off tells as much.
func beyondSpots(off float64) float64 { return math.Max(0, math.Min(off/2, off-farSpot)) }

// offSpots returns how far vertex v stands from the nearest measured vertex that an edge joins to it [m]; 0 where there is none.
func offSpots(t *surface.TIN, v int32) float64 {
	least := math.Inf(1)
	look := func(w int32) {
		if !t.Assumed[w] {
			dx, dy := float64(t.GX[w]-t.GX[v])*surface.Grid, float64(t.GY[w]-t.GY[v])*surface.Grid
			least = math.Min(least, vector.Norm(dx, dy))
		}
	}
	for e := range t.Star(v) {
		look(t.End(e))
	}
	if e := t.Last(v); e >= 0 {
		look(t.V[e])
	}
	return choose.If(math.IsInf(least, 1), 0, least)
}

// join lists the neighbours along the edges of the TIN.
func (g *ground) join(t *surface.TIN) {
	n := len(g.z)
	g.first = make([]int32, n+1)
	each := func(visit func(a, b int32)) {
		for e, o := range t.Twin {
			if o < int32(e) { // once an edge; a border has no twin
				visit(g.number[t.V[e]], g.number[t.End(int32(e))])
			}
		}
	}
	each(func(a, b int32) { g.first[a+1]++; g.first[b+1]++ })
	for i := range n {
		g.first[i+1] += g.first[i]
	}
	g.near = make([]int32, g.first[n])
	at := slices.Clone(g.first)
	each(func(a, b int32) {
		g.near[at[a]], g.near[at[b]] = b, a
		at[a]++
		at[b]++
	})
	for i := range n {
		slices.Sort(g.near[g.first[i]:g.first[i+1]])
	}
}

func (g *ground) around(i int32) []int32 { return g.near[g.first[i]:g.first[i+1]] }

func (g *ground) doorsOf(i int32) []door { return g.doors[g.firstDoor[i]:g.firstDoor[i+1]] }

// openDoors lays the outlets onto the ground.
func (g *ground) openDoors(in *Input, slope float64) {
	t, cut := in.Surface.TIN, in.Surface.Cut
	n := len(t.X)
	of := make([][]int32, len(cut.X)-n) // per vertex that a footprint made: outlets whose footprint it is in
	g.invert, g.outWeight = make([]float64, len(in.Surface.Outlets)), make([]float64, len(in.Surface.Outlets))
	found := make([][]door, n)
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		g.invert[i], g.outWeight[i] = o.Invert, 1/float64(in.Errors.Typical*in.Errors.Typical)
		if o.InvertAssumed && o.Dry() {
			g.invert[i] = math.Inf(-1)
		}
		for _, v := range o.Vertices {
			switch inside := int(v) < n; {
			case o.Type == roof.EdgeOutlet:
				if inside {
					g.sink[g.number[v]] = true
				}
			case inside:
				e := g.number[v]
				found[e] = lowest(found[e], door{outlet: int32(i), at: t.Z[v], own: 1, weight: g.low[e]})
			default:
				of[int(v)-n] = append(of[int(v)-n], int32(i))
			}
		}
	}
	for f := range int32(cut.Facets()) {
		for _, v := range cut.V[3*f : 3*f+3] {
			if int(v) < n {
				continue
			}
			for _, o := range of[int(v)-n] {
				g.addDoors(found, t, cut, cut.Parent[f], v, o, slope)
			}
		}
	}
	g.firstDoor = make([]int32, n+1)
	for i := range found {
		slices.SortFunc(found[i], func(a, b door) int { return cmp.Compare(a.outlet, b.outlet) })
		g.doors = append(g.doors, found[i]...)
		g.firstDoor[i+1] = int32(len(g.doors))
	}
}

// lowest adds a door to those of one element, of which the lowest counts into each outlet; of equals that of the least share.
func lowest(doors []door, d door) []door {
	for i := range doors {
		if doors[i].outlet != d.outlet {
			continue
		}
		if cmp.Or(cmp.Compare(d.at, doors[i].at), cmp.Compare(d.own, doors[i].own)) < 0 {
			doors[i] = d
		}
		return doors
	}
	return append(doors, d)
}

// addDoors leads from the corners of facet f of the TIN into outlet o over vertex v of its footprint, which lies on f.
func (g *ground) addDoors(found [][]door, t, cut *surface.TIN, f, v, o int32, slope float64) {
	corner := t.V[3*f : 3*f+3]
	share := shares(t, corner, cut.X[v], cut.Y[v])
	at, variance, far := 0.0, 0.0, 0.0
	for c, k := range corner {
		share[c] = alike(share[c])
		at += float64(share[c] * t.Z[k])
		variance += float64(share[c]*share[c]) / g.low[g.number[k]]
		far += float64(share[c] * vector.Norm(t.X[k]-cut.X[v], t.Y[k]-cut.Y[v]))
	}
	if far > farSpot { // as of an elevation that was drawn from spots that far off
		variance += float64(slope*far/2) * float64(slope*far/2)
	}
	for c, k := range corner {
		e := g.number[k]
		found[e] = lowest(found[e], door{outlet: o, at: at, own: share[c], weight: 1 / variance})
	}
}

// shares returns the barycentric coordinates of (x, y) in a facet, kept within it.
func shares(t *surface.TIN, corner []int32, x, y float64) [3]float64 {
	var s [3]float64
	sum := 0.0
	for c := range 3 {
		a, b := corner[(c+1)%3], corner[(c+2)%3]
		s[c] = math.Max(0, float64((t.X[a]-x)*(t.Y[b]-y))-float64((t.X[b]-x)*(t.Y[a]-y)))
		sum += s[c]
	}
	for c := range s {
		s[c] /= sum
	}
	return s
}

package ponding

import (
	"cmp"
	"math/big"
	"slices"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// rationalPond is a pond by the slow way.
type rationalPond struct {
	level, area, volume *big.Rat
	vertices            []int32
}

// rationalLevels finds the level of full ponds by relaxing until nothing changes: no vertex stands higher
// than the lowest of its neighbours' levels lets it. Regions without sink stand at their highest vertex.
func rationalLevels(t *surface.TIN, outlets []surface.Outlet) (level []*big.Rat, enclosed []bool) {
	const sky = 1 << 40
	level, enclosed = make([]*big.Rat, len(t.Z)), make([]bool, len(t.Z))
	for v := range level {
		level[v] = big.NewRat(sky, 1)
	}
	for _, o := range outlets {
		for _, v := range o.Vertices {
			h := rat(t.Z[v])
			if o.Type != roof.EdgeOutlet {
				h = highest(h, rat(o.Invert), rat(o.Low))
			}
			level[v] = lowest(level[v], h)
		}
	}
	relax := func(better func(a, b int32) *big.Rat) {
		for changed := true; changed; {
			changed = false
			for e := range t.V {
				a, b := t.V[e], t.V[surface.Next(int32(e))]
				for _, p := range [][2]int32{{a, b}, {b, a}} {
					if h := better(p[0], p[1]); h.Cmp(level[p[0]]) != 0 {
						level[p[0]], changed = h, true
					}
				}
			}
		}
	}
	relax(func(a, b int32) *big.Rat { return lowest(level[a], highest(rat(t.Z[a]), level[b])) })
	for v := range level {
		if level[v].Cmp(big.NewRat(sky, 1)) == 0 {
			enclosed[v], level[v] = true, rat(t.Z[v])
		}
	}
	relax(func(a, b int32) *big.Rat {
		if !enclosed[a] {
			return level[a]
		}
		return highest(level[a], level[b])
	})
	return level, enclosed
}

func rat(f float64) *big.Rat { return new(big.Rat).SetFloat64(f) }

func lowest(a, b *big.Rat) *big.Rat {
	if b.Cmp(a) < 0 {
		return b
	}
	return a
}

func highest(a *big.Rat, more ...*big.Rat) *big.Rat {
	for _, b := range more {
		if b.Cmp(a) > 0 {
			a = b
		}
	}
	return a
}

// rationalWater is area and volume below a level on one facet, by the divided difference of truncated
// powers: with corner elevations a, b, c all different, volume = S/3 sum of (h-a)+^3 / ((b-a)(c-a)) over
// the corners. Equal corners are handled by the closed forms that remain.
func rationalWater(size, level *big.Rat, corner []*big.Rat) (area, volume *big.Rat) {
	z := slices.Clone(corner)
	slices.SortFunc(z, func(a, b *big.Rat) int { return a.Cmp(b) })
	a, b, c := z[0], z[1], z[2]
	sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	mul := func(x *big.Rat, more ...*big.Rat) *big.Rat {
		p := new(big.Rat).Set(x)
		for _, y := range more {
			p.Mul(p, y)
		}
		return p
	}
	quo := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Quo(x, y) }
	third := big.NewRat(1, 3)
	h := level
	switch {
	case h.Cmp(a) <= 0:
		return new(big.Rat), new(big.Rat)
	case h.Cmp(c) >= 0:
		mean := mul(third, new(big.Rat).Add(a, new(big.Rat).Add(b, c)))
		return size, mul(size, sub(h, mean))
	case h.Cmp(b) <= 0:
		area = quo(mul(size, sub(h, a), sub(h, a)), mul(sub(b, a), sub(c, a)))
		return area, mul(area, sub(h, a), third)
	}
	dry := quo(mul(sub(c, h), sub(c, h)), mul(sub(c, b), sub(c, a)))
	mean := mul(third, new(big.Rat).Add(a, new(big.Rat).Add(b, c)))
	volume = mul(size, sub(h, mean))
	volume.Add(volume, mul(third, size, dry, sub(c, h)))
	return mul(size, sub(big.NewRat(1, 1), dry)), volume
}

// rationalPonds finds the ponds by the slow way, by their first vertex: wet vertices joined by edges, or a
// whole region without sink.
func rationalPonds(t *surface.TIN, outlets []surface.Outlet) ([]*big.Rat, []rationalPond) {
	level, enclosed := rationalLevels(t, outlets)
	wet := make([]bool, len(level))
	name := make([]int32, len(level)) // smallest vertex of the same pond
	for v := range level {
		wet[v], name[v] = level[v].Cmp(rat(t.Z[v])) > 0, int32(v)
	}
	for changed := true; changed; {
		changed = false
		for e := range t.V {
			a, b := t.V[e], t.V[surface.Next(int32(e))]
			if (wet[a] && wet[b] || enclosed[a]) && name[a] != name[b] {
				name[a], name[b], changed = min(name[a], name[b]), min(name[a], name[b]), true
			}
		}
	}
	var ponds []rationalPond
	for v := range level {
		if name[v] != int32(v) {
			continue
		}
		p := rationalPond{level: level[v], area: new(big.Rat), volume: new(big.Rat)}
		for w := range level {
			if wet[w] && name[w] == int32(v) {
				p.vertices = append(p.vertices, int32(w))
			}
		}
		for f := range t.Facets() {
			c := t.V[3*f : 3*f+3]
			if !slices.ContainsFunc(c, func(w int32) bool { return wet[w] && name[w] == int32(v) }) {
				continue
			}
			ux, uy := t.X[c[1]]-t.X[c[0]], t.Y[c[1]]-t.Y[c[0]]
			vx, vy := t.X[c[2]]-t.X[c[0]], t.Y[c[2]]-t.Y[c[0]]
			size := rat((ux*vy - uy*vx) / 2) // integers
			a, vol := rationalWater(size, p.level, []*big.Rat{rat(t.Z[c[0]]), rat(t.Z[c[1]]), rat(t.Z[c[2]])})
			p.area.Add(p.area, a)
			p.volume.Add(p.volume, vol)
		}
		if len(p.vertices) > 0 {
			ponds = append(ponds, p)
		}
	}
	return level, ponds
}

func TestAgainstRationals(t *testing.T) {
	rng := random(1)
	ponds := 0
	for trial := range 400 {
		tin, outlets := randomCase(rng, 7, 2+trial%9)
		ps := find(t, tin, outlets...)
		level, want := rationalPonds(tin, outlets)
		for v := range level {
			if got := rat(ps.Level[v]); got.Cmp(level[v]) != 0 {
				t.Fatalf("trial %d: vertex %d at %v, want %v", trial, v, ps.Level[v], level[v])
			}
		}
		deep := 0
		for i := range ps.Ponds {
			if ps.Ponds[i].Depth > 0 {
				deep++
			}
		}
		if deep != len(want) {
			t.Fatalf("trial %d: %d ponds, want %d", trial, deep, len(want))
		}
		for _, w := range want {
			i := ps.Of[w.vertices[0]]
			p := ps.Ponds[i]
			area, _ := w.area.Float64()
			volume, _ := w.volume.Float64()
			if rat(p.Level).Cmp(w.level) != 0 || !about(p.Area, area) || !about(p.Volume, volume) {
				t.Fatalf("trial %d: pond %+v, want level %v area %v volume %v", trial, p, w.level, area, volume)
			}
			if got := membersOf(ps, i); !slices.Equal(got, w.vertices) {
				t.Fatalf("trial %d: pond %d covers %v, want %v", trial, i, got, w.vertices)
			}
			if got, all := p.Pits, pitsAmong(tin, w.vertices); !slices.Equal(got, all) {
				t.Fatalf("trial %d: pond %d has pits %v, want %v", trial, i, got, all)
			}
		}
		ponds += len(want)
	}
	if ponds < 400 {
		t.Errorf("only %d ponds were tried", ponds)
	}
}

func membersOf(ps *Ponds, pond int32) []int32 {
	var list []int32
	for v, p := range ps.Of {
		if p == pond {
			list = append(list, int32(v))
		}
	}
	return list
}

// pitsAmong lists the level sets without lower neighbour by their smallest vertex, deepest first.
func pitsAmong(t *surface.TIN, vertices []int32) []int32 {
	name := make([]int32, len(t.Z))
	low := make([]bool, len(t.Z)) // has a lower neighbour
	for v := range name {
		name[v] = int32(v)
	}
	for changed := true; changed; {
		changed = false
		for e := range t.V {
			a, b := t.V[e], t.V[surface.Next(int32(e))]
			for _, p := range [][2]int32{{a, b}, {b, a}} {
				a, b := p[0], p[1]
				if t.Z[b] < t.Z[a] && !low[a] || t.Z[a] == t.Z[b] && low[b] && !low[a] {
					low[a], changed = true, true
				}
				if t.Z[a] == t.Z[b] && name[b] < name[a] {
					name[a], changed = name[b], true
				}
			}
		}
	}
	var pits []int32
	for _, v := range vertices {
		if name[v] == v && !low[v] {
			pits = append(pits, v)
		}
	}
	slices.SortFunc(pits, func(a, b int32) int { return cmp.Or(cmp.Compare(t.Z[a], t.Z[b]), cmp.Compare(a, b)) })
	return pits
}

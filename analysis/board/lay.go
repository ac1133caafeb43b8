package board

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
)

// rateSlack is how far, as a part, a field's taper may be off a rate in stock; level is the taper below which
// a field is laid in flat boards [rise/run].
const (
	rateSlack = 0.005
	level     = 1e-6
	sliver    = 1e-4 // area of a piece that is not worth a cut [m2]
)

// errStock is wrapped by the error of Lay where the stock is none.
var errStock = errors.New("boards: the stock needs lengths above zero, a thin edge below the greatest thickness and one rate at least")

// Lay lays boards over fields. waste is the part of the boards to order on top. Fields whose taper is no rate
// in stock are listed in Odd and not laid. Thickness below the thin edge is refused.
func Lay(fields []Field, stock Stock, waste float64) (*Layout, error) {
	if !(stock.Length > 0) || !(stock.Width > 0) || !(stock.Thin > 0) || !(stock.Greatest > stock.Thin) || !(stock.FillStep > 0) || len(stock.Rates) == 0 {
		return nil, errStock
	}
	if !(waste >= 0) || waste > 1 {
		return nil, fmt.Errorf("boards: a waste of %g is no part of the boards", waste)
	}
	l := &Layout{Stock: stock, Waste: waste}
	for i := range fields {
		if err := l.field(i, &fields[i]); err != nil {
			return nil, err
		}
	}
	l.count()
	return l, nil
}

// field lays one field.
func (l *Layout) field(i int, f *Field) error {
	rate := f.rate()
	g := grid{at: f.Low, length: float64(l.Stock.Length), width: float64(l.Stock.Width), ux: 1}
	if rate > level {
		stocked, ok := l.nearest(i, rate)
		if !ok {
			return nil
		}
		rate = stocked
		g.ux, g.uy = f.DX/f.rate(), f.DY/f.rate()
	} else if rate = 0; f.Along != (orb.Point{}) {
		g.ux, g.uy = f.Along[0], f.Along[1]
	}
	var fault error
	g.cells(f.Polygon, func(course int, plan orb.MultiPolygon, area float64) {
		p := Piece{Field: i, Course: course, Plan: plan, Area: area, Whole: area > float64(g.length*g.width)*(1-1e-6)}
		thin := f.Thickness + float64(rate*g.length*float64(course))
		if err := l.stack(&p, thin, rate); err != nil && fault == nil {
			fault = fmt.Errorf("boards: field %d: %w", i+1, err)
		}
		p.tapered = g.wedge(p.Kind, course, plan)
		l.Cuts += g.cut(plan)
		l.Pieces = append(l.Pieces, p)
	})
	return fault
}

// nearest returns the rate in stock that a field's taper is, or books the field as odd.
func (l *Layout) nearest(i int, rate float64) (float64, bool) {
	for _, r := range l.Stock.Rates {
		if s := float64(r); math.Abs(s-rate) <= rateSlack*rate {
			return s, true
		}
	}
	l.Odd = append(l.Odd, i)
	return 0, false
}

// stack chooses the tapered board and the flat fill of a piece whose thin edge lies thin above the base.
func (l *Layout) stack(p *Piece, thin, rate float64) error {
	s := &l.Stock
	least := float64(s.Thin)
	if rate == 0 {
		p.Fill, p.Kind = l.flat(thin)
		return nil
	}
	if thin < least-1e-6 {
		return fmt.Errorf("course %d is %.1f mm thick at its thin edge, less than the %.1f mm of the thinnest board", p.Course+1, thin*1000, least*1000)
	}
	rise := rate * float64(s.Length)
	set := max(1, int(math.Floor((float64(s.Greatest)-least)/rise+1e-9))) // boards before the set is repeated
	over := math.Floor((thin-least)/rise + 1e-6)                          // whole boards below this one
	edge := least + float64(math.Mod(over, float64(set))*rise)
	p.Kind = Kind{round(edge), round(edge + rise)}
	p.Fill = l.layers(thin - edge) // of the sets below this one, and of what lies under every course
	return nil
}

// flat returns a flat stack: layers below and the board on top.
func (l *Layout) flat(thick float64) ([]float64, Kind) {
	layers := l.layers(thick)
	if len(layers) == 0 {
		return nil, Kind{}
	}
	top := layers[len(layers)-1]
	return layers[:len(layers)-1], Kind{top, top}
}

// layers returns flat boards that fill a thickness, each within the greatest of one layer and in steps of the
// stock, thickest first; what is left over under half a step is booked as short.
func (l *Layout) layers(thick float64) []float64 {
	step := float64(l.Stock.FillStep)
	steps := math.Floor(thick/step + 1e-6)
	l.Short = max(l.Short, thick-float64(steps*step))
	if l.Short < 1e-6 {
		l.Short = 0
	}
	most := math.Floor(float64(l.Stock.Greatest)/step + 1e-9)
	n := math.Ceil(steps/most - 1e-9) // as few layers as can be, as even as the steps allow
	var out []float64
	for ; n > 0; n-- {
		k := math.Ceil(steps/n - 1e-9)
		out = append(out, round(k*step))
		steps -= k
	}
	return out
}

// round rounds a thickness to ten micrometres, so that equal boards compare equal.
func round(t float64) float64 { return math.Round(t*1e5) / 1e5 }

// count fills the schedule and the volume from the pieces.
func (l *Layout) count() {
	rows := map[Kind]*Row{}
	add := func(k Kind, p *Piece) {
		r := rows[k]
		if r == nil {
			r = &Row{Kind: k}
			rows[k] = r
		}
		if p.Whole {
			r.Whole++
		} else {
			r.Cut++
		}
		r.Area += p.Area
	}
	for i := range l.Pieces {
		p := &l.Pieces[i]
		for _, f := range p.Fill {
			add(Kind{f, f}, p)
		}
		if p.Kind.Thick > 0 {
			add(p.Kind, p)
		}
	}
	for _, r := range rows {
		r.Boards = l.order(r)
		l.Schedule = append(l.Schedule, *r)
	}
	l.sort()
	l.volumes()
}

func flatLast(k Kind) int { return choose.If(k.Flat(), 1, 0) }

// Level adds flat boards that fill low places to a thickness over an area [m2], in layers of the stock, each cut to its place, and the waste on top.
func (l *Layout) Level(thickness quantity.Length, area float64) {
	for _, t := range l.layers(float64(thickness)) {
		k := Kind{t, t}
		i := slices.IndexFunc(l.Schedule, func(r Row) bool { return r.Kind == k })
		if i < 0 {
			i = len(l.Schedule)
			l.Schedule = append(l.Schedule, Row{Kind: k})
		}
		r := &l.Schedule[i]
		r.Cut += int(math.Ceil(area/float64(l.Stock.Length*l.Stock.Width) - 1e-9))
		r.Boards = l.order(r)
		r.Area += area
		r.Volume += float64(t * area)
		l.Volume += float64(t * area)
	}
	l.sort()
}

// order returns how many boards a row takes.
func (l *Layout) order(r *Row) int { return int(math.Ceil(float64(r.Whole+r.Cut)*(1+l.Waste) - 1e-9)) }

// sort puts tapered boards before flat ones, each by thickness.
func (l *Layout) sort() {
	slices.SortFunc(l.Schedule, func(a, b Row) int {
		return cmp.Or(flatLast(a.Kind)-flatLast(b.Kind), cmp.Compare(a.Kind.Thin, b.Kind.Thin), cmp.Compare(a.Kind.Thick, b.Kind.Thick))
	})
}

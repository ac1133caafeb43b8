package drawing

import (
	"math"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/sheet"
)

// layOut picks the way the sheet lies and the scale.
func (p *plan) layOut() error {
	lying, standing := p.divide(false), p.divide(true)
	best, most := lying, p.largest(lying)
	if s := p.largest(standing); s < most {
		best, most = standing, s
	}
	p.scale = most
	if asked := p.o.Scale; asked > 0 {
		switch {
		case p.fits(lying, asked) && (best == lying || !p.fits(standing, asked)):
			best = lying
		case p.fits(standing, asked):
			best = standing
		default:
			return &sheet.FitError{Sheet: p.o.Sheet.Name, Asked: asked.Say(p.u), Largest: most.Say(p.u)}
		}
		p.scale = asked
	}
	p.field, p.panel, p.below = best.field, best.panel, best.below
	p.scene = &scene.Scene{Width: best.w, Height: best.h}
	p.v.k = 1000 / float64(p.scale)
	r := best.roof()
	p.v.at = scene.Point{X: scene.Hundredth(r.X + r.W/2), Y: scene.Hundredth(r.Y + r.H/2)}
	p.Room = p.field.Inset(0.6)
	return nil
}

// division is a sheet divided into plan and panel.
type division struct {
	w, h         float64
	field, panel scene.Rect
	below        bool
}

// roof returns the part of the plan in which the roof itself may lie.
func (d *division) roof() scene.Rect {
	return scene.Rect{
		X: d.field.X + roomSide, Y: d.field.Y + roomTop, W: d.field.W - 2*roomSide, H: d.field.H - roomTop - roomSide - northH,
	}
}

// divide divides the sheet, lying or standing: the panel beside or below the plan.
func (p *plan) divide(standing bool) division {
	d := division{w: p.o.Sheet.W, h: p.o.Sheet.H, below: standing}
	if standing {
		d.w, d.h = d.h, d.w
	}
	d.field = scene.Rect{X: margin, Y: margin, W: d.w - 2*margin, H: d.h - 2*margin}
	d.panel = d.field
	if standing {
		d.field.H -= panelH + gap
		d.panel.Y, d.panel.H = d.field.Y+d.field.H+gap, panelH
		return d
	}
	d.field.W -= panelW + gap
	d.panel.X, d.panel.W = d.field.X+d.field.W+gap, panelW
	return d
}

// fits reports whether the roof has room at a scale.
func (p *plan) fits(d division, s sheet.Scale) bool {
	r := d.roof()
	return p.v.w*1000/float64(s) <= r.W && p.v.h*1000/float64(s) <= r.H
}

// largest returns the largest usual scale that fits; a roof larger than all of them gets the next power of ten.
func (p *plan) largest(d division) sheet.Scale {
	for _, s := range sheet.Usual(p.u) {
		if p.fits(d, s) {
			return s
		}
	}
	s := sheet.Scale(1e6)
	for !p.fits(d, s) && !math.IsInf(float64(s), 0) {
		s *= 10
	}
	return s
}

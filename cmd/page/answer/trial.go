package answer

import (
	"errors"
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/inspection"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/trial"
	"runnel/export/record"
)

// Change is one change that is tried. Do is what is done: "outlet" sets the level of an outlet, "block" has it take nothing, "shave" cuts the
// roof on the way out of a pond to a straight fall, "fill" builds the floor of a pond up to fall to its lip.
type Change struct {
	Do     string  `json:"do"`
	Outlet int     `json:"outlet"` // index into Picture.Outlets
	By     float64 `json:"by"`     // how much higher the outlet is set [m]
	Pond   string  `json:"pond"`   // id
}

// Trial is the water after changes, beside that as found.
type Trial struct {
	Water []Band    `json:"water"`
	Ponds []Pond    `json:"ponds"` // Where, Held and Sure stay empty: nobody surveyed them
	Now   Sum       `json:"now"`
	Found Sum       `json:"found"`
	Dug   string    `json:"dug"`   // deepest cut, empty for none
	Built string    `json:"built"` // highest fill, empty for none
	Level []float64 `json:"level"` // of each of Picture.Outlets [m]
}

// Sum sums up ponds that the criteria list.
type Sum struct {
	Ponds  int    `json:"ponds"`
	Depth  string `json:"depth"` // of the deepest, empty for none
	Area   string `json:"area"`
	Weight string `json:"weight"`
}

// errNoSurface is the answer for a roof without one.
var errNoSurface = errors.New("a roof by tape alone has no surface to try changes on: heights all over the roof are needed")

// Try says where water would stand after changes. It lists every pond that the criteria would, also those that error alone could make; as found
// they are counted alike.
func (a *Answer) Try(changes []Change) (*Trial, error) {
	if a.sight == nil {
		return nil, errNoSurface
	}
	s := a.sight
	t := &Trial{Ponds: []Pond{}, Water: []Band{}}
	levels := make([]float64, len(s.Surface.Outlets))
	for i := range levels {
		levels[i] = s.Surface.Outlets[i].Invert
	}
	var list []trial.Change
	for _, c := range changes {
		one, err := a.change(c, levels)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	r, err := trial.Of(s.Surface, s.Ponds, list)
	if err != nil {
		return nil, err
	}
	u := a.units
	wanted := a.wanted(r.Ponds)
	t.Level = levels
	t.Water = append(t.Water, a.water(r.Surface, r.Ponds.Level, r.Ponds.Of, wanted)...)
	t.Now, t.Found = sum(r.Ponds, wanted, u), sum(s.Ponds, a.wanted(s.Ponds), u)
	for i := range r.Ponds.Ponds {
		if wanted[i] {
			t.Ponds = append(t.Ponds, a.tried(r.Surface, &r.Ponds.Ponds[i], len(t.Ponds)))
		}
	}
	if r.Cut > surface.Grid {
		t.Dug = u.SayDepth(r.Cut)
	}
	if r.Built > surface.Grid {
		t.Built = u.SayDepth(r.Built)
	}
	return t, nil
}

// change reads one change; levels are those of the outlets so far.
func (a *Answer) change(c Change, levels []float64) (trial.Change, error) {
	s := a.sight
	kind, known := map[string]trial.Kind{"outlet": trial.SetOutlet, "block": trial.Block, "shave": trial.Shave, "fill": trial.Fill}[c.Do]
	switch {
	case !known:
		return trial.Change{}, fmt.Errorf("unknown change %q", c.Do)
	case kind == trial.SetOutlet || kind == trial.Block:
		if c.Outlet < 0 || c.Outlet >= len(levels) {
			return trial.Change{}, fmt.Errorf("there is no outlet %d", c.Outlet)
		}
		if kind == trial.SetOutlet && s.Surface.Outlets[c.Outlet].Type == roof.EdgeOutlet {
			return trial.Change{}, errors.New("an edge has no level of its own")
		}
		levels[c.Outlet] += c.By
		return trial.Change{Kind: kind, Outlet: c.Outlet, Invert: levels[c.Outlet]}, nil
	}
	for i := range s.Listed {
		if s.Listed[i].ID == c.Pond {
			return trial.Change{Kind: kind, Pond: s.Listed[i].Pond}, nil
		}
	}
	return trial.Change{}, fmt.Errorf("there is no pond %q", c.Pond)
}

// wanted says of each pond whether the criteria list it.
func (a *Answer) wanted(p *ponding.Ponds) []bool {
	out := make([]bool, len(p.Ponds))
	for i := range p.Ponds {
		out[i] = inspection.IsListed(&p.Ponds[i], a.sight.Criteria)
	}
	return out
}

// tried describes a pond of a changed roof: by its name as found where it is one of those, else by a number of its own.
func (a *Answer) tried(t *surface.TIN, p *ponding.Pond, number int) Pond {
	s, u := a.sight, a.units
	pit := p.Pits[0]
	out := Pond{
		ID: fmt.Sprintf("new %d", number+1), At: place(orb.Point{t.X[pit], t.Y[pit]}), Depth: u.SayDepth(p.Depth), Area: u.SayArea(p.Area),
		Weight: u.SayMass(p.Volume * standard.WaterDensity), Load: u.SayPressure(p.Depth * standard.WaterDensity * standard.Gravity),
	}
	if of := s.Ponds.Of[pit]; of >= 0 {
		for i := range s.Listed {
			if s.Listed[i].Pond == of {
				out.ID = s.Listed[i].ID
			}
		}
	}
	return out
}

func sum(p *ponding.Ponds, wanted []bool, u record.Units) Sum {
	var out Sum
	var depth, area, volume float64
	for i := range p.Ponds {
		if wanted[i] {
			out.Ponds++
			depth, area, volume = max(depth, p.Ponds[i].Depth), area+p.Ponds[i].Area, volume+p.Ponds[i].Volume
		}
	}
	if out.Ponds > 0 {
		out.Depth, out.Area, out.Weight = u.SayDepth(depth), u.SayArea(area), u.SayMass(volume*standard.WaterDensity)
	}
	return out
}

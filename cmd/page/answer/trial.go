package answer

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/inspection"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/trial"
	"runnel/export/record"
)

// Change is one change that is tried. Do is what is done: "outlet" sets the level of an outlet, "block" has it take nothing, "shave" cuts the
// roof on the way out of a pond to a straight fall, "fill" builds the floor of a pond up to fall to its lip, "cricket" lays tapered boards on a base.
type Change struct {
	Do     string   `json:"do"`
	Outlet int      `json:"outlet"` // index into Picture.Outlets
	By     float64  `json:"by"`     // how much higher the outlet is set [m]
	Pond   string   `json:"pond"`   // id; of a cricket whose base is to be found for it
	Base   [2]Place `json:"base"`   // of a cricket without a pond: the ends of its long side
	Tip    float64  `json:"tip"`    // of a cricket: how far its tips stand off [m]; 0: as its valleys ask
	Rate   float64  `json:"rate"`   // of a cricket: at which its boards rise [rise/run]; 0: twice the field's fall
}

// Trial is the water after changes, beside that as found.
type Trial struct {
	Water    []Band     `json:"water"`
	Ponds    []Pond     `json:"ponds"` // Where, Held and Sure stay empty: nobody surveyed them
	Compared []Compared `json:"compared"`
	Now      Sum        `json:"now"`
	Found    Sum        `json:"found"`
	Dug      string     `json:"dug"`   // deepest cut, empty for none
	Built    string     `json:"built"` // highest fill, empty for none
	Crickets []Cricket  `json:"crickets"`
}

// Figures are those of a pond.
type Figures struct {
	Depth  string `json:"depth"`
	Area   string `json:"area"`
	Volume string `json:"volume"`
	Weight string `json:"weight"`
}

// Compared is a pond as found and after changes. Either is nil where there is none. A pond that parts in two is followed by its deepest place.
type Compared struct {
	ID    string   `json:"id"`
	Found *Figures `json:"found"`
	Now   *Figures `json:"now"`
}

// Sum sums up ponds that the criteria list.
type Sum struct {
	Ponds int `json:"ponds"`
	Figures
}

// Cricket is one that was tried.
type Cricket struct {
	Base [2]Place `json:"base"`
	Tips []Place  `json:"tips"`
	Tip  float64  `json:"tip"`  // how far they stand off [m]
	Rate float64  `json:"rate"` // at which its boards rise [rise/run]
	Text string   `json:"text"` // its sizes and falls
}

// Run is what runs to an outlet with every pond full.
type Run struct {
	Outlet int       `json:"outlet"` // index into Picture.Outlets
	Found  string    `json:"found"`  // area
	Now    string    `json:"now"`
	Rings  [][]Place `json:"rings"` // of what runs to it now
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
	t := &Trial{Ponds: []Pond{}, Water: []Band{}, Compared: []Compared{}, Crickets: []Cricket{}}
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
	a.tried = r
	u := a.units
	before, wanted := a.wanted(s.Ponds), a.wanted(r.Ponds)
	t.Water = append(t.Water, a.water(r.Surface.Cut, r.Ponds.Level, r.Ponds.Of, wanted)...)
	t.Now, t.Found = sum(r.Ponds, wanted, u), sum(s.Ponds, before, u)
	for i := range r.Ponds.Ponds {
		if wanted[i] {
			t.Ponds = append(t.Ponds, a.pondNow(r, &r.Ponds.Ponds[i]))
		}
	}
	names(t.Ponds)
	t.Compared = append(t.Compared, a.compared(before, r, wanted, t.Ponds)...)
	for _, b := range r.Built {
		one := a.cricket(b)
		if stands := standing(r, b, wanted, t.Ponds); len(stands) > 0 {
			one.Text += " Water still stands on it (" + strings.Join(stands, ", ") + "): its boards follow the roof under them, so have the low place filled first."
		}
		t.Crickets = append(t.Crickets, one)
	}
	if r.Cut > surface.Grid {
		t.Dug = u.SayDepth(r.Cut)
	}
	if r.Raised > surface.Grid {
		t.Built = u.SayDepth(r.Raised)
	}
	return t, nil
}

// Runs says what runs to which outlet after the changes that could be tried last. Outlets to which nothing runs, before or after, are left out.
func (a *Answer) Runs() ([]Run, error) {
	if a.tried == nil || a.sight.Catchments == nil {
		return nil, errNoSurface
	}
	r := a.tried
	c, err := r.Catchments()
	if err != nil {
		return nil, err
	}
	outlets := len(a.sight.Surface.Outlets)
	found := areas(a.sight.Catchments, outlets, func(i int32) int { return int(i) })
	now := areas(c, outlets, func(i int32) int { return r.Working[i] })
	out := []Run{}
	for i := range outlets {
		if found[i] == 0 && now[i] == 0 {
			continue
		}
		one := Run{Outlet: i, Found: a.units.SayArea(found[i]), Now: a.units.SayArea(now[i]), Rings: [][]Place{}}
		for k := range c.Full {
			if o := c.Full[k].Outlet; o < 0 || r.Working[o] != i {
				continue
			}
			for _, polygon := range c.Full[k].Outline {
				for _, ring := range polygon {
					one.Rings = append(one.Rings, places(ring))
				}
			}
		}
		out = append(out, one)
	}
	return out, nil
}

// areas returns what runs to each outlet with every pond full [m2].
func areas(c *catchment.Catchments, outlets int, index func(int32) int) []float64 {
	out := make([]float64, outlets)
	for i := range c.Full {
		if o := c.Full[i].Outlet; o >= 0 {
			out[index(o)] += c.Full[i].Area
		}
	}
	return out
}

// change reads one change; levels are those of the outlets so far.
func (a *Answer) change(c Change, levels []float64) (trial.Change, error) {
	s := a.sight
	kind, known := map[string]trial.Kind{"outlet": trial.SetOutlet, "block": trial.Block, "shave": trial.Shave, "fill": trial.Fill, "cricket": trial.Cricket}[c.Do]
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
	case kind == trial.Cricket && c.Pond == "":
		return trial.Change{Kind: kind, Base: [2]orb.Point{orb.Point(c.Base[0]), orb.Point(c.Base[1])}, Tip: c.Tip, Rate: c.Rate, Valley: s.Criteria.MinValleySlope}, nil
	}
	for i := range s.Listed {
		if s.Listed[i].ID != c.Pond {
			continue
		}
		one := trial.Change{Kind: kind, Pond: s.Listed[i].Pond}
		if kind == trial.Cricket {
			base, ok := trial.BaseOf(s.Roof, s.Surface, &s.Ponds.Ponds[one.Pond])
			if !ok {
				return trial.Change{}, fmt.Errorf("%s lies at no curb and between no two outlets: tap the two ends of the cricket on the plan", c.Pond)
			}
			one.Base, one.Tip, one.Rate, one.Valley = base, c.Tip, c.Rate, s.Criteria.MinValleySlope
		}
		return one, nil
	}
	return trial.Change{}, fmt.Errorf("there is no pond %q", c.Pond)
}

func (a *Answer) cricket(b *trial.Built) Cricket {
	u := a.units
	long, off := math.Hypot(b.Base[1][0]-b.Base[0][0], b.Base[1][1]-b.Base[0][1]), b.Off()
	wide := off * float64(len(b.Tips))
	out := Cricket{Base: [2]Place{place(b.Base[0]), place(b.Base[1])}, Tips: places(b.Tips), Tip: off, Rate: b.Rate}
	out.Text = u.SayTape(long) + " long, " + u.SayTape(wide) + " wide, " + u.SayDepth(b.Thickness) + " thick at its middle, boards of " + u.SaySlope(b.Rate)
	switch least := a.sight.Criteria.MinValleySlope; {
	case b.Valley <= 0:
		out.Text += "; its valleys do not fall to both ends"
	case b.Valley < least:
		out.Text += "; its valleys fall " + u.SaySlope(b.Valley) + ", less than the " + u.SaySlope(least) + " asked of a valley"
	default:
		out.Text += "; its valleys fall " + u.SaySlope(b.Valley)
	}
	out.Text += "."
	return out
}

// standing returns the names of the listed ponds that are deepest on a cricket. named are all that are listed, in their order.
func standing(r *trial.Result, b *trial.Built, wanted []bool, named []Pond) (out []string) {
	k := 0
	for i := range r.Ponds.Ponds {
		if !wanted[i] {
			continue
		}
		if pit := r.Ponds.Ponds[i].Pits[0]; b.Covers(orb.Point{r.Surface.Cut.X[pit], r.Surface.Cut.Y[pit]}) {
			out = append(out, named[k].ID)
		}
		k++
	}
	return out
}

// wanted says of each pond whether the criteria list it.
func (a *Answer) wanted(p *ponding.Ponds) []bool {
	out := make([]bool, len(p.Ponds))
	for i := range p.Ponds {
		out[i] = inspection.IsListed(&p.Ponds[i], a.sight.Criteria)
	}
	return out
}

// pondNow describes a pond of a changed roof: by its name as found where it is one of those that are listed.
func (a *Answer) pondNow(r *trial.Result, p *ponding.Pond) Pond {
	pit, t := p.Pits[0], r.Surface.Cut
	f := figures(p.Depth, p.Area, p.Volume, a.units)
	return Pond{
		ID: a.idOf(was(r, p)), At: place(orb.Point{t.X[pit], t.Y[pit]}), Depth: f.Depth, Area: f.Area, Volume: f.Volume, Weight: f.Weight,
		Load: a.units.SayPressure(p.Depth * standard.WaterDensity * standard.Gravity),
	}
}

// names gives ponds without a name one of their own.
func names(ponds []Pond) {
	count := 0
	for i := range ponds {
		if ponds[i].ID == "" {
			count++
			ponds[i].ID = fmt.Sprintf("other %d", count)
		}
	}
}

// was returns the pond as found that stood where a pond stands now, at its deepest place that was wet; -1 for none.
func was(r *trial.Result, p *ponding.Pond) int32 {
	for _, pit := range p.Pits {
		if r.Was[pit] >= 0 {
			return r.Was[pit]
		}
	}
	return -1
}

// idOf returns the id of a pond as found, empty where it is not listed.
func (a *Answer) idOf(pond int32) string {
	for i := range a.sight.Listed {
		if l := &a.sight.Listed[i]; l.Pond == pond {
			return l.ID
		}
	}
	return ""
}

// compared puts ponds as found and now side by side: those that are listed in their order, then the new ones.
func (a *Answer) compared(before []bool, r *trial.Result, wanted []bool, now []Pond) []Compared {
	s, u := a.sight, a.units
	var out []Compared
	row := map[string]int{}
	for i := range s.Listed {
		q := &s.Ponds.Ponds[s.Listed[i].Pond]
		row[s.Listed[i].ID] = len(out)
		f := figures(q.Depth, q.Area, q.Volume, u)
		out = append(out, Compared{ID: s.Listed[i].ID, Found: &f})
	}
	k := 0
	for i := range r.Ponds.Ponds {
		if !wanted[i] {
			continue
		}
		q, pond := &r.Ponds.Ponds[i], now[k]
		k++
		f := figures(q.Depth, q.Area, q.Volume, u)
		if at, known := row[pond.ID]; known && out[at].Now == nil {
			out[at].Now = &f
			continue
		}
		one := Compared{ID: pond.ID, Now: &f}
		if of := was(r, q); of >= 0 && before[of] && a.idOf(of) == "" { // error alone could make it, so it has no name
			old := &s.Ponds.Ponds[of]
			g := figures(old.Depth, old.Area, old.Volume, u)
			one.Found = &g
		}
		out = append(out, one)
	}
	return out
}

func figures(depth, area, volume float64, u record.Units) Figures {
	return Figures{u.SayDepth(depth), u.SayArea(area), u.SayVolume(volume), u.SayMass(volume * standard.WaterDensity)}
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
		out.Figures = figures(depth, area, volume, u)
	}
	return out
}

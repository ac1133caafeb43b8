package points

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/code"
	"runnel/importer/points/separated"
	"runnel/importer/points/wallbook"
)

// tape0 returns the tape's part of the draft, made when first asked for.
func (r *reader) tape0() *roof.Tape {
	if r.out.Tape == nil {
		r.out.Tape = &roof.Tape{}
	}
	return r.out.Tape
}

// tape keeps a row of what is measured with tape, chalk, ruler and level.
func (r *reader) tape(fields []string) {
	keep := map[code.Role]func(){
		code.Waterline: func() {
			w := r.water()
			w.Edge = append(w.Edge, r.place)
			r.seen(w)
		},
		code.Pond:     func() { r.oval(fields) },
		code.Sounding: func() { r.sounding(fields) },
		code.Slope:    r.gap,
	}[r.code.Role]
	if keep == nil {
		keep = r.probe
	}
	keep()
}

// sounding keeps one depth of water.
func (r *reader) sounding(fields []string) {
	if d, ok := r.depth(fields); ok {
		w := r.water()
		w.Soundings = append(w.Soundings, roof.Sounding{Feature: r.head(), Plan: r.place.Plan, Depth: d})
	}
}

// pondNumber returns the number of the pond that a code belongs to; one without is the first.
func pondNumber(c *code.Code) string {
	number := strings.TrimPrefix(strings.ToUpper(c.Number), "P")
	return choose.If(number == "", "1", number)
}

// water returns the water that the code at hand belongs to.
func (r *reader) water() *roof.Water {
	t := r.tape0()
	number := pondNumber(r.code)
	for i := range t.Waters {
		if t.Waters[i].Number == number {
			return &t.Waters[i]
		}
	}
	head := r.head()
	head.ID = "P" + number
	t.Waters = append(t.Waters, roof.Water{Feature: head, Number: number, HoursSinceRain: -1})
	return &t.Waters[len(t.Waters)-1]
}

// seen takes what a code says of water: its level, and how it was seen.
func (r *reader) seen(w *roof.Water) {
	if p, ok := r.code.Value("level"); ok {
		if l, ok := r.lengthOf(p); ok {
			w.Level, w.HasLevel = float64(l), true
			if rule, mend := draft.CheckElevation(w.Level); rule != "" {
				r.refuseAt(rule, mend)
			}
		}
	}
	if p, ok := r.code.Value("hours"); ok {
		v, err := strconv.ParseFloat(p.Value, 64)
		if err != nil || !(v >= 0) || math.IsInf(v, 0) {
			r.refuseAt(fmt.Sprintf("hours=%.20q is no number of hours", p.Value), "write the hours since the rain ended")
		}
		w.HoursSinceRain = v
	}
	if p, ok := r.code.Value("outlets"); ok {
		switch strings.ToLower(p.Value) {
		case "clear":
			w.Outlets = roof.OutletsClear
		case "blocked":
			w.Outlets = roof.OutletsBlocked
		default:
			r.refuseAt(fmt.Sprintf("outlets=%.20q is not known", p.Value), "write clear or blocked")
		}
	}
	if p, ok := r.code.Value("note"); ok {
		w.Note = p.Value
	}
}

// depth reads the depth of the row at hand from its column or its code.
func (r *reader) depth(fields []string) (quantity.Length, bool) {
	var d quantity.Length
	p, coded := r.code.Value("depth")
	text, i := p.Value, r.at[depthColumn]
	if !coded && i >= 0 {
		text = fields[i]
	}
	unit := find(r.columns, depthColumn).unit
	if coded {
		unit = quantity.Unstated
	}
	if _, _, bare := separated.Number(text, r.comma); bare && unit == quantity.Unstated {
		r.refuseAt(fmt.Sprintf("the depth %.20q has no unit, and a roof's own unit is too long for it", text), "write 0.75in or 20mm, or name the column depth_in or depth_mm")
		return 0, false
	}
	switch {
	case coded:
		l, ok := r.lengthOf(p)
		if !ok {
			return 0, false
		}
		d = l
	case text != "":
		v, ok := r.length(text, depthColumn)
		if !ok {
			return 0, false
		}
		d = quantity.Length(v)
	default:
		r.refuseAt("the depth of the water is missing", "write it in the column depth, or as depth=0.75in")
		return 0, false
	}
	const deepest = 3 * quantity.Metre // no roof that still stands holds more; own bound
	if d < 0 || d > deepest {
		r.refuseAt("no roof holds water of that depth", "correct the depth or its unit: depth=0.75in")
		return 0, false
	}
	return d, true
}

// oval keeps a pond that is said by its size: an oval along the grid round the place at hand.
func (r *reader) oval(fields []string) {
	size, ok := r.code.Value("size")
	if !ok {
		r.refuseAt("the pond has no size", "write size=12x6ft: east to west, then south to north")
		return
	}
	if r.set.Geographic {
		r.refuseAt("a size has no place among degrees", "give the marks of its edge: WATERLINE "+pondNumber(r.code))
		return
	}
	east, north, ok := r.sides(size)
	if !ok {
		return
	}
	w := r.water()
	if len(w.Edge) > 0 {
		r.refuseAt("the edge of pond "+w.Number+" is given twice", "give each pond a number of its own")
		return
	}
	const marks = 24
	w.Oval = true
	for i := range marks {
		turn := 2 * math.Pi * float64(i) / marks
		w.Edge = append(w.Edge, roof.Position{Plan: orb.Point{
			r.place.Plan[0] + float64(float64(east)/r.set.Unit.Metres()/2*math.Cos(turn)),
			r.place.Plan[1] + float64(float64(north)/r.set.Unit.Metres()/2*math.Sin(turn)),
		}})
	}
	r.seen(w)
	_, coded := r.code.Value("depth")
	if i := r.at[depthColumn]; coded || i >= 0 && fields[i] != "" {
		if d, ok := r.depth(fields); ok {
			w.Soundings = append(w.Soundings, roof.Sounding{Feature: r.head(), Plan: r.place.Plan, Depth: d})
		}
	}
}

// gap keeps a slope that was measured with a level.
func (r *reader) gap() {
	g := roof.Gap{Feature: r.head(), Plan: r.place.Plan}
	for _, k := range []struct {
		key  string
		into *quantity.Length
	}{{"level", &g.Level}, {"gap", &g.Gap}} {
		p, ok := r.code.Value(k.key)
		if !ok {
			r.refuseAt("SLOPE has no "+k.key, "write the length of the level, the gap under its far end and where that end points: SLOPE level=4ft gap=1/2in toward=E")
			return
		}
		if _, _, bare := separated.Number(p.Value, r.comma); bare {
			r.refuseAt(fmt.Sprintf("%s=%.20s has no unit", k.key, p.Value), "write it as level=4ft gap=1/2in, or level=1.2m gap=12mm")
			return
		}
		if *k.into, ok = r.lengthOf(p); !ok {
			return
		}
	}
	if g.Level <= 0 || g.Gap < 0 || g.Gap > g.Level/2 {
		r.refuseAt("the gap does not go with the length of the level", "lay the level's near end on the roof, bring it level and measure under its far end")
		return
	}
	if g.Toward = r.toward(); g.Toward != [2]float64{} {
		r.tape0().Gaps = append(r.tape0().Gaps, g)
	}
}

// toward reads the key toward, a zero vector where it cannot be used.
func (r *reader) toward() [2]float64 {
	const mend = "write where the far end of the level points, such as toward=E"
	p, ok := r.code.Value("toward")
	if !ok {
		r.refuseAt("SLOPE has no toward", mend)
		return [2]float64{}
	}
	book := r.walls
	if book == nil {
		book = wallbook.New(orb.Ring{{}}, false, r.set.Unit)
	}
	v, wrong := book.Direction(r.place.Plan, p.Value)
	if wrong != nil {
		r.refuseAt("toward: "+wrong.Rule, mend)
		return [2]float64{}
	}
	return v
}

// probe keeps a height that was read to find out what holds water.
func (r *reader) probe() {
	if !r.place.HasZ {
		r.refuseAt(strings.ToUpper(r.code.Word)+" has no elevation", "write the elevation or the rod reading; without a level leave the row out")
		return
	}
	p := roof.Probe{Feature: r.head(), Position: r.place, Sigma: r.size(0, false, "sigma")}
	p.Kind = map[code.Role]roof.ProbeKind{code.Low: roof.LowProbe, code.Lip: roof.LipProbe, code.Before: roof.BeforeProbe, code.Inlet: roof.InletProbe}[r.code.Role]
	p.Of = r.code.Number
	if p.Kind == roof.LowProbe || p.Kind == roof.LipProbe {
		p.Of = pondNumber(r.code)
	}
	if of, ok := r.code.Value("of"); ok {
		p.Of = of.Value
	}
	r.tape0().Probes = append(r.tape0().Probes, p)
}

// settleWaters refuses water without an edge, and depths without water.
func (r *reader) settleWaters() {
	if r.out.Tape == nil {
		return
	}
	const fewest = 3
	for i := range r.out.Tape.Waters {
		w := &r.out.Tape.Waters[i]
		r.number, r.id = w.Origin.Line, w.ID
		switch n := len(w.Edge); {
		case n == 0:
			r.refuse(fmt.Sprintf("pond %s has a depth and no edge", w.Number), fmt.Sprintf("add its chalk marks as WATERLINE %s, or its size as POND %s size=12x6ft", w.Number, w.Number))
		case n < fewest:
			r.refuse(fmt.Sprintf("WATERLINE %s has %s, too few for an edge", w.Number, counted(n, "mark")), "chalk the edge at eight places or more, all round")
		case inLine(w.Edge):
			r.refuse(fmt.Sprintf("the marks of WATERLINE %s lie on one line", w.Number), "chalk the edge all round the water")
		}
	}
}

// inLine reports whether places lie on one line: none stands off that from the first to the one farthest from it by a hundredth of its length.
func inLine(line []roof.Position) bool {
	const part = 0.01
	far, a := 0, line[0].Plan
	for i := range line {
		if squared(a, line[i].Plan) > squared(a, line[far].Plan) {
			far = i
		}
	}
	b, most := line[far].Plan, 0.0
	for i := range line {
		p := line[i].Plan
		most = max(most, math.Abs(float64((b[0]-a[0])*(p[1]-a[1]))-float64((b[1]-a[1])*(p[0]-a[0]))))
	}
	return most <= part*squared(a, b)
}

func squared(a, b orb.Point) float64 {
	return float64((a[0]-b[0])*(a[0]-b[0])) + float64((a[1]-b[1])*(a[1]-b[1]))
}

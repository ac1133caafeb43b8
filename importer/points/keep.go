package points

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
	"runnel/importer/points/code"
)

// keep adds the row at hand to what its code says it is.
func (r *reader) keep(fields []string) {
	if r.code.Unknown != "" {
		r.unknown[r.code.Unknown]++
	}
	switch role := r.code.Role; {
	case role.IsLine():
		r.chain()
	case role == code.Skip:
		r.skipped++
	case role == code.Spot:
		r.spot(fields)
	case role == code.Core:
		r.core()
	case role == code.Sill:
		r.sill()
	case role == code.Answer:
		r.answer(true)
	case role == code.Control:
		r.control()
	case (role == code.Pond || role == code.Slope) && len(r.code.Pairs) == 0 && !r.taped(): // an office's own code
		r.unknown[strings.ToUpper(r.code.Word)]++
		r.spot(fields)
	case role >= code.Waterline:
		r.tape(fields)
	default:
		r.outlet()
	}
}

// spot keeps a surveyed point.
func (r *reader) spot(fields []string) {
	if !r.place.HasZ {
		rule, mend := "the spot has no elevation", "write the measured elevation, or take the row out"
		if r.code.Unknown != "" {
			rule = fmt.Sprintf("the code %.40q is not known, so the point is a spot, and it has no elevation", r.code.Unknown)
			mend = "correct the code, map it with --code-list, or write the measured elevation"
		}
		r.refuseAt(rule, mend)
		return
	}
	s := roof.Spot{Feature: r.head(), Position: r.place, Sigma: r.size(0, false, "sigma"), Code: r.code.Unknown}
	if r.at[rodColumn] >= 0 {
		s.Rod, s.HasRod = quantity.Length(r.rod), true
	}
	if i := r.at[sigmaColumn]; i >= 0 && fields[i] != "" {
		v, ok := r.length(fields[i], sigmaColumn)
		if !ok {
			return
		}
		if v < 0 {
			r.refuseAt("sigma is negative", "write its size")
		}
		s.Sigma = quantity.Length(v)
	}
	r.out.Spots = append(r.out.Spots, s)
}

// outlet keeps a drain or a scupper; the elevation of the row is its invert.
func (r *reader) outlet() {
	o := roof.Outlet{Feature: r.head(), Plan: r.place.Plan, Invert: r.place.Z, HasInvert: r.place.HasZ, Label: r.label()}
	open := false
	_, wide := r.code.Value("w", "width")
	_, high := r.code.Value("h", "height", "opening_height")
	_, round := r.code.Value("d", "diameter")
	_, bowl := r.code.Value("bowl")
	_, dam := r.code.Value("dam", "dam_height")
	switch {
	case r.code.Role == code.Scupper, r.code.Role == code.Overflow && (wide || high):
		o.Type = roof.Scupper
	case r.code.Role == code.Overflow:
		open = !round && !bowl && !dam
	}
	if r.code.Role == code.Overflow || r.code.Overflow {
		o.Duty = roof.Overflow
	}
	o.Duty = r.duty(o.Duty)
	r.invert(&o)
	if o.Type == roof.Scupper || open {
		o.WidthAssumed = !wide
		o.Width = r.size(standard.ScupperWidth, true, "w", "width")
		o.OpeningHeight = r.size(0, false, "h", "height", "opening_height")
		o.CrestBreadth = r.size(0, true, "crest_breadth")
	}
	if o.Type == roof.Drain {
		o.Diameter = r.size(0, false, "d", "diameter")
		o.Bowl = r.size(standard.Bowl, true, "bowl")
		o.DamHeight = r.size(0, false, "dam", "dam_height")
		o.DamDiameter = r.size(0, true, "dam_diameter")
	}
	r.pipes(&o)
	if rule, mend := draft.CheckOutlet(&o); rule != "" {
		r.refuseAt(rule, mend)
	}
	r.out.Outlets = append(r.out.Outlets, draft.Outlet{Outlet: o, TypeOpen: open})
}

// invert takes the key invert, which must agree with the elevation of the row.
func (r *reader) invert(o *roof.Outlet) {
	p, ok := r.code.Value("invert")
	if !ok {
		return
	}
	l, ok := r.lengthOf(p)
	if !ok {
		return
	}
	const same = 0.003 // m
	if o.HasInvert && math.Abs(o.Invert-float64(l)) > same {
		r.refuseAt("the row's elevation and the code's invert differ", "leave one of them out")
	}
	o.Invert, o.HasInvert = float64(l), true
	if rule, mend := draft.CheckElevation(o.Invert); rule != "" {
		r.refuseAt(rule, mend)
	}
}

// control keeps a point known in the site grid and on the map.
func (r *reader) control() {
	c := roof.Control{Feature: r.head(), Plan: r.place.Plan, Sigma: r.size(0, false, "sigma")}
	ok := true
	for _, k := range []struct {
		key   string
		value *float64
		limit float64
	}{{"lon", &c.Lon, 180}, {"lat", &c.Lat, 90}} {
		p, given := r.code.Value(k.key)
		v, err := strconv.ParseFloat(p.Value, 64)
		if !given || err != nil || !(math.Abs(v) <= k.limit) {
			r.refuseAt(fmt.Sprintf("the control point has no usable %s", k.key), "write CONTROL lon=DEGREES lat=DEGREES")
			ok = false
			continue
		}
		*k.value = v
	}
	if ok {
		r.out.Controls = append(r.out.Controls, c)
	}
}

// label is the label of a code: its key, else its number.
func (r *reader) label() string {
	if p, ok := r.code.Value("label"); ok {
		return p.Value
	}
	return r.code.Number
}

// duty reads the key duty.
func (r *reader) duty(otherwise roof.Duty) roof.Duty {
	p, ok := r.code.Value("duty")
	if !ok {
		return otherwise
	}
	d, err := roof.ParseDuty(p.Value)
	if err != nil {
		r.refuseAt(err.Error(), "correct the code")
	}
	return d
}

// size reads the first of keys that is given as a length that cannot be negative, nor zero where positive
// is asked.
func (r *reader) size(otherwise quantity.Length, positive bool, keys ...string) quantity.Length {
	p, ok := r.code.Value(keys...)
	if !ok {
		return otherwise
	}
	l, ok := r.lengthOf(p)
	switch {
	case !ok:
		return otherwise
	case l < 0:
		r.refuseAt(p.Key+" is negative", "write its size")
	case l == 0 && positive:
		r.refuseAt(p.Key+" is zero", "write its size, or leave it out")
	}
	return l
}

func (r *reader) lengthOf(p code.Pair) (quantity.Length, bool) {
	l, imperial, err := quantity.ReadLength(r.pointed(p.Value), r.set.Unit)
	if err != nil {
		r.refuseAt(p.Key+": "+err.Error(), "correct the code")
		return 0, false
	}
	r.out.Imperial = r.out.Imperial || imperial
	return l, true
}

// warn says what was counted while reading.
func (r *reader) warn() {
	if r.latin {
		r.out.Warnings = append(r.out.Warnings, r.Name+": the text is not in UTF-8 and was read as ISO 8859-1.")
	}
	if r.skipped > 0 {
		r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: points left out because their code says IGNORE: %d.", r.Name, r.skipped))
	}
	if len(r.unknown) == 0 {
		return
	}
	words := make([]string, 0, len(r.unknown))
	total := 0
	for word, n := range r.unknown {
		words = append(words, fmt.Sprintf("%.40s %d", word, n))
		total += n
	}
	slices.Sort(words)
	r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: points with a code that is not known, taken as spots: %d (%s).", r.Name, total, draft.Listing(words)))
	r.out.Unknown = words
}

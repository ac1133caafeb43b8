package geojson

import (
	"fmt"

	"github.com/tidwall/gjson"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
)

func (r *reader) outline() {
	rings, ok := r.rings("outline")
	if !ok {
		return
	}
	o := draft.Outline{
		Outline:  roof.Outline{Feature: r.head(), Rings: rings},
		Name:     r.text("name"),
		Building: r.text("building"),
		Surveyed: r.text("surveyed"),
		Criteria: r.criteria(),

		Sigma:      r.size("sigma", 0, false),
		WallRunoff: word(r, "wall_runoff", "", draft.ParseWallRunoff),
		Structure:  r.structure(),
		Visit:      r.visit(),
	}
	_, stated := r.given("edge")
	o.EdgeAssumed = !stated
	o.NoOutlets = word(r, "outlets", false, roof.ParseNoOutlets)
	o.Elevations = word(r, "elevations", roof.Measured, roof.ParseElevations)
	o.Edge = word(r, "edge", roof.Wall, roof.ParseEdgeType)
	r.out.Outlines = append(r.out.Outlines, o)
}

// visit reads what was noted on the visit.
func (r *reader) visit() roof.Visit {
	var v roof.Visit
	for _, name := range roof.VisitNames() {
		if rule, mend := v.Set(name, r.text(name)); rule != "" {
			r.refuse(rule, mend)
		}
	}
	return v
}

func (r *reader) criteria() standard.Overrides {
	var o standard.Overrides
	for _, name := range standard.Names() {
		v, ok := r.given(name)
		if !ok {
			continue
		}
		text := choose.If(v.Type == gjson.String, v.Str, v.Raw)
		value, err := standard.Parse(name, text, r.set.Unit)
		if err != nil {
			r.refuse(err.Error(), "correct the property")
			continue
		}
		if o == nil {
			o = standard.Overrides{}
		}
		o[name] = value
	}
	return o
}

// curb reads a closed area that water cannot cross.
func (r *reader) curb() {
	if ring, ok := r.oneRing("curb"); ok {
		r.out.Curbs = append(r.out.Curbs, roof.Curb{Feature: r.head(), Ring: ring, Height: r.size("height", 0, false), Label: r.text("label")})
	}
}

// stain reads standing water as somebody saw it.
func (r *reader) stain() {
	ring, ok := r.oneRing("stain")
	if !ok {
		return
	}
	s := roof.Stain{
		Feature: r.head(), Ring: ring, Depth: r.size("depth", 0, false), HoursSinceRain: -1,
		Note: r.text("note"), Photo: r.text("photo"),
	}
	if hours, ok := r.number64("hours_since_rain"); ok {
		if hours < 0 {
			r.refuse(fmt.Sprintf("hours_since_rain is %g", hours), "write how many hours before the visit the rain ended")
		}
		s.HoursSinceRain = hours
	}
	if v, ok := r.given("outlets_clear"); ok {
		switch v.Type {
		case gjson.True:
			s.Outlets = roof.OutletsClear
		case gjson.False:
			s.Outlets = roof.OutletsBlocked
		case gjson.Null, gjson.Number, gjson.String, gjson.JSON:
			r.refuse("outlets_clear is "+v.Raw, "write true where the outlets let water through when it was seen, else false")
		}
	}
	r.out.Stains = append(r.out.Stains, s)
}

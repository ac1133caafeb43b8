package geojson

import (
	"fmt"

	"github.com/tidwall/gjson"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
)

// opening reads the sizes of a scupper.
func (r *reader) opening(o *roof.Outlet) {
	_, given := r.given("width")
	if v, ok := r.given("width_assumed"); ok && v.Bool() {
		given = false // an earlier output says that nobody measured it
	}
	o.Width, o.WidthAssumed = standard.ScupperWidth, !given
	if given {
		o.Width = r.size("width", standard.ScupperWidth, true)
	}
	o.OpeningHeight = r.size("opening_height", 0, false)
	o.CrestBreadth = r.size("crest_breadth", 0, true)
}

// pipes reads what the water of an outlet runs on through.
func (r *reader) pipes(o *roof.Outlet) {
	o.Leader = r.leader()
	o.Pipe = r.size("pipe", 0, true)
	o.PipeSlope = r.slope("pipe_slope")
	o.ConductorHead = r.size("conductor_head", 0, true)
	o.Crest = word(r, "crest", roof.CrestUnknown, roof.ParseCrest)
	o.DischargesTo = r.text("discharges_to")
}

// leader reads the size of a vertical pipe: a length, or width and depth as text.
func (r *reader) leader() roof.Pipe {
	v, ok := r.given("leader")
	if !ok {
		return roof.Pipe{}
	}
	if v.Type != gjson.String {
		return roof.Pipe{Diameter: r.size("leader", 0, true)}
	}
	p, imperial, err := draft.ParsePipe(v.Str, r.set.Unit)
	if err != nil {
		r.refuse("leader: "+err.Error(), "correct the property")
		return roof.Pipe{}
	}
	r.out.Imperial = r.out.Imperial || imperial
	return p
}

// slope reads a property as a slope: a text with its unit, or rise over run.
func (r *reader) slope(name string) quantity.Slope {
	v, ok := r.given(name)
	if !ok {
		return 0
	}
	text := choose.If(v.Type == gjson.String, v.Str, v.Raw)
	s, err := quantity.ParseSlope(text)
	if err != nil {
		r.refuse(name+": "+err.Error(), "correct the property")
	}
	return s
}

// sill reads a place where water would get in.
func (r *reader) sill() {
	if p, ok := r.mustHaveZ("sill"); ok {
		kind := word(r, "kind", roof.SillUnknown, roof.ParseSillKind)
		r.out.Sills = append(r.out.Sills, roof.Sill{Feature: r.head(), Position: p, Kind: kind, Label: r.text("label")})
	}
}

// structure reads what the outline says of the framing under the roof.
func (r *reader) structure() roof.Structure {
	s := roof.Structure{
		MemberSpan: r.size("member_span", 0, true), MemberSpacing: r.size("member_spacing", 0, true), LoadLimitBy: r.text("load_limit_by"),
	}
	if degrees, ok := r.number64("member_direction"); ok {
		if rule, mend := draft.SetDirection(&s, degrees); rule != "" {
			r.refuse(rule, mend)
		}
	}
	if v, ok := r.given("load_limit"); ok {
		limit, err := quantity.ParsePressure(v.String())
		if err != nil {
			r.refuse("load_limit: "+err.Error(), "correct the property")
		}
		s.LoadLimit = float64(limit)
	}
	if text := draft.LimitWarning(&s, fmt.Sprint(r.origin())); text != "" {
		r.out.Warnings = append(r.out.Warnings, text)
	}
	return s
}

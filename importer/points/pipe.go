package points

import (
	"fmt"
	"strconv"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/code"
)

// pipes takes what the water of an outlet runs on through.
func (r *reader) pipes(o *roof.Outlet) {
	o.Pipe = r.size(0, true, "pipe")
	o.ConductorHead = r.size(0, true, "conductor_head")
	if p, ok := r.code.Value("discharges_to"); ok {
		o.DischargesTo = p.Value
	}
	if p, ok := r.code.Value("leader"); ok {
		pipe, imperial, err := draft.ParsePipe(p.Value, r.set.Unit)
		r.report(p, err)
		o.Leader = pipe
		r.out.Imperial = r.out.Imperial || imperial
	}
	if p, ok := r.code.Value("pipe_slope"); ok {
		slope, err := quantity.ParseSlope(p.Value)
		r.report(p, err)
		o.PipeSlope = slope
	}
	if p, ok := r.code.Value("crest"); ok {
		crest, err := roof.ParseCrest(p.Value)
		r.report(p, err)
		o.Crest = crest
	}
}

// sill keeps a place where water would get in.
func (r *reader) sill() {
	if !r.place.HasZ {
		r.refuseAt("the sill has no elevation", "write the measured elevation, or take the row out")
		return
	}
	s := roof.Sill{Feature: r.head(), Position: r.place, Label: r.label()}
	if p, ok := r.code.Value("kind"); ok {
		kind, err := roof.ParseSillKind(p.Value)
		r.report(p, err)
		s.Kind = kind
	}
	r.out.Sills = append(r.out.Sills, s)
}

// structure takes what the outline's code says of the framing under the roof and of walls beside it.
func (r *reader) structure(o *draft.Outline) {
	if p, ok := r.code.Value("wall_runoff"); ok {
		rule, err := draft.ParseWallRunoff(p.Value)
		r.report(p, err)
		o.WallRunoff = rule
	}
	s := &o.Structure
	s.MemberSpan = r.size(0, true, "member_span")
	s.MemberSpacing = r.size(0, true, "member_spacing")
	if p, ok := r.code.Value("load_limit_by"); ok {
		s.LoadLimitBy = p.Value
	}
	if p, ok := r.code.Value("member_direction"); ok {
		degrees, err := strconv.ParseFloat(p.Value, 64)
		if err != nil {
			degrees = 1e9
		}
		if rule, mend := draft.SetDirection(s, degrees); rule != "" {
			r.refuseAt(rule, mend)
		}
	}
	if p, ok := r.code.Value("load_limit"); ok {
		limit, err := quantity.ParsePressure(p.Value)
		r.report(p, err)
		s.LoadLimit = float64(limit)
	}
	if text := draft.LimitWarning(s, fmt.Sprint(r.origin())); text != "" {
		r.out.Warnings = append(r.out.Warnings, text)
	}
}

// report refuses the row where the value of a key could not be read.
func (r *reader) report(p code.Pair, err error) {
	if err != nil {
		r.refuseAt(p.Key+": "+err.Error(), "correct the code")
	}
}

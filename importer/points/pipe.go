package points

import (
	"fmt"
	"strconv"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// pipes takes what the water of an outlet runs on through.
func (r *reader) pipes(o *roof.Outlet) {
	o.Pipe = r.size(0, true, "pipe")
	o.ConductorHead = r.size(0, true, "conductor_head")
	if p, ok := r.code.Value("discharges_to"); ok {
		o.DischargesTo = p.Value
	}
	take(r, "leader", &o.Leader, func(text string) (roof.Pipe, error) {
		pipe, imperial, err := draft.ParsePipe(text, r.set.Unit)
		r.out.Imperial = r.out.Imperial || imperial
		return pipe, err
	})
	take(r, "pipe_slope", &o.PipeSlope, quantity.ParseSlope)
	take(r, "crest", &o.Crest, roof.ParseCrest)
}

// take reads the value of a key, where the row's code has it; one that cannot be read refuses the row.
func take[T any](r *reader, key string, to *T, parse func(text string) (T, error)) {
	if p, ok := r.code.Value(key); ok {
		value, err := parse(p.Value)
		if err != nil {
			r.refuseAt(p.Key+": "+err.Error(), "correct the code")
		}
		*to = value
	}
}

// sill keeps a place where water would get in.
func (r *reader) sill() {
	if !r.place.HasZ {
		r.refuseAt("the sill has no elevation", "write the measured elevation, or take the row out")
		return
	}
	s := roof.Sill{Feature: r.head(), Position: r.place, Label: r.label()}
	take(r, "kind", &s.Kind, roof.ParseSillKind)
	r.out.Sills = append(r.out.Sills, s)
}

// structure takes what the outline's code says of the framing under the roof and of walls beside it.
func (r *reader) structure(o *draft.Outline) {
	take(r, "wall_runoff", &o.WallRunoff, draft.ParseWallRunoff)
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
	var limit quantity.Pressure
	take(r, "load_limit", &limit, quantity.ParsePressure)
	s.LoadLimit = float64(limit)
	if text := draft.LimitWarning(s, fmt.Sprint(r.origin())); text != "" {
		r.out.Warnings = append(r.out.Warnings, text)
	}
}

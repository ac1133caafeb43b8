package geojson

import (
	"fmt"
	"math"

	"github.com/tidwall/gjson"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
)

// checkedElevation reports whether a position's elevation is one that a roof can have.
func (r *reader) checkedElevation(p roof.Position) bool {
	if rule, mend := draft.CheckElevation(p.Z); rule != "" {
		r.refuseAt(p.Plan, rule, mend)
		return false
	}
	return true
}

// mustHaveZ reads the position of a thing that is nothing without its elevation.
func (r *reader) mustHaveZ(what string) (p roof.Position, ok bool) {
	if p, ok = r.elevated("elevation"); ok && !p.HasZ {
		r.refuseAt(p.Plan, "the "+what+" has no elevation", `give it as the third coordinate or as "elevation", or take the `+what+` out`)
		return p, false
	}
	return p, ok
}

// spot reads a surveyed point.
func (r *reader) spot() {
	p, ok := r.mustHaveZ("spot")
	if !ok {
		return
	}
	r.out.Spots = append(r.out.Spots, roof.Spot{Feature: r.head(), Position: p, Sigma: r.size("sigma", 0, false), Assumed: word(r, "assumed", false, parseFlag)})
}

// outlet reads a drain or a scupper. Its elevation is its invert.
func (r *reader) outlet() {
	p, ok := r.elevated("invert")
	if !ok {
		return
	}
	if _, ok := r.given("type"); !ok {
		r.refuseAt(p.Plan, "the outlet has no type", "give it the type drain or scupper; a gutter or a free edge is an edge")
		return
	}
	o := roof.Outlet{
		Feature: r.head(), Plan: p.Plan, Invert: p.Z, HasInvert: p.HasZ, Label: r.text("label"),
		Type: word(r, "type", roof.Drain, roof.ParseOutletType),
		Duty: word(r, "duty", roof.Primary, roof.ParseDuty),
	}
	if v, ok := r.given("invert_assumed"); ok && v.Bool() {
		o.Invert, o.HasInvert = 0, false // an earlier output says that nobody measured it
	}
	if o.Type == roof.Scupper {
		r.opening(&o)
	} else {
		o.Diameter = r.size("diameter", 0, false)
		o.Bowl = r.size("bowl", standard.Bowl, true)
		o.DamHeight = r.size("dam_height", 0, false)
		o.DamDiameter = r.size("dam_diameter", 0, true)
	}
	r.pipes(&o)
	if rule, mend := draft.CheckOutlet(&o); rule != "" {
		r.refuseAt(p.Plan, rule, mend)
	}
	r.out.Outlets = append(r.out.Outlets, draft.Outlet{Outlet: o})
}

// core reads a cut through the roof.
func (r *reader) core() {
	p, ok := r.elevated("elevation")
	if !ok {
		return
	}
	c := roof.Core{
		Feature: r.head(), Position: p, Deck: r.text("deck"),
		Cutter:  r.oneOf("cutter", r.text("cutter"), draft.Cutters),
		Reached: r.oneOf("reached", r.text("reached"), draft.Reaches),
	}
	layers, given := r.given("layers")
	if given && !layers.IsArray() {
		r.refuse("layers is not an array", `write [{"material": ..., "thickness": ...}, ...], top first`)
		return
	}
	if given {
		layers.ForEach(func(_, v gjson.Result) bool {
			c.Layers = append(c.Layers, r.layer(v, len(c.Layers)+1))
			return true
		})
	}
	r.out.Cores = append(r.out.Cores, c)
}

// layer reads layer n of a core.
func (r *reader) layer(v gjson.Result, n int) roof.Layer {
	at := fmt.Sprintf("layer %d: ", n)
	l := roof.Layer{
		Material:  r.fitting(at+"material", v.Get("material").String()),
		Condition: r.oneOf(at+"condition", v.Get("condition").String(), draft.Conditions),
	}
	if l.Material == "" {
		r.refuse(at+"the material is missing", "name it")
	}
	thickness := v.Get("thickness")
	if !thickness.Exists() {
		r.refuse(at+"the thickness is missing", "measure it")
		return l
	}
	t, ok := r.lengthOf(at+"thickness", thickness)
	if ok && t < 0 {
		r.refuse(at+"the thickness is negative", "write its size")
	}
	l.Thickness = t
	return l
}

// oneOf is draft.OneOf for the feature at hand.
func (r *reader) oneOf(name, text string, words []string) string {
	word, rule, mend := draft.OneOf(name, text, words)
	if rule != "" {
		r.refuse(rule, mend)
	}
	return word
}

// answer reads what somebody answered to a question.
func (r *reader) answer() {
	p, ok := r.point()
	if !ok {
		return
	}
	a := roof.Answer{
		Feature: r.head(), Plan: p.Plan, Placed: true, Question: r.text("question"), Text: r.text("answer"), By: r.text("by"), On: r.text("on"),
		To: roof.Recipient(r.text("to")), Covers: r.text("covers"),
	}
	if n, ok := r.number64("number"); ok {
		a.Number = int(max(0, min(n, roof.MostQuestions)))
		if a.Number < 1 || float64(a.Number) != n {
			r.refuseAt(p.Plan, fmt.Sprintf("number is %g, which is no number of a question", n), "write the number that the question had on paper, or leave it out")
			return
		}
	}
	if rule, mend := a.Settle(); rule != "" {
		r.refuseAt(p.Plan, rule, mend)
		return
	}
	r.out.Answers = append(r.out.Answers, a)
}

// control reads a point known in the site grid and on the map. Its place is in the site grid, whatever the
// frame of the file.
func (r *reader) control() {
	set := r.set
	r.set.Geographic = false
	p, ok := r.point()
	r.set = set
	if !ok {
		return
	}
	lon, hasLon := r.number64("lon")
	lat, hasLat := r.number64("lat")
	if !hasLon || !hasLat {
		r.refuseAt(p.Plan, "the control point has no lon and lat", "write its longitude and latitude in degrees")
		return
	}
	if math.Abs(lat) > 90 || math.Abs(lon) > 180 {
		r.refuseAt(p.Plan, fmt.Sprintf("lon %g, lat %g is no place on the map", lon, lat), "write longitude and latitude in degrees")
		return
	}
	r.out.Controls = append(r.out.Controls, roof.Control{
		Feature: r.head(), Plan: p.Plan, Lon: lon, Lat: lat, Sigma: r.size("sigma", 0, false),
	})
}

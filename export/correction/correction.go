// Package correction writes what may mend a roof: the options side by side, as JSON and as a page of text.
package correction

import (
	"io"

	"runnel/analysis/assembly"
	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/takeoff"
	"runnel/export/caution"
	"runnel/export/record"
)

// schema names the layout of the JSON; it changes when a name or a meaning does.
const schema = "runnel-correction-2"

// Proposal is the corrections of one roof with what is written beside them.
type Proposal struct {
	Book     *record.Book // of the roof as surveyed
	Result   *correction.Result
	Assembly *assembly.Result
	TakeOff  *takeoff.TakeOff   // of the option that is drawn; nil: none
	Chosen   int                // index into Result.Options of the option that is drawn; -1: none
	Counted  []*takeoff.TakeOff // by answer; nil: its amounts are those of the surface
	Costs    []Cost             // by answer; nil without prices
}

// Cost is what an answer costs at the user's prices.
type Cost struct {
	Money string // currency
	Cost  float64
}

// WriteJSON writes the options, indented.
func WriteJSON(w io.Writer, p *Proposal) error { return p.object().WriteJSON(w) }

func (p *Proposal) object() *record.Object {
	var o record.Object
	u := p.Book.Units
	r := p.Result
	o.Text("schema", schema)
	var roof record.Object
	roof.Text("id", p.Book.Names.Roof)
	roof.Text("name", p.Book.Study.Roof.Name)
	o.Raw("roof", roof.Append(nil))
	if p.Book.Run.Command != "" {
		o.Raw("run", p.Book.Run.Object().Append(nil))
	}
	o.Text("units", u.String())
	var before record.Object
	before.Int("ponds", len(p.Book.Study.Listed))
	if len(p.Book.Study.Listed) > 0 {
		u.Depth(&before, "deepest", p.Book.Study.Ponds.Ponds[p.Book.Study.Listed[0].Pond].Depth)
	}
	o.Raw("as_found", before.Append(nil))
	p.answers(&o)
	if p.Chosen >= 0 {
		o.Text("drawn", p.name(p.Chosen))
	}
	if l := r.InTheWay; l != nil {
		var in record.Object
		p.limit(&in, l)
		o.Raw("in_the_way", in.Append(nil))
	}
	var bound record.Object
	u.Solid(&bound, "fill", r.Bound.Fill)
	u.Slope(&bound, "slope", r.Bound.Slope)
	o.Raw("least_possible", bound.Append(nil))
	options := make([]record.Object, len(r.Options))
	for i := range options {
		p.option(&options[i], i)
	}
	o.Objects("options", options)
	if p.TakeOff != nil {
		var t record.Object
		p.takeOff(&t)
		o.Raw("take_off", t.Append(nil))
	}
	o.Text("status", caution.Design)
	return &o
}

// answers adds who has to be asked first and the three answers.
func (p *Proposal) answers(o *record.Object) {
	r := p.Result
	o.Bool("keep_off", len(r.KeepOff) > 0)
	o.Bool("engineer_first", len(r.EngineerFirst) > 0)
	o.Objects("keep_off_reasons", p.reasons(r.KeepOff))
	o.Objects("engineer_first_reasons", p.reasons(r.EngineerFirst))
	o.Texts("preference", names(r.Preference))
	answers := make([]record.Object, len(r.Answers))
	for i := range answers {
		p.answer(&answers[i], i)
	}
	o.Objects("answers", answers)
}

// name returns what option i is called: its kind, and of a taper how it falls.
func (p *Proposal) name(i int) string {
	o := &p.Result.Options[i]
	text := string(o.Kind)
	for k, part := range o.Parts {
		sep := choose.If(k == 0, ": ", " + ")
		text += sep + string(part)
	}
	if o.Gauge != "" {
		text += ", " + o.Gauge
	}
	return text
}

// option adds one option.
func (p *Proposal) option(o *record.Object, i int) {
	x := &p.Result.Options[i]
	u := p.Book.Units
	o.Text("kind", string(x.Kind))
	o.Text("name", p.name(i))
	o.Text("answer", x.Answer)
	o.Texts("parts", names(x.Parts))
	o.Text("gauge", x.Gauge)
	o.Bool("possible", x.Possible)
	o.Text("why", u.SayText(x.Why))
	o.Bool("meets", x.Meets)
	if x.Possible {
		p.figures(o, i)
	}
	o.Objects("limits", p.limits(x.Limits))
	o.Objects("limits_unknown", p.limits(x.Unknown))
	o.Objects("limits_kept", p.limits(x.Checked))
	o.Objects("to_be_allowed", p.limits(x.Flags))
	o.Objects("worse", p.limits(x.Worse))
	o.Objects("changes", p.changes(x))
	o.Texts("decides", x.Decides)
}

// figures adds the numbers of a possible option.
func (p *Proposal) figures(o *record.Object, i int) {
	x := &p.Result.Options[i]
	u := p.Book.Units
	u.Slope(o, "slope", record.Positive(x.Slope))
	u.Slope(o, "valley_slope", record.Positive(x.Valley))
	m := p.amountOf(i)
	u.Solid(o, "fill", m.laid)
	if x.Design != nil {
		p.levelled(o, &x.Design.Leveller)
	}
	u.Solid(o, "cut", m.out)
	u.Area(o, "area", m.area)
	u.Area(o, "opened", x.Opened)
	u.Solid(o, "least_fill", record.Positive(x.Least))
	u.Solid(o, "cut_to_measure_fill", record.Positive(x.ToMeasure))
	u.Depth(o, "average", m.average)
	u.Depth(o, "greatest", m.greatest)
	u.Depth(o, "deepest_cut", m.deepest)
	u.Pressure(o, "added", x.Added)
	u.Pressure(o, "added_greatest", x.Most)
	u.Pressure(o, "comes_off", record.Where(x.OffKnown, x.Off))
	if t := p.thermalOf(i); t != nil && t.Before.Known && t.After.Known && x.Design != nil {
		u.R(o, "r_least_before", t.Before.Least)
		u.R(o, "r_least_after", t.After.Least)
		u.R(o, "r_average_before", t.Before.Average)
		u.R(o, "r_average_after", t.After.Average)
	}
	o.Int("ponds_left", x.PondsLeft)
	o.Texts("left", x.Left)
	o.Int("flat_planes_left", x.FlatLeft)
}

func (p *Proposal) limits(list []correction.Limit) []record.Object {
	out := make([]record.Object, len(list))
	for i := range list {
		p.limit(&out[i], &list[i])
	}
	return out
}

// limit adds one comparison with a limit.
func (p *Proposal) limit(o *record.Object, l *correction.Limit) {
	u := p.Book.Units
	o.Text("name", l.Name)
	o.Text("where", l.Where)
	if l.Required.Name != "" {
		u.Quantity(o, "required", l.Required)
	}
	if l.Available.Name != "" {
		u.Quantity(o, "available", l.Available)
	}
	o.Text("decides", l.Decides)
	o.Text("source", l.Source)
}

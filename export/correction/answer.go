package correction

import (
	"encoding/json"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/export/record"
)

func names(kinds []mend.Kind) []string {
	return gather.Each(kinds, func(k mend.Kind) string { return string(k) })
}

// reasons writes why somebody has to be asked first.
func (p *Proposal) reasons(list []correction.Reason) []record.Object {
	out := make([]record.Object, len(list))
	for i := range list {
		out[i].Text("why", p.Book.Units.SayText(list[i].Why))
		out[i].Text("where", list[i].Where)
		out[i].Text("decides", list[i].Decides)
	}
	return out
}

// answer adds one answer with the figures of its roof.
func (p *Proposal) answer(o *record.Object, i int) {
	a := &p.Result.Answers[i]
	x := &p.Result.Options[a.Option]
	u := p.Book.Units
	o.Text("answer", a.Name)
	o.Bool("meets", a.Meets)
	o.Text("option", p.name(a.Option))
	list(o, "open_questions", p.questions(a))
	o.Texts("code_asks", p.texts(a.Asked))
	o.Texts("good_practice", p.texts(a.Practice))
	m := p.amountOf(a.Option)
	u.Area(o, "changed", m.area)
	u.Area(o, "opened", x.Opened)
	u.Solid(o, "fill", m.laid)
	u.Solid(o, "removed", m.out)
	u.Pressure(o, "added", x.Added)
	u.Pressure(o, "taken_off", record.Where(x.OffKnown, x.Off))
	o.Int("new_outlets", x.NewOutlets)
	list(o, "changes", p.changes(x))
	found := make([]record.Object, len(x.Worse))
	for k := range found {
		p.limit(&found[k], &x.Worse[k])
	}
	list(o, "new_findings", found)
	if len(x.Left) > 0 {
		o.Texts("ponds_left", x.Left)
	} else {
		o.Raw("ponds_left", json.RawMessage("[]"))
	}
	o.Int("flat_planes_left", x.FlatLeft)
	list(o, "findings_left", p.leftovers(a))
	if x.BlockedKnown {
		pair(o, "blocked_level", x.Blocked[0].Level, x.Blocked[1].Level, u.Length)
		pair(o, "blocked_depth", x.Blocked[0].Depth, x.Blocked[1].Depth, u.Depth)
		pair(o, "blocked_weight", x.Blocked[0].Weight, x.Blocked[1].Weight, u.Mass)
	}
	list(o, "limits", p.limits(x.Limits))
	o.Objects("limits_unknown", p.limits(x.Unknown))
	if i < len(p.Costs) {
		o.Number("cost", p.Costs[i].Cost, 2)
		o.Text("currency", p.Costs[i].Money)
	}
}

// texts writes texts in the units of the book.
func (p *Proposal) texts(list []finding.Text) []string {
	return gather.Each(list, p.Book.Units.SayText)
}

// questions writes what has to be found out first.
func (p *Proposal) questions(a *correction.Answer) []record.Object {
	u := p.Book.Units
	questions := make([]record.Object, len(a.Questions))
	for k := range questions {
		q := &a.Questions[k]
		questions[k].Text("question", u.SayText(q.Ask))
		questions[k].Text("where", q.Where)
		questions[k].Text("decides", q.Decides)
		questions[k].Text("if", u.SayText(q.If))
		questions[k].Text("then", u.SayText(q.Then))
	}
	return questions
}

// leftovers writes the findings that an answer does not mend.
func (p *Proposal) leftovers(a *correction.Answer) []record.Object {
	u := p.Book.Units
	left := make([]record.Object, len(a.Left))
	for k := range left {
		left[k].Text("kind", string(a.Left[k].Kind))
		left[k].Text("pond", a.Left[k].Pond)
		left[k].Text("what", u.SayText(a.Left[k].What))
		left[k].Text("do", u.SayText(a.Left[k].Do))
		left[k].Text("decides", a.Left[k].Decides)
	}
	return left
}

// list adds a list that stands there even where it is empty.
func list(o *record.Object, name string, objects []record.Object) {
	if len(objects) == 0 {
		o.Raw(name, json.RawMessage("[]"))
		return
	}
	o.Objects(name, objects)
}

// pair adds two numbers of one name, before and after.
func pair(o *record.Object, name string, before, after float64, add func(o *record.Object, name string, value float64)) {
	var a, b record.Object
	add(&a, name, before)
	add(&b, name, after)
	key := a.Names()[0]
	o.Raw(key, json.RawMessage("["+a.Value(key)+","+b.Value(key)+"]"))
}

// changes writes what an option does.
func (p *Proposal) changes(x *correction.Option) []record.Object {
	u := p.Book.Units
	out := make([]record.Object, len(x.Changes))
	for i := range out {
		c := &x.Changes[i]
		out[i].Text("kind", string(c.Kind))
		out[i].Text("finding", string(c.Finding))
		out[i].Text("pond", c.Pond)
		out[i].Text("what", u.SayText(c.What))
		out[i].Text("where", Place(p.Book, c))
		out[i].Text("decides", c.Decides)
		u.Area(&out[i], "opened", c.Opened)
		if c.At != (orb.Point{}) {
			at := p.Book.Study.Roof.Frame.ToFile(c.At)
			out[i].Raw("at", json.RawMessage("["+strconv.FormatFloat(at[0], 'f', 8, 64)+","+strconv.FormatFloat(at[1], 'f', 8, 64)+"]"))
		}
	}
	return out
}

// Place says where a change is made on the roof that is surveyed in b: at its pond, else where it lies.
func Place(b *record.Book, c *mend.Change) string {
	switch {
	case c.Kind == mend.Clear:
		return "each outlet"
	case c.Pond != "":
		return "at " + c.Pond
	case c.At == orb.Point{}:
		return ""
	}
	return b.Place(c.At)
}

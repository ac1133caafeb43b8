package model

import (
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/standard"
	"runnel/export/record"
)

// Part is a piece of a section: sentences under a heading, and a table where there is one.
type Part struct {
	Heading string
	Texts   []string
	Table   Table
}

// coresHeading is the heading of what the cores say.
const coresHeading = "What the cores say"

// coreParts returns what the cores say, in the order of the page; none on a roof without cores.
func coreParts(b *record.Book) []Part {
	if len(b.Study.Roof.Cores) == 0 {
		return nil
	}
	k := coreSection{book: b, u: b.Units, a: b.Study.Assembly}
	var all []Part
	for _, part := range []Part{k.regions(), k.ponds(), k.wet(), k.cores(), k.resistance(), k.load(), k.next()} {
		if len(part.Texts)+len(part.Table.Rows) > 0 {
			all = append(all, part)
		}
	}
	return all
}

// coreSection writes the section.
type coreSection struct {
	book *record.Book
	u    record.Units
	a    *assembly.Result
}

// regions says of each region what makes its slope, and what cannot be said; and at the end by which rules, each once.
func (k *coreSection) regions() Part {
	b := Part{Heading: "Where the slope is"}
	var rules []string
	for i := range k.a.Regions {
		g := &k.a.Regions[i]
		b.Texts = append(b.Texts, record.Capital(k.book.RegionName(g))+" ("+k.ids(g.Cores)+"): "+k.u.SayText(g.Sentence))
		if rule := "Rule: " + g.Source + "."; !slices.Contains(rules, rule) {
			rules = append(rules, rule)
		}
		if cannot := k.plain(g.Cannot.Format, k.u.SayText(g.Cannot)); cannot != "" {
			b.Texts = append(b.Texts, "What cannot be said of "+k.book.RegionName(g)+": "+cannot)
		}
	}
	if len(b.Texts) == 0 {
		b.Texts = []string{"No core gives a thickness on this roof, so nothing can be said."}
	}
	b.Texts = append(b.Texts, rules...)
	return b
}

// plain takes the caution off a text that ends with it: it stands once, beside the places.
func (k *coreSection) plain(format, text string) string {
	if strings.HasSuffix(format, assembly.Caution) {
		text = strings.TrimSpace(strings.TrimSuffix(text, assembly.Caution))
	}
	return text
}

func (k *coreSection) ids(of []int) string {
	names := gather.Each(of, func(i int) string { return k.a.Cores[i].ID })
	if len(names) == 1 {
		return "core " + names[0]
	}
	return "cores " + strings.Join(names, ", ")
}

// ponds says what is low under each listed pond.
func (k *coreSection) ponds() Part {
	b := Part{Heading: "Under the ponds"}
	for i := range k.a.Ponds {
		p := &k.a.Ponds[i]
		text := k.book.Study.Listed[i].ID + ": " + k.u.SayText(p.Sentence)
		for n := range k.book.NextCores {
			if p.HasNext && k.book.NextCores[n].Plan == p.Next {
				text += " Cut next: " + k.book.Names.Local(k.book.Names.NextCore(n)) + "."
			}
		}
		b.Texts = append(b.Texts, text)
	}
	return b
}

// wet lists what has to come out.
func (k *coreSection) wet() Part {
	b := Part{Heading: "Wet and compressed layers"}
	for _, w := range k.a.Wet {
		b.Texts = append(b.Texts, "Core "+k.a.Cores[w.Core].ID+", layer "+strconv.Itoa(w.Layer+1)+": "+k.u.SayDepth(w.Thickness)+" of "+w.Material+", "+w.Condition+".")
	}
	if len(b.Texts) > 0 {
		b.Texts = append(b.Texts, "Such layers are taken out, never covered ("+standard.WetSource+"). Load and R below are those of dry layers; do not count on drying when checking loads.")
	}
	return b
}

func (k *coreSection) cores() Part {
	t := Table{ID: "cores", More: "more cores", Columns: append(heads("core", "thick", "give or take", "deck level", "R", "load"), sentences("layers", "to be known")...)}
	for i := range k.a.Cores {
		c := &k.a.Cores[i]
		row := Row{k.book.Names.Input("core", c.ID), []Cell{{Text: c.ID}, none, none, none, none, none, {Text: Layers(k.u, c)}, {Text: Flags(c)}}}
		if c.HasThickness {
			row.Cells[1], row.Cells[2] = say(k.u.SayDepth(c.Thickness), c.Thickness), say(k.u.SayDepth(c.Sigma), c.Sigma)
		}
		if c.HasDeck {
			row.Cells[3] = say(k.u.SayElevation(c.Deck), c.Deck)
		}
		if c.RKnown {
			row.Cells[4] = say(k.u.SayR(c.R), c.R)
		}
		if c.LoadKnown {
			row.Cells[5] = say(k.u.SayPressure(c.Load), c.Load)
		}
		t.Rows = append(t.Rows, row)
	}
	return Part{Heading: "Cores, layers from the top", Table: t}
}

// Layers writes a core's layers short.
func Layers(u record.Units, c *assembly.Core) string {
	var out []string
	for i := range c.Layers {
		l := &c.Layers[i]
		s := l.Material
		if l.Thickness > 0 {
			s = u.SayDepth(l.Thickness) + " " + s
		}
		if l.Condition != "" && l.Condition != "sound" {
			s += " (" + l.Condition + ")"
		}
		out = append(out, s)
	}
	if c.DeckType != "" {
		out = append(out, "deck: "+c.DeckType)
	}
	return orNone(strings.Join(out, ", "))
}

// Flags writes what is to be known of a core.
func Flags(c *assembly.Core) string {
	return orNone(strings.Join(gather.Each(c.Flags, func(f assembly.Flag) string { return string(f) }), "; "))
}

func (k *coreSection) resistance() Part {
	r := &k.a.R
	b := Part{Heading: "Thermal resistance, dry and sound"}
	if !r.Known {
		b.Texts = []string{"Only that of each core is known: " + strings.TrimSuffix(r.Why, ".") + "."}
		return b
	}
	b.Texts = []string{
		"Known over " + k.u.SayArea(r.Area) + ", " + record.SayShare(r.Share) + " of the roof. Thickness " + k.u.SayDepth(r.Least) + " to " + k.u.SayDepth(r.Greatest) +
			", on average " + k.u.SayDepth(r.Mean) + "; R at one place " + k.u.SayR(r.LeastR) + " to " + k.u.SayR(r.GreatestR) + ".",
		"R is that of the layers, U that of the layers with air films of " + k.u.SayR(r.Films) + ". Sources disagree on how to state one R. The marked one is used here (--r-method); the energy authority says which counts.",
	}
	b.Table = Table{ID: "resistance", More: "more methods", Columns: append(heads("method", "R", "U", ""), sentences("what it does, and where it stands")...)}
	for i := range r.Rows {
		w := &r.Rows[i]
		row := []Cell{{Text: string(w.Method)}, none, none, {}, {Text: w.Meaning + " " + w.Source}}
		if w.OK {
			row[1], row[2] = say(k.u.SayR(w.R), w.R), say(k.u.SayU(w.U), w.U)
		} else {
			row[4].Text = "Does not apply: " + strings.TrimSuffix(w.Why, ".") + ". " + row[4].Text
		}
		if w.Method == r.Chosen {
			row[3].Text = "taken"
		}
		b.Table.Rows = append(b.Table.Rows, Row{Cells: row})
	}
	return b
}

// load gives the dead load and what no table knows.
func (k *coreSection) load() Part {
	l := &k.a.Load
	b := Part{Heading: "Dead load of the assembly, membrane to deck"}
	if l.Cores > 0 {
		text := "On average " + k.u.SayPressure(l.Mean) + ", at most " + k.u.SayPressure(l.Greatest) + " over " + record.Plural(l.Cores, "core") + "."
		if !l.Known {
			text = "At least, since not every layer's weight is known: " + record.Small(text)
		}
		b.Texts = append(b.Texts, text)
	}
	for _, m := range k.a.Unknown {
		var what []string
		if m.R {
			what = append(what, "R per thickness (state it with --materials)")
		}
		if m.Load {
			what = append(what, "weight")
		}
		b.Texts = append(b.Texts, "Not in the tables, of "+m.Material+": "+strings.Join(what, " and ")+".")
	}
	return b
}

// next is the table of cores to cut next, with the caution.
func (k *coreSection) next() Part {
	if len(k.book.NextCores) == 0 {
		return Part{}
	}
	t := Table{ID: "next-cores", More: "more cores", Columns: append(heads("mark", "place", "for"), sentences("why")...)}
	for i := range k.book.NextCores {
		n := &k.book.NextCores[i]
		id := k.book.Names.NextCore(i)
		why := k.plain(n.Why.Format, k.u.SayText(n.Why))
		t.Rows = append(t.Rows, Row{id, []Cell{{Text: k.book.Names.Local(id)}, {Text: k.book.Place(n.Plan)}, {Text: n.For}, {Text: why}}})
	}
	return Part{"Cores to cut next", []string{k.u.SayText(k.book.Study.KeepOff.Guard(finding.Say(assembly.Caution)))}, t}
}

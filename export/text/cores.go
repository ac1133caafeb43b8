package text

import (
	"bytes"
	"strconv"
	"strings"
	"text/tabwriter"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
	"runnel/export/record"
)

// Block is a piece of a section, for a writer that lays it out in its own way: sentences under a heading, and a table whose
// first row is the heads.
type Block struct {
	Heading string
	Texts   []string
	Name    string // of the table, one word
	Table   [][]string
	Values  [][]float64 // of the columns after the first, as far as they hold numbers, by row after the heads; SI, -1 where one is not known
	Short   int         // columns that are short; the others hold sentences
	IDs     []string    // of the table's rows on the map, by row after the heads; empty where they are on none
}

// CoresTitle is the heading of what Cores returns.
const CoresTitle = "What the cores say"

// Cores returns what the cores say, in the order of the page; none on a roof without cores.
func Cores(b *record.Book) []Block {
	if len(b.Study.Roof.Cores) == 0 {
		return nil
	}
	k := coreSection{book: b, u: b.Units, a: b.Study.Assembly}
	var all []Block
	for _, block := range []Block{k.regions(), k.ponds(), k.wet(), k.cores(), k.resistance(), k.load(), k.next()} {
		if len(block.Texts)+len(block.Table) > 0 {
			all = append(all, block)
		}
	}
	return all
}

// whatTheCoresSay is the section of the page.
func (p *page) whatTheCoresSay() {
	blocks := Cores(p.book)
	if blocks == nil {
		return
	}
	p.heading(CoresTitle)
	for i, b := range blocks {
		if i > 0 {
			p.line()
		}
		p.hang("  ", b.Heading+":")
		for _, t := range b.Texts {
			p.bullet(t)
		}
		if b.Table != nil {
			p.long(b.Table, b.Short)
		}
	}
}

// long writes a table whose columns beyond the first short ones hold sentences: these stand below their row.
func (p *page) long(rows [][]string, short int) {
	var t bytes.Buffer
	w := tabwriter.NewWriter(&t, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		_, _ = w.Write([]byte(row(r[:short])))
	}
	_ = w.Flush()
	i := 0
	for l := range strings.Lines(t.String()) {
		p.line(strings.TrimRight(l, " \n"))
		for k := short; i > 0 && k < len(rows[i]); k++ {
			if rows[i][k] != "-" {
				p.hang("      ", rows[0][k]+": "+rows[i][k])
			}
		}
		i++
	}
}

// coreSection writes the section.
type coreSection struct {
	book *record.Book
	u    record.Units
	a    *assembly.Result
}

// regions says of each region what makes its slope, from which rule, and what cannot be said.
func (k *coreSection) regions() Block {
	b := Block{Heading: "Where the slope is"}
	for i := range k.a.Regions {
		g := &k.a.Regions[i]
		b.Texts = append(b.Texts, capital(k.book.RegionName(g))+" ("+k.ids(g.Cores)+"): "+k.u.SayText(g.Sentence)+" Rule: "+g.Source+".")
		if cannot := k.plain(g.Cannot.Format, k.u.SayText(g.Cannot)); cannot != "" {
			b.Texts = append(b.Texts, "What cannot be said of "+k.book.RegionName(g)+": "+cannot)
		}
	}
	if len(b.Texts) == 0 {
		b.Texts = []string{"No core gives a thickness on this roof, so nothing can be said."}
	}
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
	names := make([]string, len(of))
	for j, i := range of {
		names[j] = k.a.Cores[i].ID
	}
	if len(names) == 1 {
		return "core " + names[0]
	}
	return "cores " + strings.Join(names, ", ")
}

// ponds says what is low under each listed pond.
func (k *coreSection) ponds() Block {
	b := Block{Heading: "Under the ponds"}
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
func (k *coreSection) wet() Block {
	b := Block{Heading: "Wet and compressed layers"}
	for _, w := range k.a.Wet {
		b.Texts = append(b.Texts, "Core "+k.a.Cores[w.Core].ID+", layer "+strconv.Itoa(w.Layer+1)+": "+k.u.SayDepth(w.Thickness)+" of "+w.Material+", "+w.Condition+".")
	}
	if len(b.Texts) > 0 {
		b.Texts = append(b.Texts, "Such layers are taken out, never covered ("+standard.WetSource+"). Load and R below are those of dry layers; do not count on drying when checking loads.")
	}
	return b
}

// cores is the table of cores.
func (k *coreSection) cores() Block {
	b := Block{Heading: "Cores, layers from the top", Name: "cores", Short: 6, Table: [][]string{{"core", "thick", "give or take", "deck level", "R", "load", "layers", "to be known"}}}
	for i := range k.a.Cores {
		c := &k.a.Cores[i]
		row := []string{c.ID, "-", "-", "-", "-", "-", layers(k.u, c), flags(c)}
		values := []float64{-1, -1, -1, -1, -1}
		if c.HasThickness {
			row[1], row[2] = k.u.SayDepth(c.Thickness), k.u.SayDepth(c.Sigma)
			values[0], values[1] = c.Thickness, c.Sigma
		}
		if c.HasDeck {
			row[3], values[2] = k.u.SayElevation(c.Deck), c.Deck
		}
		if c.RKnown {
			row[4], values[3] = k.u.SayR(c.R), c.R
		}
		if c.LoadKnown {
			row[5], values[4] = k.u.SayPressure(c.Load), c.Load
		}
		b.Table, b.Values = append(b.Table, row), append(b.Values, values)
		b.IDs = append(b.IDs, k.book.Names.Input("core", c.ID))
	}
	return b
}

// layers writes a core's layers short.
func layers(u record.Units, c *assembly.Core) string {
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
	return dash(strings.Join(out, ", "))
}

func flags(c *assembly.Core) string {
	out := make([]string, len(c.Flags))
	for i, f := range c.Flags {
		out[i] = string(f)
	}
	return dash(strings.Join(out, "; "))
}

// resistance gives R by every method.
func (k *coreSection) resistance() Block {
	r := &k.a.R
	b := Block{Heading: "Thermal resistance, dry and sound"}
	if !r.Known {
		b.Texts = []string{"Only that of each core is known: " + strings.TrimSuffix(r.Why, ".") + "."}
		return b
	}
	b.Texts = []string{
		"Known over " + k.u.SayArea(r.Area) + ", " + record.SayShare(r.Share) + " of the roof. Thickness " + k.u.SayDepth(r.Least) + " to " + k.u.SayDepth(r.Greatest) +
			", on average " + k.u.SayDepth(r.Mean) + "; R at one place " + k.u.SayR(r.LeastR) + " to " + k.u.SayR(r.GreatestR) + ".",
		"R is that of the layers, U that of the layers with air films of " + k.u.SayR(r.Films) + ". Sources disagree on how to state one R. The marked one is used here (--r-method); the energy authority says which counts.",
	}
	b.Name, b.Short = "resistance", 4
	b.Table = [][]string{{"method", "R", "U", "", "what it does, and where it stands"}}
	for i := range r.Rows {
		w := &r.Rows[i]
		row, values := []string{string(w.Method), "-", "-", "", w.Meaning + " " + w.Source}, []float64{-1, -1}
		if w.OK {
			row[1], row[2] = k.u.SayR(w.R), k.u.SayU(w.U)
			values[0], values[1] = w.R, w.U
		} else {
			row[4] = "Does not apply: " + strings.TrimSuffix(w.Why, ".") + ". " + row[4]
		}
		if w.Method == r.Chosen {
			row[3] = "taken"
		}
		b.Table, b.Values = append(b.Table, row), append(b.Values, values)
	}
	return b
}

// load gives the dead load and what no table knows.
func (k *coreSection) load() Block {
	l := &k.a.Load
	b := Block{Heading: "Dead load of the assembly, membrane to deck"}
	if l.Cores > 0 {
		text := "On average " + k.u.SayPressure(l.Mean) + ", at most " + k.u.SayPressure(l.Greatest) + " over " + plural(l.Cores, "core") + "."
		if !l.Known {
			text = "At least, since not every layer's weight is known: " + lower(text)
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
func (k *coreSection) next() Block {
	b := Block{Heading: "Cores to cut next", Name: "next-cores", Short: 3}
	for i := range k.book.NextCores {
		if b.Table == nil {
			b.Texts = []string{k.u.SayText(k.book.Study.KeepOff.Guard(finding.Say(assembly.Caution)))}
			b.Table = [][]string{{"mark", "place", "for", "why"}}
		}
		n := &k.book.NextCores[i]
		id := k.book.Names.NextCore(i)
		b.Table = append(b.Table, []string{k.book.Names.Local(id), k.book.Place(n.Plan), n.For, k.plain(n.Why.Format, k.u.SayText(n.Why))})
		b.IDs = append(b.IDs, id)
	}
	return b
}

package campus

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/text"
)

// most is how many roofs the page lists, and as many of those that could not be checked; the table has all.
const most = 50

// NotChecked stands in the page's lines between the name of a roof that could not be checked and the reason.
const NotChecked = ": not checked: "

// wide is how many characters a line of the page has.
const wide = 105

// page is the table for reading.
type page struct {
	out    io.Writer
	total  *Total
	units  record.Units
	head   bytes.Buffer
	rows   bytes.Buffer
	list   *tabwriter.Writer
	failed bytes.Buffer
	fails  int
	off    keepOff
}

func newPage(out io.Writer, total *Total, o Options) *page {
	p := &page{out: out, total: total, units: o.Units}
	fmt.Fprintf(&p.head, "Roofs checked: %s. Could not be checked: %s.\n", count(total.Roofs-total.Failed), count(total.Failed))
	p.head.WriteString(Fold(o.Rank.Say()) + "\n\n")
	p.list = tabwriter.NewWriter(&p.rows, 0, 0, 2, ' ', 0)
	line(p.list, "", "roof", "urgent", "repair", "note", "ponds", "deepest", "water", "blocked", "roof area", "worst finding", "files")
	return p
}

// Fold breaks a text into lines.
func Fold(text string) string {
	var b strings.Builder
	at := 0
	for word := range strings.FieldsSeq(text) {
		switch {
		case at == 0:
		case at+1+len(word) > wide:
			b.WriteByte('\n')
			at = 0
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += len(word)
	}
	return b.String()
}

func (p *page) row(r *Row, number int) {
	p.off.add(r)
	if r.Reason != "" {
		if p.fails++; p.fails <= most {
			p.failed.WriteString(r.Name + NotChecked + r.Reason + "\n")
		}
		return
	}
	if number > most {
		return
	}
	u := p.units
	depth, weight, blocked := "-", "-", "-"
	if r.Ponds > 0 {
		depth, weight = u.SayDepth(r.Depth), u.SayMass(r.Weight)
	}
	if r.Blocked > 0 {
		blocked = u.SayPressure(r.Blocked)
	}
	line(p.list, fmt.Sprint(number), fullName(r), fmt.Sprint(r.Counts[finding.Urgent]), fmt.Sprint(r.Counts[finding.Repair]),
		fmt.Sprint(r.Counts[finding.Note]), fmt.Sprint(r.Ponds), depth, weight, blocked, u.SayArea(r.Area), r.Worst, r.Stem)
}

func (p *page) end() error {
	b := &p.head
	if text := p.off.say(); text != "" {
		b.WriteString(text + "\n\n")
	}
	if err := p.list.Flush(); err != nil {
		return err
	}
	b.Write(p.rows.Bytes())
	if more := p.total.Roofs - p.total.Failed - most; more > 0 {
		fmt.Fprintf(b, "and %s more in %s\n", count(more), tableName)
	}
	b.Write(p.failed.Bytes())
	if more := p.fails - most; more > 0 {
		fmt.Fprintf(b, "and %s more that could not be checked, in %s\n", count(more), tableName)
	}
	b.WriteString("\n\"blocked\" is the load where water is deepest with every primary outlet blocked.\n")
	b.WriteString("This does not say that any roof can carry the water: that is for a structural engineer.\n")
	cautions := text.NewLines()
	cautions.Heading("Cautions")
	for _, c := range caution.Texts(inspection.Everywhere()) {
		cautions.Bullet(c)
	}
	b.Write(cautions.Bytes())
	for l := range strings.Lines(b.String()) {
		if _, err := io.WriteString(p.out, strings.TrimRight(l, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

func line(t io.Writer, cells ...string) { _, _ = fmt.Fprintln(t, strings.Join(cells, "\t")) }

// keepOff names the roofs that people are to keep off, the first of them.
type keepOff struct {
	names []string
	count int
}

func (k *keepOff) add(r *Row) {
	if !r.KeepOff {
		return
	}
	if k.count++; k.count <= most {
		k.names = append(k.names, fullName(r))
	}
}

// say returns the sentence; empty where there is none.
func (k *keepOff) say() string {
	if k.count == 0 {
		return ""
	}
	const few = 6
	names := strings.Join(k.names[:min(few, len(k.names))], "; ") // a name has a comma behind its building
	if k.count > few {
		names = fmt.Sprintf("%s and %s more", names, count(k.count-few))
	}
	return "Keep off, and call a structural engineer today: " + names + ". " + record.Decides(finding.Engineer)
}

// headline says the worst of a row in a few words.
func headline(r *Row, u record.Units) string {
	off := choose.If(r.KeepOff, "keep off; ", "")
	if what := u.SayText(r.What); what != "" && r.Reason == "" {
		off += strings.TrimSuffix(what, ".") + "; "
	}
	switch {
	case r.Reason != "":
		return "could not be checked"
	case r.Ponds == 0:
		n := r.Counts[0] + r.Counts[1] + r.Counts[2]
		return choose.If(n == 1, off+"1 finding, no pond listed", off+fmt.Sprintf("%d findings, no pond listed", n))
	}
	return off + fmt.Sprintf("%d urgent, %d to repair; deepest water %s, %s in all",
		r.Counts[finding.Urgent], r.Counts[finding.Repair], u.SayDepth(r.Depth), u.SayMass(r.Weight))
}

// fullName is the building and the roof.
func fullName(r *Row) string {
	return choose.If(r.Building == "" || r.Building == r.Name, r.Name, r.Building+", "+r.Name)
}

package campus

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/text"
)

// most is how many roofs the page lists; the table has all.
const most = 50

// NotChecked stands in the page's lines between the name of a roof that could not be checked and the reason.
const NotChecked = ": not checked: "

// Page writes the table for reading. The rows must be sorted.
func Page(out io.Writer, rows []Row, u record.Units) error {
	var b bytes.Buffer
	failures := 0
	for i := range rows {
		failures += failed(rows[i])
	}
	fmt.Fprintf(&b, "Roofs checked: %d. Could not be checked: %d.\n%s\n\n", len(rows)-failures, failures, Rule)
	b.WriteString(keepOff(rows))
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	line(t, "", "roof", "urgent", "repair", "note", "ponds", "deepest", "water", "roof area", "worst finding", "files")
	for i := range rows[:min(most, len(rows)-failures)] {
		r := &rows[i]
		depth, weight := "-", "-"
		if r.Ponds > 0 {
			depth, weight = u.SayDepth(r.Depth), u.SayMass(r.Weight)
		}
		line(t, fmt.Sprint(i+1), fullName(r), fmt.Sprint(r.Counts[finding.Urgent]), fmt.Sprint(r.Counts[finding.Repair]),
			fmt.Sprint(r.Counts[finding.Note]), fmt.Sprint(r.Ponds), depth, weight, u.SayArea(r.Area), r.Worst, r.Stem)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if more := len(rows) - failures - most; more > 0 {
		fmt.Fprintf(&b, "and %d more in %s\n", more, tableName)
	}
	for i := len(rows) - failures; i < len(rows); i++ {
		b.WriteString(rows[i].Name + NotChecked + rows[i].Reason + "\n")
	}
	b.WriteString("\nThis does not say that any roof can carry the water: that is for a structural engineer.\n")
	cautions := text.NewLines()
	cautions.Heading("Cautions")
	for _, c := range caution.Texts(inspection.Everywhere()) {
		cautions.Bullet(c)
	}
	b.Write(cautions.Bytes())
	for l := range strings.Lines(b.String()) {
		if _, err := io.WriteString(out, strings.TrimRight(l, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

func line(t io.Writer, cells ...string) { _, _ = fmt.Fprintln(t, strings.Join(cells, "\t")) }

// keepOff names the roofs that people are to keep off; empty where there is none.
func keepOff(rows []Row) string {
	var names []string
	for i := range rows {
		if rows[i].KeepOff {
			names = append(names, fullName(&rows[i]))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Keep off, and call a structural engineer today: " + record.Some(names) + ". " + record.Decides(finding.Engineer) + "\n\n"
}

// headline says the worst of a row in a few words.
func headline(r *Row, u record.Units) string {
	off := ""
	if r.KeepOff {
		off = "keep off; "
	}
	if what := u.SayText(r.What); what != "" && r.Reason == "" {
		off += strings.TrimSuffix(what, ".") + "; "
	}
	switch {
	case r.Reason != "":
		return "could not be checked"
	case r.Ponds == 0:
		n := r.Counts[0] + r.Counts[1] + r.Counts[2]
		if n == 1 {
			return off + "1 finding, no pond listed"
		}
		return off + fmt.Sprintf("%d findings, no pond listed", n)
	}
	return off + fmt.Sprintf("%d urgent, %d to repair; deepest water %s, %s in all",
		r.Counts[finding.Urgent], r.Counts[finding.Repair], u.SayDepth(r.Depth), u.SayMass(r.Weight))
}

// fullName is the building and the roof.
func fullName(r *Row) string {
	if r.Building == "" || r.Building == r.Name {
		return r.Name
	}
	return r.Building + ", " + r.Name
}

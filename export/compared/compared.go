// Package compared writes what changed between two surveys of one roof: a page to read, JSON, GeoJSON and, of a finished roof, the list of the places that
// were set out.
package compared

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/change"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/text"
)

// Comparison is two surveys with what changed.
type Comparison struct {
	Before, After *record.Book
	Result        *change.Result
	*Acceptance   // nil where nothing was planned
}

// New compares two surveys.
func New(before, after *record.Book, o change.Options) *Comparison {
	return &Comparison{Before: before, After: after, Result: change.Of(before.Study, after.Study, o)}
}

// Worst is the severity of what changed, ok false where nothing did: a new or deeper pond and a place outside the limit are to be repaired; a part that
// rose or dropped, and a place that is not resolved, are noted.
func (c *Comparison) Worst() (worst finding.Severity, ok bool) {
	note := func(s finding.Severity) {
		if !ok || s > worst {
			worst, ok = s, true
		}
	}
	if len(c.Result.Regions) > 0 {
		note(finding.Note)
	}
	for i := range c.Result.Ponds {
		if s := c.Result.Ponds[i].State; s == change.New || s == change.Deeper {
			note(finding.Repair)
		}
	}
	if s, listed := c.worst(); listed {
		note(s)
	}
	return worst, ok
}

// Accept compares the finished roof with the set-out points of the planned one.
func (c *Comparison) Accept(limit quantity.Length) error {
	list, err := accept(c.Before, c.u(), limit, func(wanted []change.Wanted) []change.Place {
		return change.Accept(c.Before.Study, c.After.Study, wanted, limit)
	}, func(w change.Wanted) change.Place {
		return change.AcceptInlet(c.Before.Study, c.After.Study, w, limit)
	})
	c.Acceptance = list
	return err
}

// u are the units of the results, those of the later survey.
func (c *Comparison) u() record.Units { return c.After.Units }

// where says where a place of the later roof lies.
func (c *Comparison) where(p orb.Point) string { return c.u().SayText(c.After.Study.Places.Of(p)) }

// moved says a rise or a drop, of a height that reads the same that it stayed.
func (c *Comparison) moved(rise float64) string { return moved(c.u(), rise) }

func moved(u record.Units, rise float64) string {
	switch by := u.SayDepth(math.Abs(rise)); {
	case by == u.SayDepth(0):
		return "stayed"
	case rise > 0:
		return "rose " + by
	default:
		return "dropped " + by
	}
}

// WriteText writes the page.
func (c *Comparison) WriteText(w io.Writer) error {
	l := text.NewLines()
	l.Title(c.title())
	if first, ok := c.After.KeepOff(); ok {
		l.Entry("FIRST", first.Say())
	}
	if c.Acceptance != nil {
		l.Entry("SET OUT", c.accepted())
	}
	l.Entry("CHANGED", c.changed())
	l.Entry("PONDS", c.sayPonds())
	if s := sayShift(c.u(), &c.Result.Shift); s != "" {
		l.Entry("LEVELS", s)
	}
	l.Entry("SURVEYS", c.surveys())
	l.Entry("LIMIT", "This compares two surveys. It does not say why the roof moved, nor that it can carry the water. That is for a structural engineer.")
	listed(l, "Parts that rose or dropped", c.regionRows())
	listed(l, "Ponds", c.pondRows())
	if c.Acceptance != nil {
		listed(l, "Places that were set out", c.placeRows())
	}
	return writeEnd(w, l, c.After.Study.Cautions)
}

// listed writes a table below its heading, nothing where it has no row below its heads.
func listed(l *text.Lines, heading string, rows [][]string) {
	if len(rows) > 1 {
		l.Heading(heading)
		l.Table(rows)
	}
}

// writeEnd ends a page with its cautions and writes it.
func writeEnd(w io.Writer, l *text.Lines, cautions []inspection.Caution) error {
	l.Heading("Cautions")
	for _, t := range caution.Texts(cautions) {
		l.Bullet(t)
	}
	_, err := w.Write(l.Bytes())
	return err
}

func (c *Comparison) title() string {
	name := c.After.Study.Roof.Name
	before, after := c.Before.Study.Roof.Surveyed, c.After.Study.Roof.Surveyed
	switch {
	case c.Acceptance != nil:
		return name + ": the finished roof and what was planned"
	case before != "" && after != "":
		return fmt.Sprintf("%s: %s and %s", name, before, after)
	}
	return name + ": two surveys"
}

func (c *Comparison) changed() string {
	r := c.Result
	if len(r.Regions) == 0 {
		return fmt.Sprintf("No place changed by more than the errors of both surveys, of %s.", text.Plural(len(r.Spots), "spot"))
	}
	g := &r.Regions[0]
	return fmt.Sprintf("%s changed by more than the errors of both surveys. The largest %s, give or take %s, over about %s, %s.",
		text.Plural(len(r.Regions), "place"), c.moved(g.Rise), c.u().SayDepth(g.Error), c.u().SayArea(g.Area), c.where(r.Spots[g.Spots[0]].Plan))
}

func (c *Comparison) sayPonds() string {
	if len(c.Result.Ponds) == 0 {
		return "None before and none now, as far as the spots show."
	}
	var parts []string
	for _, s := range []change.State{change.New, change.Deeper, change.Gone, change.Less, change.Same} {
		n, unsure := 0, 0
		for i := range c.Result.Ponds {
			if p := &c.Result.Ponds[i]; p.State == s {
				n++
				if p.Unsure {
					unsure++
				}
			}
		}
		if n == 0 {
			continue
		}
		part := strconv.Itoa(n) + " " + string(s)
		if unsure > 0 {
			part += fmt.Sprintf(" (%d where the later survey has no spot in the water: shoot there)", unsure)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ") + "."
}

// sayShift says what the later survey as a whole stands above the earlier one; empty where that is nothing.
func sayShift(u record.Units, s *change.Shift) string {
	side := choose.If(s.Median < 0, "below", "above")
	off := fmt.Sprintf("As a whole the later survey stands %s %s the earlier one, give or take %s.", u.SayDepth(math.Abs(s.Median)), side, u.SayDepth(s.Error))
	if u.SayDepth(math.Abs(s.Median)) == u.SayDepth(0) {
		off = "As a whole the two surveys stand at one level, give or take " + u.SayDepth(s.Error) + "."
	}
	switch {
	case s.Taken:
		return off + " That was taken off before places were compared."
	case s.Shown:
		return off + " Both must hang on one bench mark. If they do not, compare with --level, which takes it off."
	}
	return ""
}

func (c *Comparison) surveys() string {
	r := c.Result
	between := gather.Count(r.Spots, func(x change.Spot) bool { return x.Between })
	said := fmt.Sprintf("%s before, %s now. %s compared", text.Plural(len(c.Before.Study.Roof.Spots), "spot"), text.Plural(len(c.After.Study.Roof.Spots), "spot"), plural(len(r.Spots), "was", "were"))
	if r.Off > 0 {
		said += fmt.Sprintf(", %s off the earlier roof", plural(r.Off, "lies", "lie"))
	}
	said += ". "
	if between > 0 {
		said += fmt.Sprintf("%s where one was before; there the roof between spots counts as known to %s. ", plural(between, "does not stand", "do not stand"), c.u().SayDepth(r.Roughness))
	}
	return said + fmt.Sprintf("A change counts from %.1f standard errors: on a roof that did not move, one comparison in twenty names any.", r.Threshold)
}

func plural(n int, one, many string) string {
	return choose.If(n == 1, "1 "+one, strconv.Itoa(n)+" "+many)
}

// mostRows is how many rows of a table are printed.
const mostRows = 40

func (c *Comparison) regionRows() [][]string {
	rows := [][]string{{"part", "change", "give or take", "about", "spots", "where it is largest"}}
	for i := range c.Result.Regions[:min(mostRows, len(c.Result.Regions))] {
		g := &c.Result.Regions[i]
		rows = append(rows, []string{
			c.regionID(i), c.moved(g.Rise), c.u().SayDepth(g.Error), c.u().SayArea(g.Area), strconv.Itoa(len(g.Spots)), c.where(c.Result.Spots[g.Spots[0]].Plan),
		})
	}
	return rows
}

func (c *Comparison) regionID(i int) string { return fmt.Sprintf("G%02d", i+1) }

func (c *Comparison) pondRows() [][]string {
	rows := [][]string{{"before", "now", "", "was deep", "is deep", "where"}}
	for i := range c.Result.Ponds[:min(mostRows, len(c.Result.Ponds))] {
		p := &c.Result.Ponds[i]
		row := []string{"-", "-", string(p.State), "-", "-", ""}
		if p.Before >= 0 {
			row[0], row[3] = c.Before.Study.Listed[p.Before].ID, c.Before.SayPondDepth(p.Before)
			row[5] = c.Before.Units.SayText(c.Before.Study.Places.Of(pit(c.Before, p.Before)))
		}
		if p.After >= 0 {
			row[1], row[4] = c.After.Study.Listed[p.After].ID, c.After.SayPondDepth(p.After)
			row[5] = c.where(pit(c.After, p.After))
		}
		if p.Unsure {
			row[2] += "? no spot in the water now"
		}
		rows = append(rows, row)
	}
	return rows
}

func pit(b *record.Book, i int) orb.Point {
	s := b.Study
	v := s.Ponds.Ponds[s.Listed[i].Pond].Pits[0]
	return orb.Point{s.Surface.Cut.X[v], s.Surface.Cut.Y[v]}
}

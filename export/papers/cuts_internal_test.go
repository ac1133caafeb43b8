package papers

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/export/page"
	"runnel/export/record"
)

// linesOf returns the texts of all pages of a paper, in their order.
func linesOf(a *Paper) (all []string) {
	for _, s := range a.pages() {
		for _, l := range s.Layers {
			for i := range l.Texts {
				all = append(all, l.Texts[i].String)
			}
		}
	}
	return all
}

// Each cut is listed once, by what and where: two things at one place are two, one thing asked for twice is one; they are numbered from 1 on, and mending is a reason only where something is opened.
func TestEachCutOnce(t *testing.T) {
	p := proposed(t, record.SI)
	w := &writer{p}
	w.Book.NextCores = []record.NextCore{{Plan: orb.Point{3, 3}}, {Plan: orb.Point{4, 3}}}
	a, o := w.answer()
	core := func(at orb.Point) mend.Question {
		return mend.Question{Ask: finding.Say("Cut a core: how thick is it?"), At: at, Decides: finding.Roofer}
	}
	a.Questions = []mend.Question{core(orb.Point{3, 3}), core(orb.Point{3, 3}), {Ask: finding.Say("Who warrants the roof?"), At: orb.Point{3, 3}}}
	o.Changes = nil
	cuts, why := w.cuts()
	var got []string
	for _, c := range cuts {
		got = append(got, c[0]+" "+c[1])
		if c[2] == "" {
			t.Errorf("%q is nowhere", c)
		}
	}
	if want := []string{"1 core B01", "2 core B02", "3 core"}; !slices.Equal(got, want) || why != "to find out what it is made of" {
		t.Errorf("%q, %s; want %q", got, why, want)
	}
	change := mend.Change{Kind: mend.LowerOutlet, At: orb.Point{3, 3}, Opened: 3.3, Brief: "set D1 down"}
	shut := mend.Change{Kind: mend.Clear, At: orb.Point{3, 3}}
	o.Changes = []mend.Change{change, change, shut}
	cuts, why = w.cuts()
	if len(cuts) != 4 || cuts[3][0] != "4" || !strings.HasSuffix(cuts[3][1], "; opens 3.3 m²") || cuts[3][2] != cuts[0][2] || why != "to find out what it is made of and to mend what holds water" {
		t.Errorf("%q, %s", cuts, why)
	}
	w.Book.Study.KeepOff.Reasons = []inspection.Reason{{}}
	if cuts, _ := w.cuts(); cuts != nil || w.warrantor() != nil {
		t.Errorf("on a roof that is kept off %q is cut", cuts)
	}
}

// Without cuts the warrantor is told nothing; with them by name, or by a line to fill in.
func TestWhoTheNoticeGoesTo(t *testing.T) {
	p := opening(t, record.SI)
	w := &writer{p}
	for given, want := range map[string]string{"": "the warrantor, ____________________", "Maker \"A\" & sons": "Maker \"A\" & sons"} {
		w.Book.Study.Roof.Visit.Warrantor = given
		a := w.warrantor()
		if a == nil || a.To != want {
			t.Errorf("%q: to %+v", given, a)
		}
	}
	w.Book.NextCores = nil
	a, o := w.answer()
	a.Questions, o.Changes = nil, nil
	if w.warrantor() != nil {
		t.Error("notice of no cuts")
	}
}

// However long the name of whoever gets a paper, the lines for the sender and the date stand.
func TestLongRecipient(t *testing.T) {
	for _, n := range []int{1, 20} {
		a := Of(proposed(t, record.SI))[0]
		a.To = strings.TrimSpace(strings.Repeat("Some Long Name ", n))
		all := strings.Join(linesOf(a), " ")
		for _, want := range []string{"To: Some Long Name", "From: ____________________", "Date: ______________"} {
			if !strings.Contains(all, want) {
				t.Errorf("%d words: without %q", 3*n, want)
			}
		}
		for i, s := range a.pages() {
			apart(t, a.Name, i+1, s)
		}
	}
}

// Every paper has a name of its own among those that a run may write, and is a document of as many pages as were set.
func TestNamesOfPapers(t *testing.T) {
	names := Names()
	if s := slices.Compact(slices.Sorted(slices.Values(names))); len(s) != len(names) {
		t.Errorf("names %q", names)
	}
	for _, p := range Of(opening(t, record.US)) {
		if !slices.Contains(names, p.Name+".pdf") || p.Title == "" || p.To == "" {
			t.Errorf("%q to %q: %q is not among %q", p.Title, p.To, p.Name, names)
		}
		var b bytes.Buffer
		if err := p.WritePDF(&b); err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) || !bytes.Contains(b.Bytes(), []byte(fmt.Sprintf("/Count %d", len(p.pages())))) || !bytes.Contains(b.Bytes(), []byte("[0 0 612.00 792.00]")) {
			t.Errorf("%s: no document of %d pages of letter paper", p.Name, len(p.pages()))
		}
	}
}

// Bidders get every item numbered from 1 on, with its amount or room to allow one, and unit prices by the foot or by the metre.
func TestItemsOfTheScope(t *testing.T) {
	for u, want := range map[record.Units][2]string{record.SI: {"a square metre", "a metre"}, record.US: {"a square foot", "a foot"}} {
		w := &writer{opening(t, u)}
		items := w.items()
		hidden, area, length := 0, 0, 0
		for _, item := range items {
			if strings.HasPrefix(item[0], "Unit price: ") {
				hidden++
				area += strings.Count(item[0]+"|", ", "+want[0]+"|")
				length += strings.Count(item[0]+"|", ", "+want[1]+"|")
				if item[1] != "" {
					t.Errorf("%q has the amount %q", item[0], item[1])
				}
			} else if hidden > 0 || item[1] == "" {
				t.Errorf("%q with %q after what is hidden", item[0], item[1])
			}
		}
		if hidden != 6 || area != 2 || length != 2 {
			t.Errorf("%s: %d unit prices, %d by area, %d by length", u, hidden, area, length)
		}
		s := w.scope()
		if s == nil {
			t.Fatal("no scope")
		}
		var amounts *page.Table
		for i := range s.Parts {
			if s.Parts[i].Table != nil {
				amounts = s.Parts[i].Table
			}
		}
		if len(amounts.Rows) != len(items) {
			t.Errorf("%d rows of %d items", len(amounts.Rows), len(items))
		}
		for i, row := range amounts.Rows {
			amount := items[i][1]
			if amount == "" {
				amount = "allow ______"
			}
			if row[0] != fmt.Sprint(i+1) || row[1] != items[i][0] || row[2] != amount || row[3] != "______" {
				t.Errorf("row %d: %q", i+1, row)
			}
		}
	}
}

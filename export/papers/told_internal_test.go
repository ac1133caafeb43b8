package papers

import (
	"bytes"
	"strings"
	"testing"

	"runnel/analysis/board"
	design "runnel/analysis/correction"
	"runnel/analysis/standard"
	"runnel/analysis/takeoff"
	proposal "runnel/export/correction"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
	"runnel/export/sample"
)

// proposed is what mends the sample, whose drain stands 20 mm above the roof, with its quantities.
func proposed(t *testing.T, u record.Units) *proposal.Proposal {
	t.Helper()
	s := sample.Study(sample.Local())
	res, err := design.Of(&design.Input{Study: s, Deck: s.Assembly.Deck})
	if err != nil {
		t.Fatal(err)
	}
	p := &proposal.Proposal{Book: record.NewBook(s, "", u), Result: res, Assembly: s.Assembly, Chosen: res.Best}
	for i := range res.Options {
		var o *takeoff.TakeOff
		if res.Options[i].Possible {
			if o, err = takeoff.Of(&takeoff.Input{Study: s, Result: res, Option: i, Stock: board.Usual(), Waste: standard.BoardWaste}); err != nil {
				t.Fatal(err)
			}
		}
		p.Counted = append(p.Counted, o)
	}
	if p.Chosen >= 0 {
		p.TakeOff = p.Counted[p.Chosen]
	}
	return p
}

// The papers about the sample, thing by thing as they were read.
func TestGoldenPapers(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		p := proposed(t, u)
		var all strings.Builder
		for _, a := range Of(p) {
			all.WriteString("# " + a.Name + "\n" + scenetest.Told(a.pages()))
		}
		scenetest.AsRead(t, "papers-"+strings.ToLower(u.String())+".txt", all.String())
		var bids bytes.Buffer
		if err := WriteBids(p, &bids); err != nil {
			t.Fatal(err)
		}
		scenetest.AsRead(t, "bids-"+strings.ToLower(u.String())+".csv", bids.String())
	}
}

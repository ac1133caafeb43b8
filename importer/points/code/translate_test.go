package code_test

import (
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer/points/code"
)

// An office's code stands for one of ours, in any case, with a number joined to it or apart, and what follows goes before the keys of ours; what the list does not have stays as it is.
func TestTranslate(t *testing.T) {
	list := code.List{"RD": "DRAIN d=4in", "RF": `OUTLINE name="Strip mall"`, "101": "RIDGE", "ROOF EDGE": "OUTLINE", "BM": "IGNORE", "GR-BR": "GRADE-BREAK"}
	for text, want := range map[string]string{
		"RD": "DRAIN d=4in", "rd": "DRAIN d=4in", "RD 2": "DRAIN 2 d=4in", "RD2": "DRAIN 2 d=4in", "rd-2": "DRAIN 2 d=4in", "RD 2 overflow": "DRAIN 2 overflow d=4in", "RD2 overflow": "DRAIN 2 overflow d=4in",
		"101": "RIDGE", "101 1 begin": "RIDGE 1 begin", "roof edge": "OUTLINE", "RF": `OUTLINE name="Strip mall"`, "RF close": `OUTLINE close name="Strip mall"`,
		"RDX": "RDX", "DRAIN d=4in": "DRAIN d=4in", "": "", "2RD": "2RD", "GR-BR 3": "GRADE-BREAK 3", "BM tree": "IGNORE tree", "roof": "roof",
	} {
		if got := list.Translate(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	if got := (code.List{"RD": "DRAIN"}).Translate("rd 2"); got != "DRAIN 2" {
		t.Errorf("by a list of one code: %q", got)
	}
	for _, none := range []code.List{nil, {}} {
		if got := none.Translate("RD 2"); got != "RD 2" {
			t.Errorf("without a list: %q", got)
		}
	}
}

// A list is read with each separator, with blank lines and comments, and says of each row that it cannot use which it is and what is wrong; what it can use it keeps.
func TestListsInFull(t *testing.T) {
	for _, c := range []struct {
		name, text string
		list       code.List
		says       []string
	}{
		{"commas", "code,role\nRD,DRAIN d=4in\n\n# ours\nRF,OUTLINE\n", code.List{"RD": "DRAIN d=4in", "RF": "OUTLINE"}, nil},
		{"semicolons and CRLF", "\ufeffRD;DRAIN d=4in\r\nrf;OUTLINE edge=wall\r\n", code.List{"RD": "DRAIN d=4in", "RF": "OUTLINE edge=wall"}, nil},
		{"tabs", "RD\tDRAIN\n#\nRF\tOUTLINE\n", code.List{"RD": "DRAIN", "RF": "OUTLINE"}, nil},
		{"blanks", "RD DRAIN d=4in\nRF OUTLINE name=A\n", code.List{"RD": "DRAIN d=4in", "RF": "OUTLINE name=A"}, nil},
		{"ISO 8859-1", "D\xe4ch,OUTLINE\n", code.List{"DÄCH": "OUTLINE"}, nil},
		{"a heading once", "code,role\ncode,role\nRD,DRAIN\n", code.List{"RD": "DRAIN"}, nil},
		{"a row alone", "RF,OUTLINE\nRD\n", code.List{"RF": "OUTLINE"}, []string{"codes.csv line 2: the row is not a code and what it stands for; write it like RD,DRAIN d=4in"}},
		{"no code", ",DRAIN\nRF,OUTLINE\n", code.List{"RF": "OUTLINE"}, []string{"codes.csv line 1: the row is not a code and what it stands for; write it like RD,DRAIN d=4in"}},
		{"no such code", "RF,OUTLINE\nRD,DRIAN\n", code.List{"RF": "OUTLINE"}, []string{`codes.csv line 2: "RD" stands for "DRIAN", which is no known code; use SPOT, IGNORE, OUTLINE, RIDGE, VALLEY, HIP, CRICKET, GRADE-BREAK, CURB, WALL, GUTTER, FREE, DRAIN, SCUPPER, OVERFLOW, CORE, SILL, CONTROL, WATERLINE, SOUNDING, POND, SLOPE, LOW, LIP, BEFORE, INLET, VISIT, ANSWER`}},
		{"a key that is none", "RF,OUTLINE\nRD,DRAIN dia=4in\n", code.List{"RF": "OUTLINE"}, []string{`codes.csv line 2: "RD" stands for "DRAIN dia=4in", which is no known code`}},
		{"nothing", "RF,OUTLINE\nRD,\n", code.List{"RF": "OUTLINE", "RD": ""}, nil}, // a spot
		{"two meanings", "RF,OUTLINE\nrf,DRAIN\nRF,OUTLINE\n", code.List{"RF": "OUTLINE"}, []string{`codes.csv line 2: "rf" stands already in the list for another code; leave one of the two out`}},
		{"quotes that do not end", "RF,OUTLINE\n\"RD,DRAIN\n", code.List{"RF": "OUTLINE"}, []string{"codes.csv line 2: "}},
		{"another file", "a letter\nwith lines\nof words\n", code.List{}, []string{"codes.csv line 1: this is no list of codes; name a file with rows like RD,DRAIN d=4in"}},
		{"a workbook", "PK\x03\x04", code.List{}, []string{"codes.csv: this is a workbook or an archive (zip), not text in UTF-8"}},
		{"nothing at all", "", code.List{}, nil},
		{"comments alone", "# a\n\n#b\n", code.List{}, nil},
	} {
		var problems roof.Refusal
		list := code.ParseList("codes.csv", []byte(c.text), &problems)
		if len(list) != len(c.list) {
			t.Errorf("%s: %q, want %q", c.name, list, c.list)
		}
		for theirs, ours := range c.list {
			if got, ok := list[theirs]; !ok || got != ours {
				t.Errorf("%s: %s stands for %q, %v; want %q", c.name, theirs, got, ok, ours)
			}
		}
		if len(problems.Problems) != len(c.says) {
			t.Errorf("%s: %v", c.name, problems.Err())
			continue
		}
		for i, want := range c.says {
			if got := problems.Problems[i].String(); !strings.HasPrefix(got, want) {
				t.Errorf("%s: says\n%s\nwant\n%s", c.name, got, want)
			}
		}
	}
}

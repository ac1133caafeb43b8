package points_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/soak"
	"runnel/importer/draft"
	"runnel/importer/draft/drafttest"
	"runnel/importer/points"
	"runnel/importer/points/code"
)

// A value in quotes may hold blanks; a quote elsewhere is an inch mark.
func TestQuotedValues(t *testing.T) {
	const corners = "2,9,0,1,OUTLINE\n3,9,9,1,OUTLINE\n4,0,9,1,OUTLINE\n"
	for text, want := range map[string]string{
		"1,0,0,1,OUTLINE name=\"Strip mall\"\n":                      "Strip mall",
		"1,0,0,1,\"OUTLINE name=\"\"Strip mall\"\"\"\n":              "Strip mall",
		"1,0,0,1,OUTLINE name=\"Strip mall\" edge=free\n":            "Strip mall",
		"1,0,0,1,OUTLINE edge=free name=\"North wing of 2\"\n":       "North wing of 2",
		"1,0,0,1,OUTLINE name=\"A\"\n":                               "A",
		"1,0,0,1,OUTLINE name=Mall\n":                                "Mall",
		"1,0,0,1,\"OUTLINE name=\"\"The 8\"\" line\"\" \"\n":         `The 8`,
		"1,0,0,1,\"OUTLINE name=\"\"a = b\"\" edge=\"\"free\"\"\"\n": "a = b",
	} {
		d, problems := read("point,x,y,z,code\n"+text+corners, points.Options{})
		if err := problems.Err(); want == "The 8" {
			if err == nil || !strings.Contains(err.Error(), "not understood") {
				t.Errorf("%q: %v", text, err)
			}
			continue
		} else if err != nil || len(d.Outlines) != 1 || d.Outlines[0].Name != want {
			t.Errorf("%q: %v, %+v; want %q", text, err, d.Outlines, want)
		}
	}
	d, problems := read("point,x,y,z,code\n1,2,3,4,\"SCUPPER w=8\"\" h=\"\"4 in\"\" label=\"\"S 1\"\"\"\n", points.Options{})
	if err := problems.Err(); err != nil || len(d.Outlets) != 1 {
		t.Fatal(err, d)
	}
	// 8 in is 0.2032 m, 4 in is 0.1016 m.
	if o := d.Outlets[0]; o.Label != "S 1" || !(math.Abs(float64(o.Width)-0.2032) <= 1e-12) || !(math.Abs(float64(o.OpeningHeight)-0.1016) <= 1e-12) {
		t.Errorf("%+v", o)
	}
	list := code.List{"RF": `OUTLINE name="Strip mall"`}
	d, problems = read("point,x,y,z,code\n1,0,0,1,RF\n"+corners, points.Options{Codes: list})
	if err := problems.Err(); err != nil || len(d.Outlines) != 1 || d.Outlines[0].Name != "Strip mall" {
		t.Errorf("from a list of codes: %v, %+v", err, d.Outlines)
	}
}

// What stands in a file that is no survey is not told.
func TestOtherFilesAreNotQuoted(t *testing.T) {
	const secret = "between you and me only"
	rows := strings.Repeat("a "+secret+" b c\n", 30)
	for name, o := range map[string]points.Options{
		"columns": {Columns: []string{"point", "x", "y", "z", "code"}},
		"none":    {},
	} {
		_, problems := read(rows, o)
		err := problems.Err()
		if err == nil || strings.Count(err.Error(), "you") > 3 || strings.Contains(err.Error(), "only") {
			t.Errorf("%s: %v", name, err)
		}
	}
	long := strings.Repeat("secret", 100)
	_, problems := read("point,x,y,z\n1,2,3,4\n2,"+long+",3,4\n", points.Options{})
	if err := problems.Err(); err == nil || len(err.Error()) > 200 {
		t.Errorf("a long field: %v", err)
	}
}

// Whatever a list of codes holds, each entry of it is a code that is known.
func codeLists() *soak.Target {
	g := soak.New("FuzzParseCodeList", "OUTLINE", "RIDGE 1", "DRAIN d=4in", "SCUPPER", "IGNORE", "code", "role", "name=")
	g.Add([]byte("code,role\nRD,DRAIN d=4in\nRF;OUTLINE name=\"Strip mall\"\n"))
	g.Add([]byte("their code\tour role\nA\tVALLEY 1\n"))
	g.Property = func(t *testing.T, data []byte) {
		t.Helper()
		var problems roof.Refusal
		list := code.ParseList("codes.csv", data, &problems)
		for theirs := range list {
			row := "x,y,z,code\n1,2,3,\"" + strings.ReplaceAll(theirs, `"`, `""`) + "\"\n"
			if strings.ContainsAny(theirs, "\r\n") {
				continue
			}
			var found roof.Refusal
			if file := points.Open("a.csv", []byte(row), points.Options{Codes: list}, &found); file != nil {
				drafttest.Finite(t, file.Read(draft.Setting{Unit: quantity.Metres}, &found))
			}
		}
		for _, p := range problems.Problems {
			if len(p.Rule) > 300 {
				t.Fatalf("%q", p.Rule)
			}
		}
	}
	return g
}

func FuzzParseCodeList(f *testing.F) { codeLists().Fuzz(f) }

func TestSoakCodeList(t *testing.T) { codeLists().Soak(t) }

package code_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"runnel/importer/points/code"
)

// told writes what a code says, short.
func told(c *code.Code) string {
	if c.Bad != "" {
		return "bad: " + c.Bad
	}
	out := []string{c.Word}
	if c.Unknown != "" {
		out = append(out, "unknown "+c.Unknown)
	}
	if c.Number != "" {
		out = append(out, "no. "+c.Number)
	}
	for name, on := range map[string]bool{"begin": c.Begin} {
		if on {
			out = append(out, name)
		}
	}
	if c.End {
		out = append(out, "end")
	}
	if c.Close {
		out = append(out, "close")
	}
	if c.Overflow {
		out = append(out, "overflow")
	}
	for _, p := range c.Pairs {
		out = append(out, fmt.Sprintf("%s=<%s>", p.Key, p.Value))
	}
	return strings.Join(out, " ")
}

// Codes as surveyors write them. A first word that is not known, or words that make no sense behind a known one, leave the point a spot.
func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"": "spot", "  ": "spot", "spot": "spot", "TREE": "spot unknown TREE", "TREE 12 m": "spot unknown TREE", "RIDGE": "ridge", "ridge1": "ridge no. 1", "RIDGE-1": "ridge no. 1", "RIDGE_2.": "ridge no. 2.", "Ridge 1 begin": "ridge no. 1 begin",
		"RIDGE 1 END": "ridge no. 1 end", "CURB 3 close": "curb no. 3 close", "DRAIN D1 d=4in": "drain no. D1 d=<4in>", "DRAIN D1 D=4in": "drain no. D1 d=<4in>", "DRAIN d=4 in": "drain d=<4 in>", "DRAIN d=4 in bowl=12 in": "drain d=<4 in> bowl=<12 in>",
		"DRAIN overflow d=4in": "drain overflow d=<4in>", "SCUPPER overflow w=8in": "scupper overflow w=<8in>", "OUTLINE\tname=\"Strip mall\"\tedge=wall": "outline name=<Strip mall> edge=<wall>", "T1": "spot unknown T1", "OVERFLOW drain 3": "overflow no. 3 overflow", "OVERFLOW scupper w=8in": "overflow overflow w=<8in>", "OVERFLOW w=8in": "overflow w=<8in>",
		"RIDGE of the old roof":                     "spot unknown RIDGE of the old roof", // a sentence
		"RIDGE 1 of the old roof":                   `bad: "of" in the code is not understood`,
		"RIDGE d=4in":                               `bad: code RIDGE has no key "d": it takes none`,
		"DRAIN =4":                                  `bad: code DRAIN has no key "": it takes d, diameter, bowl, dam, dam_height, dam_diameter, invert, label, duty, leader, pipe, pipe_slope, discharges_to`,
		"CURB 1 RTU":                                `bad: "RTU" in the code is not understood`,
		`OUTLINE name="Strip mall" edge=wall`:       "outline name=<Strip mall> edge=<wall>",
		`OUTLINE rect=12' 6"x4'`:                    `bad: "6\"x4'" in the code is not understood`,
		`OUTLINE walls="E 12' 6", N 9'" name=A`:     `outline walls=<E 12' 6", N 9'> name=<A>`,
		`CURB label="open`:                          `curb label=<"open>`,
		`CURB label=""`:                             `curb label=<>`,
		`ANSWER question="Q 1" answer="yes, it is"`: "answer question=<Q 1> answer=<yes, it is>",
		"OUTLINE load_limit=30 psf load_limit_by=E": "outline load_limit=<30 psf> load_limit_by=<E>",
		"WATERLINE 2 hours=50":                      "waterline no. 2 hours=<50>",
		"GRADE-BREAK 4":                             "grade-break no. 4",
		"12 RIDGE":                                  "spot unknown 12",
	} {
		if got := told(code.Parse(text)); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

// Behind the number of a drain a bare size with a unit is its diameter, from that of the smallest pipe that is made to the largest: 25 to 610 mm.
func TestBareSizes(t *testing.T) {
	for text, want := range map[string]string{
		"DRAIN 3 4IN": "drain no. 3 d=<4IN>", "DRAIN 3 25mm": "drain no. 3 d=<25mm>", "DRAIN 24mm": "drain no. 24mm", "DRAIN 610mm": "drain d=<610mm>", "DRAIN 610.5mm": "drain no. 610.5mm", "DRAIN 3 4": `bad: "4" in the code is not understood`,
		"DRAIN 3 4in 6in": `bad: "6in" in the code is not understood`, "DRAIN 3 d=4in 6in": `bad: "6in" in the code is not understood`, "SCUPPER 3 4in": `bad: "4in" in the code is not understood`,
	} {
		if got := told(code.Parse(text)); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

// Roles that are joined to lines, and keys that may be written two ways.
func TestRolesAndValues(t *testing.T) {
	for text, line := range map[string]bool{"OUTLINE": true, "RIDGE": true, "CURB": true, "WALL": true, "GUTTER": true, "FREE": true, "DRAIN": false, "SPOT": false, "IGNORE": false, "WATERLINE": false, "VISIT": false} {
		if got := code.Parse(text).Role.IsLine(); got != line {
			t.Errorf("%s: %v", text, got)
		}
	}
	c := code.Parse("SCUPPER height=3in w=8in")
	if p, ok := c.Value("h", "height"); !ok || p.Value != "3in" {
		t.Errorf("%+v", p)
	}
	if p, ok := c.Value("w", "width"); !ok || p.Value != "8in" {
		t.Errorf("%+v", p)
	}
	if _, ok := c.Value("d"); ok {
		t.Error("a key that was not given")
	}
	var m map[string]string
	if err := json.Unmarshal(code.Properties(`CURB label="<a>"`), &m); err != nil || m["code"] != `CURB label="<a>"` || code.Properties("") != nil {
		t.Errorf("%v %v", err, m)
	}
}

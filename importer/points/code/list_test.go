package code_test

import (
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer/points/code"
)

func TestListMayHaveAnyHeading(t *testing.T) {
	for _, heading := range []string{"their code,our role", "Code;Role", "Field code\tmeaning", "Dach;our role"} {
		sep := heading[strings.IndexAny(heading, ",;\t")]
		var problems roof.Refusal
		list := code.ParseList("codes.csv", []byte(heading+"\nRD"+string(sep)+"DRAIN\n"), &problems)
		if err := problems.Err(); err != nil || len(list) != 1 || list["RD"] != "DRAIN" {
			t.Errorf("%q: %v, %v; want RD for DRAIN alone", heading, list, err)
		}
	}
	var problems roof.Refusal
	code.ParseList("codes.csv", []byte("RD,DRIAN\n"), &problems)
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "DRIAN") {
		t.Errorf("a first row that is no heading: %v; want DRIAN refused", err)
	}
	list := code.ParseList("codes.csv", []byte("BARCODE,SPOT\n"), &roof.Refusal{})
	if list["BARCODE"] != "SPOT" {
		t.Errorf("a code that holds the word code was taken for a heading: %v", list)
	}
}

func TestTwoMeaningsOfOneCode(t *testing.T) {
	for text, want := range map[string]string{
		"RD,DRAIN\nrd,SCUPPER\n":     `line 2: "rd" stands already in the list for another code`,
		"RD,DRAIN\nRD,DRAIN\n":       "",
		"one,two\nthree,four\nx,y\n": "line 1: this is no list of codes",
		"three,four\nx,y\n":          "line 1: this is no list of codes",
	} {
		problems := &roof.Refusal{}
		code.ParseList("codes.csv", []byte(text), problems)
		err := problems.Err()
		if (err == nil) != (want == "") || err != nil && (!strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "three")) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

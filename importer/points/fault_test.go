package points_test

import (
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
)

func TestMistypedCodeWithoutElevationIsNamed(t *testing.T) {
	_, problems := read("point,x,y,z,code\n1,2,2,,CRUB 1 begin\n2,3,3,,\n", points.Options{})
	err := problems.Err()
	if err == nil || !strings.Contains(err.Error(), "line 2 (1) at (2, 2): the code \"CRUB\" is not known") || !strings.Contains(err.Error(), "line 3 (2) at (3, 3): the spot has no elevation") {
		t.Errorf("%v; want CRUB named in line 2, and no elevation in line 3", err)
	}
}

// A unit in one heading goes for the others of the file; that is said, for the plan may well be in another.
func TestUnitOfOneColumnIsSaidOfTheOthers(t *testing.T) {
	const text = "point,East,North,Rod_ft\n1,2,3,4\n2,3,4,4\n"
	d := mustRead(t, text, points.Options{HI: "10"})
	if all := strings.Join(d.Warnings, "\n"); !strings.Contains(all, "columns that state no unit are taken to be in ft, as other columns of the file say: East, North.") {
		t.Errorf("warnings %q; want East and North named", all)
	}
	var problems roof.Refusal
	f := points.Open("a.csv", []byte(text), points.Options{HI: "10"}, &problems)
	d = f.Read(draft.Setting{Unit: quantity.Metres}, &problems)
	if all := strings.Join(d.Warnings, "\n"); strings.Contains(all, "state no unit") {
		t.Errorf("warnings %q although a flag says the unit", all)
	}
}

func TestBarsBetweenColumnsAreRefusedWithTheSeparators(t *testing.T) {
	_, problems := read("point|x|y|z\n1|2|3|4\n", points.Options{})
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "commas, semicolons, tabs or blanks") {
		t.Errorf("%v; want the separators named", err)
	}
}

func TestRowsSteerNoTerminal(t *testing.T) {
	d := mustRead(t, "point,x,y,z,code\n\x1b]2;1\x07,2,2,1,\x1b[2JBAD\n", points.Options{})
	if id := d.Spots[0].ID; id != "]2;1" || strings.ContainsAny(strings.Join(d.Warnings, ""), "\x1b\x07") {
		t.Errorf("id %q, warnings %q", id, d.Warnings)
	}
}

// A row whose elevation and code give two inverts: 0.005 ft (1.5 mm) apart they are one, 0.03 ft (9 mm) apart nobody knows which.
func TestInvertInCodeAndColumn(t *testing.T) {
	for invert, taken := range map[string]bool{"99.995": true, "99.97": false} {
		_, problems := read("point,x,y,elev,code\n1,6,5,100,DRAIN invert="+invert+"\n", points.Options{})
		err := problems.Err()
		if (err == nil) != taken || !taken && !strings.Contains(err.Error(), "invert differ") {
			t.Errorf("invert %s beside 100: %v", invert, err)
		}
	}
}

package levelbook_test

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/levelling"
	"runnel/analysis/quantity"
	"runnel/importer/levelbook"
)

// One run of levels as people write it down: the readings are the same in each. By hand in metres: 3.1 ft are 0.94488, 4.25 ft 1.2954, 4 ft 1.2192, 100 ft 30.48.
func TestTheSameBookInEveryLayout(t *testing.T) {
	const f, m = quantity.Feet, quantity.Metres
	for name, c := range map[string]struct {
		text string
		unit quantity.Unit // said
		want quantity.Unit // of the book
	}{
		"feet in the heads":     {"station,bs_ft,is_ft,fs_ft,elevation_ft\nBM,3.1,,,100\n1,,4,,\n2,,,4.25,\n", quantity.Unstated, f},
		"feet said":             {"station,bs,is,fs,elevation\nBM,3.1,,,100\n1,,4,,\n2,,,4.25,\n", f, f},
		"metres":                {"Point;Backsight (m);Intermediate sight (m);Foresight (m);RL (m)\nBM;0,94488;;;30,48\n1;;1,2192;;\n2;;;1,2954;\n", quantity.Unstated, m},
		"millimetres":           {"pt\tbs_mm\tis_mm\tfs_mm\telev_mm\nBM\t944.88\t\t\t30480\n1\t\t1219.2\t\t\n2\t\t\t1295.4\t\n", quantity.Unstated, quantity.Millimetres},
		"feet and inches":       {"name;bs;is;fs;z\nBM;3.1 ft;;;100'\n1;;4' 0\";;\n2;;;4' 3\";\n", m, m},
		"a unit for each":       {"id,bs_ft,is_m,fs_mm,height_m\nBM,3.1,,,30.48\n1,,1.2192,,\n2,,,1295.4,\n", quantity.Unstated, f},
		"one head states":       {"station,bs,is,fs,elevation_ft\nBM,3.1,,,100\n1,,4,,\n2,,,4.25,\n", quantity.Unstated, f},
		"comments, blank lines": {"# party 2\n\nstation,bs_ft,is_ft,fs_ft,elevation_ft\r\n# begin\r\nBM,3.1,,,100,,\r\n\r\n1,,4,,\r\n2,,,4.25,\r\n", quantity.Unstated, f},
	} {
		b, err := levelbook.Read(write(t, c.text), c.unit)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if b.Unit != c.want || len(b.Rows) != 3 || len(b.Heads) != 0 {
			t.Errorf("%s: in %v, %d rows, heads %q", name, b.Unit, len(b.Rows), b.Heads)
			continue
		}
		for i, want := range []levelling.Row{
			{Station: "BM", Back: levelling.Reading{Value: 0.94488, Known: true}, Elevation: levelling.Reading{Value: 30.48, Known: true}},
			{Station: "1", Between: levelling.Reading{Value: 1.2192, Known: true}},
			{Station: "2", Fore: levelling.Reading{Value: 1.2954, Known: true}},
		} {
			got := b.Rows[i]
			for what, pair := range map[string][2]levelling.Reading{"bs": {got.Back, want.Back}, "is": {got.Between, want.Between}, "fs": {got.Fore, want.Fore}, "elevation": {got.Elevation, want.Elevation}, "rod": {got.Rod, want.Rod}} {
				if pair[0].Known != pair[1].Known || !(math.Abs(pair[0].Value-pair[1].Value) <= 1e-9) {
					t.Errorf("%s, station %s: %s is %+v, want %+v", name, want.Station, what, pair[0], pair[1])
				}
			}
			if got.Station != want.Station || got.SetUp != "" {
				t.Errorf("%s: %+v", name, got)
			}
		}
	}
}

// A laser's book has rods and set-ups; all other columns come along as they are, in their order.
func TestALasersBook(t *testing.T) {
	b, err := levelbook.Read(write(t, "setup,x,station,rod_m,y,elevation_m,code\nA,1,BM,1.2,2,10,\nB,3,\"P 7\",1.5,4,,DRAIN d=4in\n"), quantity.Unstated)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Join(b.Heads, " ") != "x y code" || strings.Join(b.Kept[0], "|") != "1|2|" || strings.Join(b.Kept[1], "|") != "3|4|DRAIN d=4in" {
		t.Errorf("%q, %q", b.Heads, b.Kept)
	}
	first, second := b.Rows[0], b.Rows[1]
	if first.SetUp != "A" || second.SetUp != "B" || second.Station != "P 7" || second.Line != 3 || !first.Rod.Known || !(math.Abs(second.Rod.Value-1.5) <= 1e-12) || second.Elevation.Known || first.Back.Known {
		t.Errorf("%+v, %+v", first, second)
	}
}

// Each book that is none says in full which line and column, what is wrong and what to do; several things are told together.
func TestBooksThatAreRefused(t *testing.T) {
	const say = "; name the columns station,bs,is,fs,elevation, or station,setup,rod,elevation"
	for text, want := range map[string]string{
		"bs,fs,elevation\n1,2,3\n":                        "notes.csv: no column names the stations" + say,
		"station,fs,elevation\n1,2,3\n":                   "notes.csv: the columns are neither those of a level nor those of a laser" + say,
		"station,bs,rod,elevation\n1,1,2,3\n":             "notes.csv: the columns are neither those of a level nor those of a laser" + say,
		"station,rod\n1,2\n":                              "notes.csv: no column holds the known elevation" + say,
		"station,bs_m,elevation_m\nA,1\n":                 "notes.csv line 2: the row has 2 fields where 3 belong; write a value, or nothing between two separators, for each column",
		"station,bs_m,elevation_m\nA,x,5\n,1,high\n":      "notes.csv line 2: column bs_m: \"x\" is not a length: a number is missing; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4\"; write the number that was read\nnotes.csv line 3: the station has no name; name each station\nnotes.csv line 3: column elevation_m: \"high\" is not a length: a number is missing; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4\"; write the number that was read",
		"station,bs,elevation\nA,1,5\n":                   "notes.csv line 2: column bs: \"1\" has no unit; say --units ft or m, or name the column with its unit, such as bs_ft\nnotes.csv line 2: column elevation: \"5\" has no unit; say --units ft or m, or name the column with its unit, such as bs_ft",
		"station,bs_m,fs_m,elevation_m\nA,80.1,-80.1,3\n": "notes.csv line 2: column bs_m: 80.1 m is longer than any rod; correct the reading or its unit\nnotes.csv line 2: column fs_m: -80.1 m is longer than any rod; correct the reading or its unit",
		"station,bs_m,fs_m,elevation_m\nA,1,,-2000\n":     "notes.csv line 2: column elevation_m: no roof stands at an elevation of -2000 m; correct the elevation or its unit; take out points whose elevation was not measured",
		"station,bs_m,elevation_m\n":                      "notes.csv: the level book has no rows; give a row for each station",
		"1,2,3\n":                                         "notes.csv line 1: the first row does not name the columns; name them, such as station,bs,is,fs,elevation",
		"PK\x03\x04":                                      "notes.csv: this is a workbook or an archive (zip), not text in UTF-8; unpack it, or save the table as CSV in UTF-8",
		"":                                                "notes.csv: the file is empty; write it again from the program that made it",
	} {
		path := write(t, text)
		_, err := levelbook.Read(path, quantity.Unstated)
		if err == nil {
			t.Errorf("%q: accepted", text)
			continue
		}
		if got := strings.ReplaceAll(err.Error(), filepath.Dir(path)+"/", ""); got != want {
			t.Errorf("%q: says\n%s\nwant\n%s", text, got, want)
		}
	}
	// The longest rod that is believed is read, and an elevation may be greater.
	b, err := levelbook.Read(write(t, "station,bs_m,fs_m,elevation_m\nA,80,-80,8000\n"), quantity.Unstated)
	if err != nil || b.Rows[0].Back.Value != 80 || b.Rows[0].Fore.Value != -80 || b.Rows[0].Elevation.Value != 8000 {
		t.Errorf("%+v, %v", b, err)
	}
	if _, err := levelbook.Read(filepath.Join(t.TempDir(), "lost.csv"), quantity.Metres); err == nil || !strings.HasSuffix(err.Error(), "lost.csv: there is no such file; check the path") {
		t.Errorf("%v", err)
	}
}

// The columns may stand in any order, each of them first: turned round one by one the same readings are read.
func TestColumnsInAnyOrder(t *testing.T) {
	for _, book := range [][3][]string{
		{{"station", "bs_m", "is_m", "fs_m", "elevation_m"}, {"BM", "1.5", "", "", "20"}, {"P", "", "1.25", "1.75", ""}},
		{{"bs_m", "station", "fs", "elevation", "x"}, {"1.5", "BM", "", "20", "7"}, {"1.25", "P", "1.75", "", "8"}},
		{{"elevation_m", "bs_m", "station", "fs_m", "x"}, {"20", "1.5", "BM", "", "7"}, {"", "1.25", "P", "1.75", "8"}},
		{{"station", "setup", "rod_m", "elevation_m", "x"}, {"BM", "A", "1.5", "20", "7"}, {"P", "B", "1.25", "", "8"}},
	} {
		var want string
		for turn := range book[0] {
			text := ""
			for _, row := range book {
				text += strings.Join(append(append([]string{}, row[turn:]...), row[:turn]...), ";") + "\n"
			}
			b, err := levelbook.Read(write(t, text), quantity.Unstated)
			if err != nil {
				t.Errorf("%q: %v", text, err)
				continue
			}
			got := fmt.Sprintf("%v %+v %q %q", b.Unit, b.Rows, b.Heads, b.Kept)
			if turn == 0 {
				want = got
			}
			if got != want || len(b.Rows) != 2 || b.Unit != quantity.Metres {
				t.Errorf("%q: %s, want %s", text, got, want)
			}
		}
		if !strings.Contains(want, "{Value:1.5 Known:true}") || !strings.Contains(want, "{Value:20 Known:true}") || !strings.Contains(want, "{Value:1.25 Known:true}") {
			t.Errorf("%s", want)
		}
	}
	// A name of a set-up is no length, whatever its heading says.
	if _, err := levelbook.Read(write(t, "station,setup (ft),rod,elevation\nBM,1,2,3\n"), quantity.Unstated); err == nil || !strings.Contains(err.Error(), "column rod: \"2\" has no unit") {
		t.Errorf("the unit of set-ups is taken for that of rods: %v", err)
	}
}

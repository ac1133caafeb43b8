package record_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"runnel/analysis/bounds"
	"runnel/export/record"
)

// names that people give things.
var odd = []string{"", "plain", `Hall "A", <north> & co`, "two\nlines\tand a tab\r", `back\slash`, "גג 7", "سقف", "\u202eturned", "é中😀", "\x00\x1f"}

// Whatever stands in a name, another reader of JSON reads it back; only bytes that are no text become a sign for that.
func TestOddNamesAreReadBack(t *testing.T) {
	for _, name := range odd {
		var o, in record.Object
		o.Text("name", name)
		o.Texts("list", []string{name, "b"})
		in.Text("inner", name)
		o.Objects("objects", []record.Object{in})
		o.Flag("set", true)
		o.Flag("unset", false)
		o.Bool("no", false)
		o.Int("n", 12)
		var got map[string]any
		text, err := o.MarshalJSON()
		if err != nil || json.Unmarshal(text, &got) != nil {
			t.Fatalf("%q: %s", name, text)
		}
		want := map[string]any{"list": []any{name, "b"}, "objects": []any{map[string]any{"inner": name}}, "set": true, "no": false, "n": 12.0, "name": name}
		if name == "" {
			delete(want, "name") // what nobody knows is left out
			want["objects"] = []any{map[string]any{}}
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
		var file bytes.Buffer
		if err := o.WriteJSON(&file); err != nil {
			t.Fatal(err)
		}
		var again map[string]any
		if err := json.Unmarshal(file.Bytes(), &again); err != nil || !reflect.DeepEqual(again, want) || !strings.HasSuffix(file.String(), "}\n") {
			t.Errorf("%q: the file has %v, want %v", name, again, want)
		}
	}
}

type noDisk struct{}

var errNoDisk = errors.New("no disk")

func (noDisk) Write([]byte) (int, error) { return 0, errNoDisk }

func TestWriteJSONOntoAFullDisk(t *testing.T) {
	var o record.Object
	if err := o.WriteJSON(noDisk{}); !errors.Is(err, errNoDisk) {
		t.Errorf("%v", err)
	}
}

// A fact in plain words: a number to its decimals, a list with commas, truth as true or false, what is nested as JSON.
func TestPlainFacts(t *testing.T) {
	var o, in record.Object
	in.Int("k", 1)
	o.Text("text", `a "b"`)
	o.Number("number", 2.0004, 3)
	o.Number("third", 1.0/3, 2)
	o.Texts("list", []string{"x", "y, z"})
	o.Bool("yes", true)
	o.Objects("nested", []record.Object{in, in})
	for name, want := range map[string]string{
		"text": `a "b"`, "number": "2", "third": "0.33", "list": "x, y, z", "yes": "true", "nested": `[{"k":1},{"k":1}]`, "missing": "",
	} {
		if got := o.Value(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
		if o.Has(name) != (name != "missing") {
			t.Errorf("%s: has %v", name, o.Has(name))
		}
	}
	if k := in.Fact("k"); k.Decimals != 0 || k.Kind != record.NumberFact || k.Number != 1 { // a count, of which tables make a column of whole numbers
		t.Errorf("a count is %+v", *k)
	}
	if got := o.Fact("third").Rounded(); got != 0.33 {
		t.Errorf("a third is written as %v", got)
	}
	if got := o.Fact("number").Rounded(); got != 2 {
		t.Errorf("2.0004 to three decimals is %v", got)
	}
}

func TestFactsInOrder(t *testing.T) {
	var o, p record.Object
	if !o.Empty() || len(o.Names()) != 0 {
		t.Error("an object without facts is not empty")
	}
	o.Int("b", 1)
	o.Int("a", 2)
	p.Int("c", 3)
	o.Join(&p)
	if want := []string{"b", "a", "c"}; !reflect.DeepEqual(o.Names(), want) || o.Empty() || len(o.Facts()) != 3 || o.Facts()[2].Name != "c" {
		t.Errorf("%v, want %v", o.Names(), want)
	}
	if len(p.Names()) != 1 {
		t.Errorf("what was joined has %v", p.Names())
	}
	o.Reset()
	if !o.Empty() || string(o.Append(nil)) != "{}" {
		t.Errorf("reset, it has %s", o.Append(nil))
	}
}

func TestListOfObjects(t *testing.T) {
	for n, want := range map[int]string{0: `{"l":[]}`, 1: `{"l":[{"i":0}]}`, 3: `{"l":[{"i":0},{"i":1},{"i":2}]}`} {
		var o record.Object
		o.List("l", n, func(item *record.Object, i int) { item.Int("i", i) })
		if got := string(o.Append(nil)); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

// By hand: 0.0254 m is 25.4 mm and 1 in; 9.290304 m2 are 100 sq ft; 45.359237 kg are 100 lb. An end without limit is left out.
func TestRangesInTheirUnits(t *testing.T) {
	none := math.Inf(1)
	for _, c := range []struct {
		u    record.Units
		want string
	}{
		{record.SI, `{"d_mm_5":25.4,"d_mm_95":50.8,"a_m2_5":0,"a_m2_95":9.290304,"w_kg_5":45.359}`},
		{record.US, `{"d_in_5":1,"d_in_95":2,"a_ft2_5":0,"a_ft2_95":100,"w_lb_5":100}`},
	} {
		var o record.Object
		c.u.DepthRange(&o, "d", bounds.Range{Low: 0.0254, High: 0.0508})
		c.u.AreaRange(&o, "a", bounds.Range{Low: 0, High: 9.290304})
		c.u.MassRange(&o, "w", bounds.Range{Low: 45.359237, High: none})
		if got := string(o.Append(nil)); got != c.want {
			t.Errorf("%s: %s, want %s", c.u, got, c.want)
		}
	}
}

// The units of charts and columns, by their definitions: inch 25.4 mm, square foot 0.09290304 m2, pound 0.45359237 kg, US gallon 3.785411784 l.
func TestUnitsOfCharts(t *testing.T) {
	for _, c := range []struct {
		get      func(record.Units) record.Unit
		si, us   string
		one, two float64
	}{
		{record.Units.DepthUnit, "mm", "in", 0.001, 0.0254},
		{record.Units.AreaUnit, "m2", "ft2", 1, 0.09290304},
		{record.Units.MassUnit, "kg", "lb", 1, 0.45359237},
		{record.Units.VolumeUnit, "litres", "gal", 0.001, 0.003785411784},
		{record.Units.FlowUnit, "L/s", "gpm", 0.001, 0.003785411784 / 60},
	} {
		si, us := c.get(record.SI), c.get(record.US)
		if si.Name != c.si || us.Name != c.us || !(math.Abs(si.Size/c.one-1) <= 1e-12) || !(math.Abs(us.Size/c.two-1) <= 1e-12) {
			t.Errorf("%+v and %+v, want %s of %v and %s of %v", si, us, c.si, c.one, c.us, c.two)
		}
	}
	if record.SI.RName("r") != "r_m2_k_per_w" || record.US.RName("r") != "r_ft2_h_f_per_btu" {
		t.Errorf("%s, %s", record.SI.RName("r"), record.US.RName("r"))
	}
}

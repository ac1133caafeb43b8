package las_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/las"
)

// blocks are the numbers of the public header block and how many bytes each takes. LAS Specification 1.4 - R15, table 3, in its order: file signature 4,
// file source id 2, global encoding 2, GUID 4+2+2+8, version 1+1, system identifier 32, generating software 32, day 2, year 2, header size 2, offset to
// point data 4, number of variable length records 4, format 1, record length 2, legacy number of points 4, legacy by return 20, scale 3 x 8, offset 3 x 8,
// max and min 6 x 8, start of waveform data 8, start of the first extended record 8, their number 4, number of points 8, by return 120. From memory.
var blocks = []struct {
	name string
	size int
}{
	{"signature", 4},
	{"source", 2},
	{"encoding", 2},
	{"guid", 16},
	{"major", 1},
	{"minor", 1},
	{"system", 32},
	{"software", 32},
	{"day", 2},
	{"year", 2},
	{"header size", 2},
	{"first point", 4},
	{"records", 4},
	{"format", 1},
	{"length", 2},
	{"legacy count", 4},
	{"legacy returns", 20},
	{"scale", 24},
	{"offset", 24},
	{"bounds", 48},
	{"waveforms", 8},
	{"first extended", 8},
	{"extended", 4},
	{"count", 8},
	{"returns", 120},
}

// put writes a value into a block's place of a header.
func put(b []byte, name string, value any) {
	at := 0
	for _, f := range blocks {
		if f.name == name {
			var out bytes.Buffer
			_ = binary.Write(&out, binary.LittleEndian, value)
			copy(b[at:at+f.size], out.Bytes())
			return
		}
		at += f.size
	}
	panic(name)
}

// The blocks of the header add up to what the specification says it is long: 375 bytes, of which 1.2 has those before the waveforms, 227, and 1.3
// those before the extended records, 235.
func TestTheHeaderIsAsLongAsItsBlocks(t *testing.T) {
	sum := 0
	for _, f := range blocks {
		switch f.name {
		case "waveforms":
			if sum != 227 {
				t.Errorf("1.2: %d bytes", sum)
			}
		case "first extended":
			if sum != 235 {
				t.Errorf("1.3: %d bytes", sum)
			}
		}
		sum += f.size
	}
	if sum != 375 {
		t.Errorf("1.4: %d bytes", sum)
	}
}

// one is a scan of version 1.4, format 6, of one point, written block by block.
func one(x, y, z int32, scale, offset [3]float64) []byte {
	b := make([]byte, 375+30)
	put(b, "signature", []byte("LASF"))
	put(b, "major", uint8(1))
	put(b, "minor", uint8(4))
	put(b, "header size", uint16(375))
	put(b, "first point", uint32(375))
	put(b, "format", uint8(6))
	put(b, "length", uint16(30))
	put(b, "scale", scale)
	put(b, "offset", offset)
	put(b, "count", uint64(1))
	p := b[375:]
	binary.LittleEndian.PutUint32(p[0:], uint32(x))
	binary.LittleEndian.PutUint32(p[4:], uint32(y))
	binary.LittleEndian.PutUint32(p[8:], uint32(z))
	p[14] = 1 | 1<<4
	return b
}

// around is a roof of 10 by 10 whose middle is (x, y).
func around(x, y float64) orb.Polygon { return square(x-5, y-5) }

// A coordinate is the whole number in the record times the scale of its axis, and the offset of its axis. By hand.
func TestScaleAndOffset(t *testing.T) {
	for _, c := range []struct {
		x, y, z       int32
		scale, offset [3]float64
		want          [3]float64
	}{
		{12_345, 678, -90, [3]float64{0.01, 0.01, 0.001}, [3]float64{0, 0, 0}, [3]float64{123.45, 6.78, -0.09}},
		{12_345, 678, 90, [3]float64{0.001, 0.01, 0.1}, [3]float64{500_000, 5_000_000, 100}, [3]float64{500_012.345, 5_000_006.78, 109}},
		{-12_345, -678, 1, [3]float64{0.5, 0.25, 2}, [3]float64{-7, 9, -0.5}, [3]float64{-6_179.5, -160.5, 1.5}},
		{math.MaxInt32, math.MinInt32, 0, [3]float64{0.0001, 0.0001, 1}, [3]float64{0, 0, 12.5}, [3]float64{214_748.3647, -214_748.3648, 12.5}},
		{1, 1, 1, [3]float64{1000, 1000, 1000}, [3]float64{1e9, -1e9, 0}, [3]float64{1_000_001_000, -999_999_000, 1000}}, // the greatest that is taken
	} {
		d := read(t, one(c.x, c.y, c.z, c.scale, c.offset), around(c.want[0], c.want[1]))
		if len(d.Spots) != 1 {
			t.Errorf("%+v: %d spots", c, len(d.Spots))
			continue
		}
		s := &d.Spots[0]
		for i, got := range [3]float64{s.Plan[0], s.Plan[1], s.Z} {
			if !(math.Abs(got-c.want[i]) <= 1e-6) {
				t.Errorf("axis %d of %+v: %.7f, want %.7f", i, c, got, c.want[i])
			}
		}
		if !s.HasZ || s.Origin.Feature != 1 || s.Origin.File != "scan.las" {
			t.Errorf("%+v", s)
		}
	}
}

// Each number of the header at the last value that is taken and at the first that is not.
func TestLimitsOfTheHeader(t *testing.T) {
	set := func(name string, value any) func([]byte) []byte {
		return func(b []byte) []byte { put(b, name, value); return b }
	}
	long := func(more int) func([]byte) []byte { // a point of so many bytes more
		return func(b []byte) []byte {
			put(b, "length", uint16(30+more))
			return append(b, make([]byte, max(0, more))...)
		}
	}
	scale := [3]float64{0.01, 0.01, 0.01}
	for name, c := range map[string]struct {
		spoil func([]byte) []byte
		says  string // empty: taken
	}{
		"as it is":                   {func(b []byte) []byte { return b }, ""},
		"version 1.5":                {set("minor", uint8(5)), "this is version 1.5; versions 1.0 to 1.4 are read"},
		"version 0.4":                {set("major", uint8(0)), "this is version 0.4"},
		"format 10 in too few bytes": {set("format", uint8(10)), "a point of format 10 takes at least 67 bytes, and the header says 30"},
		"format 11":                  {set("format", uint8(11)), "the points are of format 11; formats 0 to 10 are read"},
		"a byte more for a point":    {long(1), ""},
		"a byte less for a point":    {long(-1), "takes at least 30 bytes, and the header says 29"},
		"header of 226":              {set("header size", uint16(226)), "does not say where the points begin"},
		"points within the header":   {set("first point", uint32(374)), "does not say where the points begin"},
		"points beyond the file":     {set("first point", uint32(406)), "does not say where the points begin"},
		"points past the last":       {set("first point", uint32(405)), "the header says 1 points, and the file holds 0"},
		"two points":                 {set("count", uint64(2)), "the header says 2 points, and the file holds 1"},
		"more points than can be":    {set("count", uint64(math.MaxUint64)), "the header says 18446744073709551615 points"},
		"scale of 1000.1":            {set("scale", [3]float64{0.01, 1000.1, 0.01}), "no number for coordinates"},
		"scale of 0":                 {set("scale", [3]float64{0.01, 0.01, 0}), "no number for coordinates"},
		"scale below 0":              {set("scale", [3]float64{-0.01, 0.01, 0.01}), "no number for coordinates"},
		"scale of infinity":          {set("scale", [3]float64{math.Inf(1), 0.01, 0.01}), "no number for coordinates"},
		"offset over 1e9":            {set("offset", [3]float64{0, 0, 1.1e9}), "no number for coordinates"},
		"offset under -1e9":          {set("offset", [3]float64{-1.1e9, 0, 0}), "no number for coordinates"},
		"offset that is none":        {set("offset", [3]float64{0, math.NaN(), 0}), "no number for coordinates"},
		"compressed":                 {set("format", uint8(6|0x80)), "the points of this scan are compressed"},
		"compressed, the older mark": {set("format", uint8(6|0x40)), "the points of this scan are compressed"},
		"226 bytes":                  {func(b []byte) []byte { return b[:226] }, "the file ends within its header"},
		"227 bytes":                  {func(b []byte) []byte { return b[:227] }, "does not say where the points begin"},
	} {
		var problems roof.Refusal
		f := las.Open("scan.las", c.spoil(one(500, 500, 0, scale, [3]float64{})), &problems)
		err := problems.Err()
		if (f != nil) != (c.says == "") || (err == nil) != (c.says == "") {
			t.Errorf("%s: opened %v, %v", name, f != nil, err)
			continue
		}
		if err != nil && (!strings.HasPrefix(err.Error(), "scan.las: ") || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "; write ")) {
			t.Errorf("%s: %v does not say %q with its mend", name, err, c.says)
		}
		if f != nil {
			f.Crop([]orb.Polygon{square(0, 0)}, 1)
			if d := f.Read(draft.Setting{Unit: quantity.Metres}, &problems); len(d.Spots) != 1 || d.Spots[0].Plan != (orb.Point{5, 5}) {
				t.Errorf("%s: %v", name, d.Spots)
			}
		}
	}
}

// A header of the smallest length counts its points in the old place, also where it says 1.4; an empty scan is a scan of no points.
func TestWhereTheCountStands(t *testing.T) {
	for name, c := range map[string]struct {
		minor        uint8
		size         int
		legacy, full int
		want         int
	}{
		"1.2":                       {2, 227, 2, 0, 2},
		"1.4":                       {4, 375, 0, 2, 2},
		"1.4 says both":             {4, 375, 1, 2, 2},
		"1.4 in a header of 1.2":    {4, 227, 2, 0, 2},
		"1.3 in a header of 1.4":    {3, 375, 2, 1, 2},
		"1.2, nothing":              {2, 227, 0, 0, 0},
		"1.4, nothing, old count 1": {4, 375, 1, 0, 0},
	} {
		b := make([]byte, c.size+2*20)
		put(b, "signature", []byte("LASF"))
		put(b, "major", uint8(1))
		put(b, "minor", c.minor)
		put(b, "header size", uint16(c.size))
		put(b, "first point", uint32(c.size))
		put(b, "length", uint16(20))
		put(b, "legacy count", uint32(c.legacy))
		put(b, "scale", [3]float64{1, 1, 1})
		if c.size == 375 {
			put(b, "count", uint64(c.full))
		}
		for i := range 2 {
			p := b[c.size+20*i:]
			binary.LittleEndian.PutUint32(p[0:], 5)
			binary.LittleEndian.PutUint32(p[4:], uint32(4+i))
			p[14] = 1 | 1<<3
		}
		d := read(t, b, square(0, 0))
		if len(d.Spots) != c.want || !strings.HasPrefix(d.Warnings[0], fmt.Sprintf("scan.las: of %d points of a laser scan %d lie on the roof", c.want, c.want)) {
			t.Errorf("%s: %d spots, %q; want %d", name, len(d.Spots), d.Warnings, c.want)
		}
	}
}

// The strip along edges is half a metre wide in whatever unit the scan is: 0.5 m are 1.64 ft, 19.7 in, 500 mm. By hand.
func TestTheStripAlongEdgesIsHalfAMetre(t *testing.T) {
	for _, c := range []struct {
		unit            quantity.Unit
		near, far, far2 float64 // from the west edge, in the unit: left out, taken, and taken
	}{
		{quantity.Metres, 0.49, 0.51, 2},
		{quantity.Feet, 1.63, 1.65, 3},
		{quantity.USSurveyFeet, 1.63, 1.65, 3},
		{quantity.Inches, 19.6, 19.8, 40},
		{quantity.Millimetres, 499, 501, 700},
	} {
		s := &scan{minor: 2, format: 0, scale: 0.01}
		side := math.Ceil(4 / c.unit.Metres()) // a roof 4 m wide
		for _, x := range []float64{c.near, c.far, c.far2} {
			s.add(hit{x: int32(math.Round(x * 100)), y: int32(math.Round(side * 50)), of: 1, each: 1})
		}
		var problems roof.Refusal
		f := las.Open("scan.las", s.bytes(), &problems)
		f.Crop([]orb.Polygon{{{{0, 0}, {side, 0}, {side, side}, {0, side}, {0, 0}}}}, c.unit.Metres())
		d := f.Read(draft.Setting{Unit: c.unit}, &problems)
		if len(d.Spots) != 2 || d.Spots[0].Origin.Feature != 2 || d.Spots[1].Origin.Feature != 3 || !strings.Contains(d.Warnings[0], " 1 within 0.5 m of an edge or a curb were left out") {
			t.Errorf("%v: %d spots, %q", c.unit, len(d.Spots), d.Warnings)
		}
	}
}

// Where two outlines hold a place it is the first one's: each point is taken once, and what is classified on one roof says nothing of another.
func TestRoofsThatOverlap(t *testing.T) {
	s := &scan{minor: 2, format: 0, scale: 0.1}
	for x := int32(10); x <= 140; x += 10 { // 1 to 14
		class := uint8(2)
		if x == 20 {
			class = 6 // one point of the first roof is of a building
		}
		s.add(hit{x: x, y: 50, of: 1, each: 1, class: class})
	}
	first, second := square(0, 0), square(5, 0)
	d := read(t, s.bytes(), first, second)
	var got []string
	for i := range d.Spots {
		got = append(got, fmt.Sprint(d.Spots[i].Plan[0]))
	}
	// On the first roof (0 to 10) only the point at 2 is of a building; on the second those at 11 to 14 are taken, for none is. At 10 lies the edge of the first.
	if strings.Join(got, " ") != "2 11 12 13 14" {
		t.Errorf("taken at %s", got)
	}
	alone := read(t, s.bytes(), second)
	if len(alone.Spots) != 9 { // 6 to 14
		t.Errorf("%d on the second alone", len(alone.Spots))
	}
}

// A record before the points that is cut off, or more records than are there, end the search for units and nothing else; what stands before counts.
func TestRecordsThatEndEarly(t *testing.T) {
	feet := keys(3076, 9002)
	for name, c := range map[string]struct {
		spoil func([]byte) []byte
		unit  quantity.Unit
	}{
		"whole":                    {func(b []byte) []byte { return b }, quantity.Feet},
		"says 9 records":           {func(b []byte) []byte { put(b, "records", uint32(9)); return b }, quantity.Feet},
		"says none":                {func(b []byte) []byte { put(b, "records", uint32(0)); return b }, quantity.Unstated},
		"a record of no body":      {func(b []byte) []byte { binary.LittleEndian.PutUint16(b[375+20:], 0); return b }, quantity.Unstated},
		"longer than its room":     {func(b []byte) []byte { binary.LittleEndian.PutUint16(b[375+20:], uint16(len(feet)+1)); return b }, quantity.Unstated},
		"a key cut off":            {func(b []byte) []byte { binary.LittleEndian.PutUint16(b[375+20:], uint16(len(feet)-1)); return b }, quantity.Unstated},
		"a value in another place": {func(b []byte) []byte { binary.LittleEndian.PutUint16(b[375+54+8+2:], 34736); return b }, quantity.Unstated},
		"a code of others":         {func(b []byte) []byte { binary.LittleEndian.PutUint16(b[375+54+8+6:], 9094); return b }, quantity.Unstated},
	} {
		s := &scan{minor: 4, format: 6, scale: 1}
		s.record("LASF_Projection", 34735, feet)
		s.add(hit{x: 5, y: 5, of: 1, each: 1})
		var problems roof.Refusal
		f := las.Open("scan.las", c.spoil(s.bytes()), &problems)
		if f == nil {
			t.Errorf("%s: %v", name, problems.Err())
			continue
		}
		if unit, frame := f.Stated(); unit != c.unit || frame != "local" {
			t.Errorf("%s: %v, %s; want %v", name, unit, frame, c.unit)
		}
	}
	// A record that has a head and nothing else, at the very end, is none of ours and does no harm; the one before it counts.
	s := &scan{minor: 4, format: 6, scale: 1}
	s.record("LASF_Projection", 2112, []byte(`PROJCS["x",UNIT["foot",0.3048]]`+"\x00"))
	s.record("LASF_Projection", 34735, nil)
	s.add(hit{x: 5, y: 5, of: 1, each: 1})
	var problems roof.Refusal
	if unit, _ := las.Open("scan.las", s.bytes(), &problems).Stated(); unit != quantity.Feet {
		t.Errorf("%v, want ft", unit)
	}
}

// Units of a frame written as text: the last of the plan's part, told apart by their lengths, which differ by 2 in a million between the two feet.
func TestUnitsInText(t *testing.T) {
	for text, want := range map[string][2]quantity.Unit{ // plan, elevations
		`PROJCS["a",GEOGCS["b",UNIT["degree",0.0174532925199433]],UNIT["metre",1]]`:                        {quantity.Metres, quantity.Unstated},
		`PROJCS["a",UNIT["foot",0.3048]]`:                                                                  {quantity.Feet, quantity.Unstated},
		`PROJCS["a",UNIT["us",0.304800609601219]]`:                                                         {quantity.USSurveyFeet, quantity.Unstated},
		`PROJCS["a",UNIT["near a foot",0.3049]]`:                                                           {quantity.Unstated, quantity.Unstated},
		`PROJCRS["a",BASEGEOGCRS["b"],CS[Cartesian,2],LENGTHUNIT["metre",1.0]]`:                            {quantity.Metres, quantity.Unstated},
		`COMPOUNDCRS["c",PROJCRS["a",LENGTHUNIT["metre",1]],VERTCRS["h",LENGTHUNIT["foot",0.3048]]]`:       {quantity.Metres, quantity.Feet},
		`COMPD_CS["c",PROJCS["a",UNIT["foot",0.3048]],VERT_CS["h",UNIT["metre",1]]]`:                       {quantity.Feet, quantity.Metres},
		`PROJCS["a",UNIT["no number",one]]`:                                                                {quantity.Unstated, quantity.Unstated},
		`PROJCS["a",UNIT["two points",1.0.0]]`:                                                             {quantity.Unstated, quantity.Unstated},
		`VERT_CS["h",UNIT["foot",0.3048]]`:                                                                 {quantity.Unstated, quantity.Feet},
		`nothing of the kind`:                                                                              {quantity.Unstated, quantity.Unstated},
		`GEOGCS["b",UNIT["degree",0.0174532925199433]],VERT_CS["h",UNIT["us",0.304800609601219]]` + "\x00": {quantity.Unstated, quantity.USSurveyFeet},
	} {
		s := &scan{minor: 4, format: 6, scale: 1}
		s.record("LASF_Projection", 2112, []byte(text))
		s.add(hit{x: 5, y: 5, z: 1, of: 1, each: 1})
		var problems roof.Refusal
		f := las.Open("scan.las", s.bytes(), &problems)
		unit, frame := f.Stated()
		degrees := strings.HasPrefix(text, "GEOGCS")
		if degrees { // of degrees only the unit of elevations is stated
			if unit != want[1] || frame != "wgs84" {
				t.Errorf("%s: %v, %s", text, unit, frame)
			}
		} else if unit != want[0] || frame != "local" {
			t.Errorf("%s: %v, %s; want %v", text, unit, frame, want[0])
		}
		f.Crop([]orb.Polygon{square(0, 0)}, 1)
		z := want[1].Metres()
		if want[1] == quantity.Unstated {
			z = 1 // read in metres, as set
		}
		if d := f.Read(draft.Setting{Unit: quantity.Metres}, &problems); len(d.Spots) != 1 || !(math.Abs(d.Spots[0].Z-z) <= 1e-9) {
			t.Errorf("%s: %+v, want an elevation of %g m", text, d.Spots, z)
		}
	}
}

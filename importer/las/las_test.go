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

// scan is a LAS file in the making, laid out as LAS Specification 1.4 - R15 has it (tables 3, 6 to 17, from memory): every number here is
// an offset of that document. An independent reader, @loaders.gl/las 4.5.1 from the npm registry, gives the places and classes of versions
// 1.2 and 1.3, formats 0 to 3, laid out likewise as they were written; it reads no 1.4.
type scan struct {
	minor, format int
	scale         float64
	offset        [3]float64
	records       []byte
	count         int
	points        []byte
}

// hit is one point: place in whole steps of the scale, return of so many, class.
type hit struct {
	x, y, z  int32
	of, each uint8
	class    uint8
	withheld bool
}

var lengths = []int{20, 28, 26, 34, 57, 63, 30, 36, 38, 59, 67}

func (s *scan) add(hits ...hit) {
	for _, h := range hits {
		b := make([]byte, lengths[s.format])
		binary.LittleEndian.PutUint32(b[0:], uint32(h.x))
		binary.LittleEndian.PutUint32(b[4:], uint32(h.y))
		binary.LittleEndian.PutUint32(b[8:], uint32(h.z))
		switch {
		case s.format < 6:
			b[14] = h.of | h.each<<3
			b[15] = h.class
			if h.withheld {
				b[15] |= 1 << 7
			}
		default:
			b[14] = h.of | h.each<<4
			b[16] = h.class
			if h.withheld {
				b[15] |= 1 << 2
			}
		}
		s.points = append(s.points, b...)
		s.count++
	}
}

// record adds a variable length record.
func (s *scan) record(user string, id uint16, body []byte) {
	h := make([]byte, 54)
	copy(h[2:18], user)
	binary.LittleEndian.PutUint16(h[18:], id)
	binary.LittleEndian.PutUint16(h[20:], uint16(len(body)))
	s.records = append(append(s.records, h...), body...)
}

func (s *scan) bytes() []byte {
	size := 227
	switch s.minor {
	case 3:
		size = 235
	case 4:
		size = 375
	}
	b := make([]byte, size)
	copy(b, "LASF")
	b[24], b[25] = 1, uint8(s.minor)
	u := binary.LittleEndian
	u.PutUint16(b[94:], uint16(size))
	u.PutUint32(b[96:], uint32(size+len(s.records)))
	n := uint32(0)
	for rest := s.records; len(rest) > 0; n++ {
		rest = rest[54+int(u.Uint16(rest[20:])):]
	}
	u.PutUint32(b[100:], n)
	b[104] = uint8(s.format)
	u.PutUint16(b[105:], uint16(lengths[s.format]))
	if s.minor < 4 || s.format < 6 {
		u.PutUint32(b[107:], uint32(s.count))
	}
	if s.minor == 4 {
		u.PutUint64(b[247:], uint64(s.count))
	}
	for i := range 3 {
		u.PutUint64(b[131+8*i:], math.Float64bits(s.scale))
		u.PutUint64(b[155+8*i:], math.Float64bits(s.offset[i]))
	}
	return append(append(b, s.records...), s.points...)
}

// square is a roof of 10 by 10 with a corner at (x, y).
func square(x, y float64) orb.Polygon {
	return orb.Polygon{{{x, y}, {x + 10, y}, {x + 10, y + 10}, {x, y + 10}, {x, y}}}
}

// read reads a scan on some roofs, in metres.
func read(t *testing.T, data []byte, roofs ...orb.Polygon) *draft.Draft {
	t.Helper()
	var problems roof.Refusal
	f := las.Open("scan.las", data, &problems)
	if f == nil {
		t.Fatal(problems.Err())
	}
	f.Crop(roofs, 1)
	d := f.Read(draft.Setting{Unit: quantity.Metres}, &problems)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return d
}

// Every format of points, in every version that has it, gives places, returns, classes and the mark of withheld points as the
// specification lays them out: last returns on the roof alone, no noise (7, 18), no plants (3 to 5).
func TestFormats(t *testing.T) {
	for format := range lengths {
		for minor := 0; minor <= 4; minor++ {
			if format > 5 && minor < 4 || format > 3 && minor < 3 {
				continue
			}
			s := &scan{minor: minor, format: format, scale: 0.001, offset: [3]float64{500_000, 6_000_000, 100}}
			s.add(
				hit{x: 2_500, y: 3_125, z: -1_250, of: 1, each: 1},
				hit{x: 2_500, y: 3_500, z: 0, of: 1, each: 2}, // the first of two
				hit{x: 2_500, y: 4_000, z: 17, of: 2, each: 2},
				hit{x: 2_500, y: 4_500, z: 0, of: 1, each: 1, class: 7},
				hit{x: 2_500, y: 4_500, z: 0, of: 1, each: 1, class: 18},
				hit{x: 2_500, y: 4_500, z: 0, of: 1, each: 1, class: 5},
				hit{x: 2_500, y: 4_500, z: 0, of: 1, each: 1, withheld: true},
				hit{x: -2_500, y: 4_500, z: 0, of: 1, each: 1}, // beside the roof
			)
			d := read(t, s.bytes(), square(500_000, 6_000_000))
			var got []string
			for _, p := range d.Spots {
				got = append(got, fmt.Sprintf("%d: %.3f %.3f %.3f", p.Origin.Feature, p.Plan[0], p.Plan[1], p.Z))
			}
			want := "1: 500002.500 6000003.125 98.750; 3: 500002.500 6000004.000 100.017"
			if strings.Join(got, "; ") != want {
				t.Errorf("format %d, version 1.%d: %v; want %s", format, minor, got, want)
			}
		}
	}
}

// Half a metre along walls and curbs is left out, and where buildings are classified they alone are taken, each roof by itself.
func TestCrop(t *testing.T) {
	s := &scan{minor: 2, format: 1, scale: 0.01}
	for x := int32(5); x < 3000; x += 10 { // along y = 5: 10 cm apart
		class := uint8(1)
		if x > 2000 && x < 2500 {
			class = 6
		}
		s.add(hit{x: x, y: 500, z: 1000, of: 1, each: 1, class: class})
	}
	left := square(0, 0)
	left = append(left, orb.Ring{{4, 4}, {4, 6}, {6, 6}, {6, 4}, {4, 4}}) // a curb of 2 by 2 in its middle
	d := read(t, s.bytes(), left, square(20, 0))
	inLeft, inRight := 0, 0
	for _, p := range d.Spots {
		switch x := p.Plan[0]; {
		case x > 0.5 && x < 3.5 || x > 6.5 && x < 9.5:
			inLeft++
		case x > 20.5 && x < 25:
			inRight++
		default:
			t.Errorf("a point at %.2f", x)
		}
	}
	if inLeft != 60 || inRight != 45 { // 0.55 to 3.45 and 6.55 to 9.45: 30 each; 20.55 to 24.95: 45
		t.Errorf("%d and %d points", inLeft, inRight)
	}
	// Beside the walls 5 at each end of either roof, and by the curb 5 on each side; what lies on the curb is not on the roof.
	// In the right roof 25.05 to 29.45, 45 points, are not of a building.
	want := "scan.las: of 300 points of a laser scan 105 lie on the roof and were taken. 30 within 0.5 m of an edge or a curb were left out," +
		" because the laser also hits walls there. 45 that are not classified as building were left out. A laser sees no outlets and no scuppers."
	if len(d.Warnings) != 1 || d.Warnings[0] != want {
		t.Errorf("said %q;\nwant %q", d.Warnings, want)
	}
}

// A scan all of whose points are taken says of none that it was left out, and a file is told by its beginning, or by its name where that is not read.
func TestScanWithoutALeftOutPoint(t *testing.T) {
	s := &scan{minor: 2, format: 1, scale: 0.01}
	s.add(hit{x: 500, y: 500, z: 1000, of: 1, each: 1, class: 6})
	want := "scan.las: of 1 points of a laser scan 1 lie on the roof and were taken. A laser sees no outlets and no scuppers."
	if d := read(t, s.bytes(), square(0, 0)); len(d.Warnings) != 1 || d.Warnings[0] != want {
		t.Errorf("said %q", d.Warnings)
	}
	for name, is := range map[string]bool{"a.las": true, "a.LAZ": true, "a.csv": false, "las": false} {
		if las.Format.Is(name, nil) != is || las.Format.Is(name, []byte("x,y,z")) || !las.Format.Is(name, []byte("LASF\x00")) {
			t.Errorf("%s is taken for what it is not", name)
		}
	}
}

// keys is a directory of GeoTIFF keys (OGC 19-008r4, section 7.1): version, revisions, number, then four numbers a key.
func keys(pairs ...uint16) []byte {
	all := []uint16{1, 1, 0, uint16(len(pairs) / 2)}
	for i := 0; i < len(pairs); i += 2 {
		all = append(all, pairs[i], 0, 1, pairs[i+1])
	}
	var b bytes.Buffer
	_ = binary.Write(&b, binary.LittleEndian, all)
	return b.Bytes()
}

// Units come from keys or text; elevations may have one of their own.
func TestUnits(t *testing.T) {
	const proj = "LASF_Projection"
	frame := `PROJCS["grid",GEOGCS["base",DATUM["d",SPHEROID["s",6378137,298.257]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],UNIT["%s",%s]]`
	for name, c := range map[string]struct {
		user  string
		id    uint16
		body  []byte
		unit  quantity.Unit
		frame string
		z     float64 // of one step of a unit, read as metres [m]
	}{
		"nothing":        {"", 0, nil, quantity.Unstated, "local", 1},
		"metres":         {proj, 34735, keys(1024, 1, 3076, 9001), quantity.Metres, "local", 1},
		"feet":           {proj, 34735, keys(1024, 1, 3076, 9002, 4099, 9002), quantity.Feet, "local", 0.3048},
		"survey feet":    {proj, 34735, keys(1024, 1, 3076, 9003, 4099, 9003), quantity.USSurveyFeet, "local", 1200.0 / 3937},
		"feet upright":   {proj, 34735, keys(1024, 1, 3076, 9001, 4099, 9002), quantity.Metres, "local", 0.3048},
		"degrees":        {proj, 34735, keys(1024, 2), quantity.Unstated, "wgs84", 1},
		"another's":      {"somebody", 34735, keys(1024, 2), quantity.Unstated, "local", 1},
		"text, metres":   {proj, 2112, fmt.Appendf(nil, frame, "metre", "1"), quantity.Metres, "local", 1},
		"text, feet":     {proj, 2112, fmt.Appendf(nil, frame, "US survey foot", "0.304800609601219"), quantity.USSurveyFeet, "local", 1},
		"text, feet too": {proj, 2112, fmt.Appendf(nil, `COMPD_CS["both",`+frame+`,VERT_CS["up",VERT_DATUM["v",2005],UNIT["foot",0.3048]]]`, "metre", "1"), quantity.Metres, "local", 0.3048},
		"text, degrees":  {proj, 2112, []byte(`GEOGCS["base",DATUM["d",SPHEROID["s",6378137,298.257]],UNIT["degree",0.0174532925199433]]`), quantity.Unstated, "wgs84", 1},
	} {
		s := &scan{minor: 4, format: 6, scale: 1}
		if c.user != "" {
			s.record("filler", 7, make([]byte, 13))
			s.record(c.user, c.id, c.body)
		}
		s.add(hit{x: 5, y: 5, z: 1, of: 1, each: 1})
		var problems roof.Refusal
		f := las.Open("scan.las", s.bytes(), &problems)
		if f == nil {
			t.Fatal(name, problems.Err())
		}
		if unit, frame := f.Stated(); unit != c.unit || frame != c.frame {
			t.Errorf("%s: %v, %s; want %v, %s", name, unit, frame, c.unit, c.frame)
		}
		f.Crop([]orb.Polygon{square(0, 0)}, 1)
		d := f.Read(draft.Setting{Unit: quantity.Metres}, &problems)
		if len(d.Spots) != 1 || !(math.Abs(d.Spots[0].Z-c.z) <= 1e-12) {
			t.Errorf("%s: %v; want z %v", name, d.Spots, c.z)
		}
	}
}

// Broken files are refused with what is wrong; a compressed one with what to do.
func TestFaults(t *testing.T) {
	whole := func() []byte {
		s := &scan{minor: 2, format: 1, scale: 0.01}
		s.add(hit{x: 500, y: 500, of: 1, each: 1}, hit{x: 500, y: 600, of: 1, each: 1})
		return s.bytes()
	}
	for want, spoil := range map[string]func([]byte) []byte{
		"ends within its header":       func(b []byte) []byte { return b[:200] },
		"version 2.0":                  func(b []byte) []byte { b[24], b[25] = 2, 0; return b },
		"points of this scan are comp": func(b []byte) []byte { b[104] |= 0x80; return b },
		"points are of format 11":      func(b []byte) []byte { b[104] = 11; return b },
		"takes at least 28 bytes":      func(b []byte) []byte { b[105] = 27; return b },
		"where the points begin":       func(b []byte) []byte { b[97] = 0xff; return b },
		"says 2 points, and the file holds 1": func(b []byte) []byte {
			return b[:len(b)-1]
		},
		"no number for coordinates": func(b []byte) []byte {
			binary.LittleEndian.PutUint64(b[139:], math.Float64bits(math.NaN()))
			return b
		},
	} {
		var problems roof.Refusal
		if f := las.Open("scan.las", spoil(whole()), &problems); f != nil || problems.Err() == nil {
			t.Errorf("%s: taken", want)
			continue
		}
		if p := problems.Problems[0]; !strings.Contains(p.Rule, want) || p.Mend == "" || p.Origin.File != "scan.las" {
			t.Errorf("said %q, %q; want %q", p.Rule, p.Mend, want)
		}
	}
	var problems roof.Refusal
	las.Open("scan.las", whole(), &problems).Read(draft.Setting{Unit: quantity.Metres}, &problems)
	if len(problems.Problems) != 1 || !strings.Contains(problems.Problems[0].Rule, "no other file holds an outline") {
		t.Errorf("without an outline: %v", problems.Err())
	}
}

// Whatever the bytes are, reading ends, and every spot lies on the roof.
func FuzzScan(f *testing.F) {
	for _, format := range []int{0, 3, 6, 10} {
		s := &scan{minor: 4, format: format, scale: 0.01}
		s.record("LASF_Projection", 34735, keys(1024, 1, 3076, 9002))
		s.record("LASF_Projection", 2112, []byte(`PROJCS["x",UNIT["m",1]]`))
		s.add(hit{x: 500, y: 500, of: 1, each: 1, class: 6}, hit{x: 10, y: 600, of: 1, each: 1})
		f.Add(s.bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var problems roof.Refusal
		file := las.Open("scan.las", data, &problems)
		if file == nil {
			if problems.Err() == nil {
				t.Fatal("refused without a word")
			}
			return
		}
		file.Crop([]orb.Polygon{square(0, 0)}, 1)
		for _, p := range file.Read(draft.Setting{Unit: quantity.Metres}, &problems).Spots {
			if !(p.Plan[0] >= 0.5 && p.Plan[0] <= 9.5 && p.Plan[1] >= 0.5 && p.Plan[1] <= 9.5) || math.IsNaN(p.Z) || math.IsInf(p.Z, 0) {
				t.Fatalf("a spot at %v, %v", p.Plan, p.Z)
			}
		}
	})
}

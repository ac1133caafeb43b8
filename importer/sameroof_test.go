package importer_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer"
)

// shed is one survey of a roof of 60 by 40 ft as a party chief would write it: places and elevations in eighths of a foot, so that each is a
// whole number of steps of 1-1/2 in, of 38.1 mm and of 0.0381 m. none stands for an elevation that was not measured.
const none = -1

type shot struct {
	id      string
	x, y, z int
	code    string
}

var shed = []shot{
	{"1", 0, 0, 803, "OUTLINE name=Shed edge=gutter"},
	{"2", 480, 0, 803, "OUTLINE"},
	{"3", 480, 320, 804, "OUTLINE"},
	{"4", 0, 320, none, "OUTLINE"},
	{"5", 240, 160, 796, "DRAIN D-1 d=4in bowl=14in"},
	{"6", 480, 160, 805, "OVERFLOW OS-1 w=8in h=6in"},
	{"7", 40, 40, 801, ""},
	{"8", 440, 44, 802, "SPOT sigma=3mm"},
	{"9", 240, 150, 797, "SPOT"},
	{"10", 8, 316, 803, "VALLEY 1 begin"},
	{"11", 230, 164, 797, "VALLEY 1 end"},
	{"12", 320, 200, none, "CURB 1 h=8in label=RTU-1"},
	{"13", 360, 200, none, "CURB 1"},
	{"14", 360, 232, none, "CURB 1"},
	{"15", 0, 0, none, "WALL 1 h=2ft"},
	{"16", 480, 0, none, "WALL 1"},
	{"17", 100, 100, 799, "CORE deck=steel"},
	{"18", 470, 300, 806, "SILL kind=door-sill label=Door"},
	{"19", 5, 5, 700, "IGNORE"},
}

// shedInMetres is the same roof by hand, in metres of the site grid: each step is 0.0381 m, 8 in are 0.2032 m, 2 ft are 0.6096 m.
const shedInMetres = `outline Shed gutter: 0.00000 0.00000 30.59430; 18.28800 0.00000 30.59430; 18.28800 12.19200 30.63240; 0.00000 12.19200 none; 0.00000 0.00000 30.59430
drain D-1 primary 9.14400 6.09600 30.32760: pipe 0.10160, bowl 0.35560
scupper OS-1 overflow 18.28800 6.09600 30.67050: 0.20320 wide, 0.15240 high
spot 7 1.52400 1.52400 30.51810, sigma 0.00000
spot 8 16.76400 1.67640 30.55620, sigma 0.00300
spot 9 9.14400 5.71500 30.36570, sigma 0.00000
valley: 0.30480 12.03960 30.59430; 8.76300 6.24840 30.36570
curb RTU-1 0.20320 high: 12.19200 7.62000 none; 13.71600 7.62000 none; 13.71600 8.83920 none; 12.19200 7.62000 none
wall 0.60960 high: 0.00000 0.00000 none; 18.28800 0.00000 none
core steel 3.81000 3.81000 30.44190
door-sill Door 17.90700 11.43000 30.70860
`

// told writes a roof as shedInMetres is written, whatever file it came from.
func told(r *roof.Roof) string {
	var b strings.Builder
	at := func(p roof.Position) string {
		site := r.Frame.ToFile(p.Plan)
		text := fmt.Sprintf("%.5f %.5f", site[0]*r.Frame.Metres, site[1]*r.Frame.Metres)
		text = strings.ReplaceAll(text, "-0.00000", "0.00000")
		if !p.HasZ {
			return text + " none"
		}
		return text + fmt.Sprintf(" %.5f", p.Z)
	}
	line := func(line []roof.Position) string {
		var all []string
		for _, p := range line {
			all = append(all, at(p))
		}
		return strings.Join(all, "; ") + "\n"
	}
	edges := map[roof.EdgeType]string{roof.Wall: "wall", roof.Gutter: "gutter", roof.Free: "free"}
	fmt.Fprintf(&b, "outline %s %s: %s", r.Name, edges[r.Outline.Edge], line(r.Outline.Rings[0]))
	for i := range r.Outlets {
		o := &r.Outlets[i]
		place := at(roof.Position{Plan: o.Plan, Z: o.Invert, HasZ: o.HasInvert})
		duty := map[roof.Duty]string{roof.Primary: "primary", roof.Overflow: "overflow"}[o.Duty]
		if o.Type == roof.Drain {
			fmt.Fprintf(&b, "drain %s %s %s: pipe %.5f, bowl %.5f\n", o.Label, duty, place, float64(o.Diameter), float64(o.Bowl))
		} else {
			fmt.Fprintf(&b, "scupper %s %s %s: %.5f wide, %.5f high\n", o.Label, duty, place, float64(o.Width), float64(o.OpeningHeight))
		}
	}
	for i := range r.Spots {
		fmt.Fprintf(&b, "spot %s %s, sigma %.5f\n", r.Spots[i].ID, at(r.Spots[i].Position), float64(r.Spots[i].Sigma))
	}
	for i := range r.Breaklines {
		kind := map[roof.BreaklineType]string{roof.Valley: "valley", roof.Ridge: "ridge"}[r.Breaklines[i].Type]
		b.WriteString(kind + ": " + line(r.Breaklines[i].Line))
	}
	for i := range r.Curbs {
		fmt.Fprintf(&b, "curb %s %.5f high: %s", r.Curbs[i].Label, float64(r.Curbs[i].Height), line(r.Curbs[i].Ring))
	}
	for i := range r.Edges {
		fmt.Fprintf(&b, "%s %.5f high: %s", edges[r.Edges[i].Type], float64(r.Edges[i].Height), line(r.Edges[i].Line))
	}
	for i := range r.Cores {
		fmt.Fprintf(&b, "core %s %s\n", r.Cores[i].Deck, at(r.Cores[i].Position))
	}
	for i := range r.Sills {
		kind := map[roof.SillKind]string{roof.DoorSill: "door-sill"}[r.Sills[i].Kind]
		fmt.Fprintf(&b, "%s %s %s\n", kind, r.Sills[i].Label, at(r.Sills[i].Position))
	}
	return b.String()
}

// steps write a number of eighths of a foot in each unit, by whole numbers alone.
var steps = map[string]func(n int) string{
	"ft":    func(n int) string { return decimal(n*125, 3) },
	"in":    func(n int) string { return decimal(n*15, 1) },
	"mm":    func(n int) string { return decimal(n*381, 1) },
	"m":     func(n int) string { return decimal(n*381, 4) },
	"ft-us": func(n int) string { return decimal(n*12499975, 8) }, // 0.0381 * 3937/1200 = 0.12499975
	"feet and inches": func(n int) string { // 1-1/2 in a step
		inches := 3 * (n % 8)
		text := fmt.Sprintf("%d' %d", n/8, inches/2)
		if inches%2 == 1 {
			text += "-1/2"
		}
		return text + `"`
	},
}

// decimal writes n with its last digits behind a point: 125, 3 is 0.125.
func decimal(n, places int) string {
	digits := fmt.Sprintf("%0*d", places+1, n)
	return digits[:len(digits)-places] + "." + digits[len(digits)-places:]
}

// layout is how an office writes its points.
type layout struct {
	unit      string // of steps
	heads     string // names of the columns by commas: in this order; %s takes the unit
	separator string
	end       string // of a line
	before    string // what stands before the first row
	quoted    bool   // every field
	comma     bool   // for the decimal sign
	trailing  string // at the end of each row
	rods      int    // elevation of the line of sight in steps, 0 for none
	bare      bool   // no row of heads
}

func (l layout) write(shots []shot) string {
	number := steps[l.unit]
	row := func(fields []string) string {
		for i, f := range fields {
			if l.quoted || strings.Contains(f, `"`) || strings.Contains(f, l.separator) {
				fields[i] = `"` + strings.ReplaceAll(f, `"`, `""`) + `"`
			}
		}
		return strings.Join(fields, l.separator) + l.trailing + l.end
	}
	heads := strings.Split(strings.ReplaceAll(l.heads, "%s", l.unit), ",")
	text := l.before
	if !l.bare {
		text += row(slices.Clone(heads))
	}
	for _, s := range shots {
		var fields []string
		for _, head := range heads {
			field := ""
			switch name, _, _ := strings.Cut(strings.ToLower(strings.NewReplacer("_", " ", "(", " ").Replace(head)), " "); name {
			case "point", "nr", "id":
				field = s.id
			case "x", "east", "easting":
				field = number(s.x)
			case "y", "north", "northing":
				field = number(s.y)
			case "z", "elev", "elevation", "rl":
				if s.z != none {
					field = number(s.z)
				}
			case "rod":
				if s.z != none {
					field = number(l.rods - s.z)
				}
			case "code", "description":
				fields = append(fields, s.code)
				continue
			default:
				field = "as seen"
			}
			if l.comma {
				field = strings.ReplaceAll(field, ".", ",")
			}
			fields = append(fields, field)
		}
		text += row(fields)
	}
	return text
}

// One roof, written down by hand in each way that an office or an instrument writes points, is one roof.
func TestTheSameRoofInEveryLayout(t *testing.T) {
	feet := map[string]quantity.Unit{"": quantity.Feet}
	plain := layout{unit: "ft", heads: "point,x_ft,y_ft,elev_ft,code", separator: ",", end: "\n"}
	with := func(change func(*layout)) layout {
		l := plain
		change(&l)
		return l
	}
	for name, c := range map[string]struct {
		layout
		options importer.Options
	}{
		"feet":                {layout: plain},
		"metres":              {layout: with(func(l *layout) { l.unit, l.heads = "m", "point,x_%s,y_%s,elev_%s,code" })},
		"millimetres":         {layout: with(func(l *layout) { l.unit, l.heads = "mm", "point,x_%s,y_%s,elev_%s,code" })},
		"inches":              {layout: with(func(l *layout) { l.unit, l.heads = "in", "point,x (%s),y (%s),elev (%s),code" })},
		"survey feet":         {layout: with(func(l *layout) { l.unit, l.heads = "ft-us", "point,x_%s,y_%s,elev_%s,code" })},
		"feet and inches":     {layout: with(func(l *layout) { l.unit, l.heads = "feet and inches", "point,x,y,elev,code" })},
		"a flag for the unit": {layout: with(func(l *layout) { l.heads = "point,x,y,elev,code" }), options: importer.Options{Units: feet}},
		"one column states":   {layout: with(func(l *layout) { l.heads = "point,x,y,elev_ft,code" })},
		"northing first":      {layout: with(func(l *layout) { l.heads = "Point,Northing_ft,Easting_ft,Elevation_ft,Description" })},
		"code first":          {layout: with(func(l *layout) { l.heads = "code,rl_ft,y_ft,x_ft,nr" })},
		"a column of others":  {layout: with(func(l *layout) { l.heads = "point,crew,x_ft,y_ft,weather,elev_ft,code" })},
		"semicolons":          {layout: with(func(l *layout) { l.separator = ";" })},
		"decimal commas": {layout: with(func(l *layout) {
			l.separator, l.comma, l.unit, l.heads = ";", true, "m", "point,x_%s,y_%s,elev_%s,code"
		})},
		"tabs":                    {layout: with(func(l *layout) { l.separator = "\t" })},
		"tabs and decimal commas": {layout: with(func(l *layout) { l.separator, l.comma = "\t", true })},
		"quotes":                  {layout: with(func(l *layout) { l.quoted = true })},
		"quotes, CRLF and BOM":    {layout: with(func(l *layout) { l.quoted, l.end, l.before = true, "\r\n", "\ufeff" })},
		"CR alone":                {layout: with(func(l *layout) { l.end = "\r" })},
		"blank lines":             {layout: with(func(l *layout) { l.end = "\n\n" })},
		"comments":                {layout: with(func(l *layout) { l.end, l.before = "\n# next\n", "# party 2\n" })},
		"trailing separators":     {layout: with(func(l *layout) { l.trailing = ",," })},
		"a line for spreadsheets": {layout: with(func(l *layout) { l.separator, l.before, l.end = ";", "\ufeffsep=;\r\n", "\r\n" })},
		"rods":                    {layout: with(func(l *layout) { l.heads, l.rods = "point,x_ft,y_ft,rod_ft,code", 850 }), options: importer.Options{HI: "106.25"}},
		"rods in mm, sight in ft": {layout: with(func(l *layout) { l.unit, l.heads, l.rods = "mm", "point,x_mm,y_mm,rod_mm,code", 850 }), options: importer.Options{HI: "106.25 ft"}},
		"no heads": {
			layout:  with(func(l *layout) { l.bare, l.heads = true, "point,north,east,elevation,code" }),
			options: importer.Options{Units: feet, Columns: []string{"point", "n", "e", "z", "code"}},
		},
	} {
		r, err := importer.Read(write(t, "shed.csv", c.write(shed)), c.options)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := told(r); got != shedInMetres {
			t.Errorf("%s: reads as\n%swant\n%s", name, got, shedInMetres)
		}
	}
}

// In columns that blanks separate an empty field cannot be written: the spots alone, beside the outline of another file.
func TestTheSameSpotsBetweenBlanks(t *testing.T) {
	depot := collection(`"units":"ft","frame":"local"`, feature(`"role":"outline","name":"Shed"`, "Polygon", rectangle))
	spots := []shot{shed[6], shed[8], {"20", 44, 41, 790, "SPOT"}}
	for text, l := range map[string]layout{
		"blanks":         {unit: "ft", heads: "point,x_ft,y_ft,elev_ft,code", separator: "  ", end: "\n"},
		"decimal commas": {unit: "mm", heads: "point,x_mm,y_mm,elev_mm,code", separator: " ", end: "\r\n", comma: true},
		"indented":       {unit: "m", heads: "point,x_m,y_m,elev_m,code", separator: " \t", end: "  \n", before: "\n"},
	} {
		r := mustRead(t, importer.Options{}, "depot.geojson", depot, "spots.txt", l.write(spots))
		for i, want := range [][3]float64{{1.524, 1.524, 30.5181}, {9.144, 5.715, 30.3657}, {1.6764, 1.5621, 30.099}} {
			s := &r.Spots[i]
			near(t, text, orb.Point{s.Plan[0] + 30*0.3048, s.Plan[1] + 20*0.3048}, orb.Point{want[0], want[1]}, 1e-9) // about the middle, 30 by 20 ft
			heightIs(t, text+": elevation", s.Z, want[2])
		}
	}
}

// drawn writes the shed as GeoJSON in a unit. apart writes elevations as properties, else as third coordinates.
func drawn(unit string, apart bool) string {
	number := steps[unit]
	at := func(s shot) string {
		if s.z == none || apart {
			return "[" + number(s.x) + "," + number(s.y) + "]"
		}
		return "[" + number(s.x) + "," + number(s.y) + "," + number(s.z) + "]"
	}
	elevation := func(s shot, as string) string {
		if !apart || s.z == none {
			return ""
		}
		return `,"` + as + `":` + number(s.z)
	}
	ring := func(shots ...shot) string {
		var all []string
		for _, s := range append(slices.Clip(shots), shots[0]) {
			all = append(all, at(s))
		}
		return "[[" + strings.Join(all, ",") + "]]"
	}
	tops := shed[:4]
	if apart { // a corner has no property of its own
		tops = nil
		for _, s := range shed[:4] {
			tops = append(tops, shot{s.id, s.x, s.y, none, s.code})
		}
	}
	valley, levels := shed[9:11], ""
	if apart {
		levels = `,"elevations":"` + number(valley[0].z) + "; " + number(valley[1].z) + `"`
	}
	return collection(`"units":"`+unit+`","frame":"local"`,
		feature(`"role":"outline","name":"Shed","edge":"gutter"`, "Polygon", ring(tops...)),
		feature(`"role":"outlet","type":"drain","label":"D-1","diameter":"4 in","bowl":"14 in"`+elevation(shed[4], "invert"), "Point", at(shed[4])),
		feature(`"role":"outlet","type":"scupper","duty":"overflow","label":"OS-1","width":"203.2 mm","opening_height":"6\""`+elevation(shed[5], "invert"), "Point", at(shed[5])),
		feature(`"role":"spot","id":"7"`+elevation(shed[6], "elevation"), "Point", at(shed[6])),
		feature(`"role":"spot","id":"8","sigma":"3 mm"`+elevation(shed[7], "elevation"), "Point", at(shed[7])),
		feature(`"id":"9","role":"spot"`+elevation(shed[8], "elevation"), "Point", at(shed[8])),
		feature(`"role":"breakline","type":"valley"`+levels, "LineString", "["+at(valley[0])+","+at(valley[1])+"]"),
		feature(`"role":"curb","height":"0.2032 m","label":"RTU-1"`, "Polygon", ring(shed[11:14]...)),
		feature(`"role":"edge","type":"wall","height":"2 ft"`, "LineString", "["+at(shed[14])+","+at(shed[15])+"]"),
		feature(`"role":"core","deck":"steel"`+elevation(shed[16], "elevation"), "Point", at(shed[16])),
		feature(`"role":"sill","kind":"door-sill","label":"Door"`+elevation(shed[17], "elevation"), "Point", at(shed[17])),
	)
}

// The same roof as a drawing office hands it over: in each unit, and with elevations as coordinates or as properties.
func TestTheSameRoofAsGeoJSON(t *testing.T) {
	for unit := range steps {
		if unit == "feet and inches" {
			continue // a JSON number has no signs for them
		}
		for _, apart := range []bool{false, true} {
			want := shedInMetres
			if apart { // corners of an outline have no property for their elevation
				outline, rest, _ := strings.Cut(want, "\n")
				want = strings.NewReplacer("30.59430", "none", "30.63240", "none").Replace(outline) + "\n" + rest
			}
			r := mustRead(t, importer.Options{}, "shed.geojson", drawn(unit, apart))
			if got := told(r); got != want {
				t.Errorf("%s, elevations apart %v: reads as\n%swant\n%s", unit, apart, got, want)
			}
		}
	}
}

// A survey in two files, in either order and in two units, is the same roof as in one: what is on it is the same, whatever its order.
func TestTheSameRoofInTwoFiles(t *testing.T) {
	sorted := func(text string) string {
		lines := strings.Split(text, "\n")
		slices.Sort(lines)
		return strings.Join(lines, "\n")
	}
	feet := layout{unit: "ft", heads: "point,x_ft,y_ft,elev_ft,code", separator: ",", end: "\n"}
	metres := layout{unit: "m", heads: "code,elev_m,y_m,x_m,point", separator: ";", end: "\r\n", comma: true}
	for cut := 4; cut < len(shed); cut++ {
		if cut == 10 || cut == 12 || cut == 13 || cut == 15 {
			continue // a line is shot in one file
		}
		first, second := feet.write(shed[:cut]), metres.write(shed[cut:])
		for _, files := range [][]string{{"a.csv", first, "b.csv", second}, {"b.csv", second, "a.csv", first}} {
			r := mustRead(t, importer.Options{}, files...)
			if got := sorted(told(r)); got != sorted(shedInMetres) {
				t.Errorf("cut before %s, %s first: reads as\n%swant\n%s", shed[cut].id, files[0], got, sorted(shedInMetres))
			}
		}
	}
}

// The same file moved on its grid is the same roof moved: by whole feet, exactly.
func TestTheSameRoofElsewhereOnItsGrid(t *testing.T) {
	l := layout{unit: "ft", heads: "point,x_ft,y_ft,elev_ft,code", separator: ",", end: "\n"}
	here := mustRead(t, importer.Options{}, "shed.csv", l.write(shed))
	moved := slices.Clone(shed)
	for i := range moved {
		moved[i].x, moved[i].y = moved[i].x+8*5000, moved[i].y+8*7000
	}
	there := mustRead(t, importer.Options{}, "shed.csv", l.write(moved))
	for i := range here.Spots {
		if here.Spots[i].Plan != there.Spots[i].Plan || here.Spots[i].Z != there.Spots[i].Z {
			t.Errorf("spot %s at %v, %v and %v, %v", here.Spots[i].ID, here.Spots[i].Plan, here.Spots[i].Z, there.Spots[i].Plan, there.Spots[i].Z)
		}
	}
	if got := there.Frame.Origin; got != (orb.Point{5030, 7020}) { // the middle of 60 by 40 ft
		t.Errorf("origin %v", got)
	}
}

// heightIs holds an elevation to what it is by hand [m].
func heightIs(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(got-want <= 1e-9 && want-got <= 1e-9) {
		t.Errorf("%s is %.9f m, want %.9f", what, got, want)
	}
}

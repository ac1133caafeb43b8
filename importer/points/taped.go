package points

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/code"
	"runnel/importer/points/separated"
	"runnel/importer/points/wallbook"
)

// tapedRow is a row whose place is a text or distances from walls. It is kept until the outline and what it names are known.
type tapedRow struct {
	number int
	id     string
	fields []string
	code   *code.Code
}

// taped reports whether the places of the file are distances from walls.
func (f *File) taped() bool {
	return find(f.columns, xColumn).kind != xColumn && (find(f.columns, placeColumn).kind == placeColumn || find(f.columns, wallColumn).kind == wallColumn)
}

// Taped reports whether the places of the file are distances from walls.
func (f *File) Taped() bool { return f.taped() }

// Along gives the file the outline and the names that other files have, in this file's unit.
func (f *File) Along(known draft.Known) { f.before = known }

// checkTaped returns what is wrong with the columns of a file whose places are distances from walls.
func checkTaped(have [kinds]int) (rule, mend string) {
	switch {
	case have[xColumn] > 0 || have[yColumn] > 0:
		return "columns for coordinates and columns for distances from walls", "remove one of them"
	case have[codeColumn] == 0:
		return "no column for the code", "name it code; it says what each row is, such as DRAIN RD-1 d=4in"
	case have[zColumn] > 0 && have[rodColumn] > 0:
		return "a column for elevations and one for rod readings", "remove one of them"
	}
	return "", ""
}

// lineOfSight takes the level's line of sight as 100 where nobody says its elevation: heights are then good to compare with each other.
func (r *reader) lineOfSight() {
	const usual = 100
	r.hi = usual * r.set.Unit.Metres()
	r.tape0().Sighted = true
	r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: the level's line of sight is taken as %d %v, so heights compare with each other only; all rods must be of one set-up. --hi says otherwise.",
		r.Name, usual, r.set.Unit))
}

// placeTaped finds the places of rows that name walls and things, and keeps the rows in the order of the file.
func (r *reader) placeTaped() {
	if len(r.later) == 0 {
		return
	}
	outlined := r.outlineOfWalls()
	if r.walls == nil {
		if !outlined {
			r.number, r.id = r.later[0].number, ""
			r.refuse("places are distances from walls, and nothing says where the walls are",
				`add a row with the code OUTLINE rect=120x60ft or OUTLINE walls="E 120, N 60, ...", or name the file of the outline first`)
		}
		return
	}
	for _, n := range r.before.Names {
		r.walls.Call(n.Text, n.At)
	}
	r.tape0().Placed = true
	r.labelOutlets()
	places := r.findPlaces()
	for i := range r.later {
		if at, ok := places[i]; ok {
			r.keepTaped(&r.later[i], at)
		}
	}
	r.out.Imperial = r.out.Imperial || r.walls.Feet()
}

// labelOutlets gives outlets without a label one to be measured from: D1, S1 and so on.
func (r *reader) labelOutlets() {
	taken := map[string]bool{}
	for _, n := range r.before.Names {
		taken[strings.ToUpper(n.Text)] = true
	}
	bare := func(c *code.Code) bool {
		_, keyed := c.Value("label")
		return c.Number == "" && !keyed
	}
	for i := range r.later {
		if c := r.later[i].code; !bare(c) && (c.Role == code.Curb || c.Role >= code.Drain && c.Role <= code.Overflow) {
			p, _ := c.Value("label")
			taken[strings.ToUpper(c.Number)], taken[strings.ToUpper(p.Value)] = true, true
		}
	}
	for i := range r.later {
		c := *r.later[i].code
		letter := map[code.Role]string{code.Drain: "D", code.Scupper: "S", code.Overflow: "O"}[c.Role]
		if letter == "" || !bare(&c) {
			continue
		}
		for n := 1; c.Number == "" || taken[c.Number]; n++ {
			c.Number = letter + strconv.Itoa(n)
		}
		taken[c.Number] = true
		r.later[i].code = &c
	}
}

// keepTaped keeps a row whose place is known: one point, or the two ends of a wall.
func (r *reader) keepTaped(row *tapedRow, at []orb.Point) {
	r.number, r.id, r.code = row.number, row.id, row.code
	for _, p := range at {
		r.place = roof.Position{Plan: p}
		if !r.elevation(row.fields) || !r.believable() {
			return
		}
		r.kept = true
		if rect, ok := r.code.Value("rect"); ok && r.code.Role == code.Curb {
			r.rectangle(rect)
			return
		}
		r.keep(row.fields)
	}
}

// findPlaces returns the places of all rows by their index. Rows that name things which come later wait for them.
func (r *reader) findPlaces() map[int][]orb.Point {
	places := map[int][]orb.Point{}
	waiting := make([]int, 0, len(r.later))
	for i := range r.later {
		if role := r.later[i].code.Role; role != code.Skip && !r.isWalls(&r.later[i]) {
			waiting = append(waiting, i)
		} else if role == code.Skip {
			r.skipped++
		}
	}
	for {
		var left []int
		var wrongs []*wallbook.Misplaced
		for _, i := range waiting {
			at, wrong := r.placeOf(&r.later[i])
			switch {
			case wrong == nil:
				places[i] = at
				r.name(&r.later[i], at[0])
			case wrong.Unknown:
				left, wrongs = append(left, i), append(wrongs, wrong)
			default:
				r.misplace(&r.later[i], wrong)
			}
		}
		r.namePonds(places)
		if len(left) == len(waiting) {
			for k, i := range left {
				wrongs[k].Mend = r.walls.Known()
				r.misplace(&r.later[i], wrongs[k])
			}
			return places
		}
		waiting = left
	}
}

func (r *reader) misplace(row *tapedRow, wrong *wallbook.Misplaced) {
	r.number, r.id = row.number, row.id
	r.refuse(wrong.Rule, wrong.Mend)
}

// placeOf returns the place of a row; of an edge that is a whole wall its two ends.
func (r *reader) placeOf(row *tapedRow) ([]orb.Point, *wallbook.Misplaced) {
	text := ""
	if i := r.at[placeColumn]; i >= 0 {
		text = row.fields[i]
	}
	if text == "" {
		text = r.offsets(row)
	}
	if text == "" {
		return nil, &wallbook.Misplaced{Rule: "the row has no place", Mend: wallbook.Forms}
	}
	if role := row.code.Role; role >= code.Wall && role <= code.Free {
		if _, isWall := wallbook.WallName(text); isWall {
			w, wrong := r.walls.Wall(text)
			if wrong != nil {
				return nil, wrong
			}
			return []orb.Point{w.From, w.To}, nil
		}
	}
	at, wrong := r.walls.Find(text)
	if wrong != nil {
		return nil, wrong
	}
	return []orb.Point{at}, r.onRoof(text, at)
}

// offsets writes the distances that stand in columns of walls as the text of a place.
func (r *reader) offsets(row *tapedRow) string {
	var parts []string
	for i, c := range r.columns {
		if c.kind != wallColumn || row.fields[i] == "" {
			continue
		}
		wall := c.wall
		if !strings.HasPrefix(wall, "wall ") {
			wall += " wall"
		}
		length := row.fields[i]
		if _, _, bare := separated.Number(length, r.comma); bare && c.unit != quantity.Unstated {
			length += " " + c.unit.String()
		}
		parts = append(parts, length+" from "+wall)
	}
	return strings.Join(parts, "; ")
}

// onRoof refuses a place that lies off the roof by more than a tape's error.
func (r *reader) onRoof(text string, at orb.Point) *wallbook.Misplaced {
	const reach = 0.5 // m: outlets in a wall are moved onto it, as those of other files are
	if offset.Inside(r.walls.Ring(), at, reach/r.set.Unit.Metres()) {
		return nil
	}
	return &wallbook.Misplaced{Rule: fmt.Sprintf("%.60q lies off the roof", text), Mend: "measure it again, from the wall that is meant: " + r.walls.Walls()}
}

// name gives the thing of a row its name.
func (r *reader) name(row *tapedRow, at orb.Point) {
	c := row.code
	switch outlet := c.Role >= code.Drain && c.Role <= code.Overflow; {
	case outlet, c.Role == code.Curb, c.Role == code.Sill:
		if p, ok := c.Value("label"); ok {
			r.walls.Call(p.Value, at)
		}
		r.walls.Call(c.Number, at)
		if c.Role == code.Curb {
			r.walls.Call("CURB "+c.Number, at)
		}
	case c.Role == code.Low, c.Role == code.Lip:
		r.walls.Call(strings.TrimSpace(strings.ToUpper(c.Word)+" "+c.Number), at)
	}
	if i := r.at[pointColumn]; i >= 0 {
		r.walls.Call(row.fields[i], at)
	}
}

// namePonds calls each pond whose rows all have their places "P1": its lowest place where that was read, else the deepest sounding,
// else its middle.
func (r *reader) namePonds(places map[int][]orb.Point) {
	type best struct {
		at          orb.Point
		rank, depth float64
		waits       bool
	}
	found := map[string]*best{}
	var order []string
	for i := range r.later {
		c := r.later[i].code
		rank := map[code.Role]float64{code.Low: 3, code.Sounding: 2, code.Pond: 1}[c.Role]
		if rank == 0 {
			continue
		}
		number := pondNumber(c)
		b := found[number]
		if b == nil {
			b = &best{}
			found[number] = b
			order = append(order, number)
		}
		at, ok := places[i]
		if !ok {
			b.waits = b.waits || !r.atPond(&r.later[i], number)
			continue
		}
		if depth, _ := r.depthOf(&r.later[i]); rank > b.rank || rank == b.rank && depth > b.depth {
			b.at, b.rank, b.depth = at[0], rank, depth
		}
	}
	for _, number := range order {
		if b := found[number]; !b.waits {
			r.walls.Call("P"+number, b.at)
		}
	}
}

// atPond reports whether a row's place is the pond it belongs to: what was read at the deepest place, wherever that is said to be.
func (r *reader) atPond(row *tapedRow, number string) bool {
	i := r.at[placeColumn]
	return i >= 0 && strings.EqualFold(strings.TrimPrefix(strings.TrimSpace(row.fields[i]), "at "), "P"+number)
}

// depthOf returns the depth of a row without complaint about one that cannot be read [m].
func (r *reader) depthOf(row *tapedRow) (float64, bool) {
	text := ""
	if p, ok := row.code.Value("depth"); ok {
		text = p.Value
	} else if i := r.at[depthColumn]; i >= 0 {
		text = row.fields[i]
	}
	unit := r.set.Unit
	if u := find(r.columns, depthColumn).unit; u != quantity.Unstated {
		unit = u
	}
	l, err := quantity.ParseLength(separated.DecimalPoint(text), unit)
	return float64(l), err == nil
}

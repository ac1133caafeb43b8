package geojson

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
	"github.com/tidwall/gjson"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// reader reads the features of one document, one after the other.
type reader struct {
	name     string
	set      draft.Setting
	out      *draft.Draft
	problems *roof.Refusal

	// of the feature at hand
	number   int
	id       string
	whole    object // the feature itself
	props    object
	geometry object
	first    orb.Point // its first position, when hasFirst
	hasFirst bool

	loose   []gjson.Result // polygons without a role
	looseAt []int          // their feature numbers
	left    map[string]int // features left out, by what they are
}

// roles says how each role is read, and which geometry it needs.
var roles = []struct {
	name, geometry string
	read           func(*reader)
}{
	{"outline", "Polygon", (*reader).outline},
	{"edge", "LineString", (*reader).edge},
	{"spot", "Point", (*reader).spot},
	{"breakline", "LineString", (*reader).breakline},
	{"curb", "Polygon", (*reader).curb},
	{"outlet", "Point", (*reader).outlet},
	{"core", "Point", (*reader).core},
	{"stain", "Polygon", (*reader).stain},
	{"sill", "Point", (*reader).sill},
	{"control", "Point", (*reader).control},
	{"answer", "Point", (*reader).answer},
}

// Read reads every feature. many says that all polygons without a role are outlines; else the only one is.
// Problems are added to problems; what could be read is returned all the same.
func (d *Document) Read(set draft.Setting, problems *roof.Refusal) *draft.Draft {
	r := &reader{name: d.Name, set: set, out: &draft.Draft{}, problems: problems, left: map[string]int{}}
	d.features.ForEach(func(_, f gjson.Result) bool {
		r.number++
		r.feature(f)
		return true
	})
	r.readLoose(set.Many)
	r.warnLeft()
	return r.out
}

// Outlines counts the features that are or may be outlines, without checking them.
func (d *Document) Outlines() int {
	stated, loose := 0, 0
	d.features.ForEach(func(_, f gjson.Result) bool {
		role := f.Get("properties.role")
		switch {
		case strings.EqualFold(role.String(), "outline"):
			stated++
		case role.Exists() && role.Type != gjson.Null, f.Get("properties.layer").Exists():
		case f.Get("geometry.type").String() == "Polygon":
			loose++
		}
		return true
	})
	return choose.If(stated > 0, stated, loose)
}

// open makes f the feature at hand.
func (r *reader) open(f gjson.Result) {
	r.whole.read(f)
	r.props.read(r.whole.get("properties"))
	r.geometry.read(r.whole.get("geometry"))
	r.id, r.hasFirst = "", false
	for _, v := range [...]gjson.Result{r.props.get("id"), r.whole.get("id")} {
		if v.Type == gjson.String || v.Type == gjson.Number {
			r.id = r.fitting("id", v.String())
			break
		}
	}
}

func (r *reader) feature(f gjson.Result) {
	if !f.IsObject() || f.Get("type").String() != "Feature" {
		r.id, r.hasFirst = "", false
		r.refuse("this is not a Feature", `give it "type": "Feature"`)
		return
	}
	r.open(f)
	if !r.onlyOnce() {
		return
	}
	if role := r.props.get("role"); role.Exists() && role.Type != gjson.Null {
		r.byRole(strings.ToLower(strings.TrimSpace(role.String())))
		return
	}
	if layer := r.props.get("layer"); layer.Exists() && layer.Type != gjson.Null {
		return
	}
	r.withoutRole(f)
}

// byRole reads a feature that says what it is.
func (r *reader) byRole(role string) {
	for _, k := range roles {
		if k.name == role {
			if r.single(k.geometry) {
				k.read(r)
			} else {
				r.refuse(fmt.Sprintf("role %s needs a %s, this has %s", role, k.geometry, r.geometryName()), "draw it as a "+k.geometry)
			}
			return
		}
	}
	names := make([]string, 0, len(roles))
	for _, k := range roles {
		names = append(names, k.name)
	}
	r.refuse(fmt.Sprintf("unknown role %.40q", role), "use "+strings.Join(names, ", "))
}

// single reports whether the geometry is of kind; a Multi- of one part counts and is unwrapped.
func (r *reader) single(kind string) bool {
	have := r.geometry.get("type").String()
	if have == "Multi"+kind {
		if parts := r.geometry.get("coordinates").Array(); len(parts) == 1 {
			r.geometry.read(gjson.Parse(`{"coordinates":` + parts[0].Raw + `}`))
			return true
		}
	}
	return have == kind
}

func (r *reader) geometryName() string {
	if name := r.geometry.get("type").String(); name != "" {
		return fmt.Sprintf("a %.40s", name)
	}
	return "no geometry"
}

// noElevation is a Point that is left out.
const noElevation = "Point without an elevation"

// withoutRole sorts a feature that does not say what it is: a Point with an elevation is a spot, a Polygon
// waits, all else is left out.
func (r *reader) withoutRole(f gjson.Result) {
	switch kind := r.geometry.get("type").String(); kind {
	case "Polygon":
		r.loose = append(r.loose, f)
		r.looseAt = append(r.looseAt, r.number)
	case "Point":
		z := r.props.get("elevation")
		if len(r.geometry.get("coordinates").Array()) > 2 || z.Exists() && z.Type != gjson.Null {
			r.spot()
			return
		}
		r.left[noElevation]++
	case "":
		r.left["feature without a geometry"]++
	default:
		r.left[fmt.Sprintf("%.40s", kind)]++
	}
}

// readLoose reads the polygons without a role as outlines where that is what they must be.
func (r *reader) readLoose(many bool) {
	if len(r.loose) == 0 {
		return
	}
	if len(r.out.Outlines) > 0 || len(r.loose) > 1 && !many {
		r.left["Polygon"] += len(r.loose)
		r.out.Polygons = len(r.loose)
		return
	}
	for i, f := range r.loose {
		r.number = r.looseAt[i]
		r.open(f)
		r.outline()
	}
}

func (r *reader) warnLeft() {
	if len(r.left) == 0 {
		return
	}
	kinds := make([]string, 0, len(r.left))
	total := 0
	for kind, n := range r.left {
		kinds = append(kinds, strconv.Itoa(n)+" "+kind)
		total += n
	}
	slices.Sort(kinds)
	text := fmt.Sprintf("%s: left out features without a role: %d (%s).", r.name, total, strings.Join(kinds, ", "))
	if r.left[noElevation] > 0 {
		text += " An elevation is a third coordinate or the property elevation."
	}
	r.out.Warnings = append(r.out.Warnings, text)
}

// origin is where the feature at hand stands.
func (r *reader) origin() roof.Origin { return roof.Origin{File: r.name, Feature: r.number, ID: r.id} }

// head is what every measured thing carries.
func (r *reader) head() roof.Feature {
	h := roof.Feature{Origin: r.origin(), ID: r.id}
	if r.props.value.IsObject() {
		h.Properties = json.RawMessage(r.props.value.Raw)
	}
	return h
}

// refuse adds a problem of the feature at hand, at its first position where that is known.
func (r *reader) refuse(rule, mend string) {
	r.problems.Add(roof.Problem{Origin: r.origin(), At: r.first, HasAt: r.hasFirst, Rule: rule, Mend: mend})
}

// Package export writes what a check of one roof found: map, summary, plan, report, schedule and set-out, all files or none.
//
// Every file is written under a temporary name in its own folder and renamed when all are whole (package staged): a
// run that fails leaves nothing behind, and a reader never sees half a file.
package export

import (
	"cmp"
	"path/filepath"
	"strings"
	"sync"
	"unicode"

	"runnel/analysis/roof"
	"runnel/export/drawing"
	"runnel/export/model"
	"runnel/export/staged"
)

// Options are how files are written.
type Options struct {
	Stem      string // what every file's name begins with; see Stem
	Split     bool   // one GeoJSON a layer
	Facets    bool   // single triangles are a layer of the map
	BenchMark string // of the set-out sheet: an outlet's label or id, or a spot's id; empty for the usual one
	Plan      drawing.Options
	RoofFile  bool // the GeoJSON is a corrected roof, "<stem>.geojson" also on a site grid
}

// Write stages the given kinds of file of m; Commit of what it returns puts them in place. The error is a *staged.InputError
// or wraps staged.ErrExists where something stands in the way, and is a *sheet.FitError where the plan does not fit on
// its sheet at the scale asked for.
func Write(m *model.Model, kinds []Kind, to staged.Target, o Options) (*staged.Set, error) {
	all, err := Outputs(m, kinds, o)
	if err != nil {
		return nil, err
	}
	return staged.Stage(to, all)
}

// Outputs returns the given kinds of file of m, to be staged. The error is a *sheet.FitError where the plan does not
// fit on its sheet at the scale asked for.
func Outputs(m *model.Model, kinds []Kind, o Options) ([]staged.Output, error) {
	r := order{model: m, Options: o, frames: []roof.FrameKind{m.Book.Study.Roof.Frame.Kind}}
	return r.outputs(kinds)
}

// Stem returns what the files of a roof begin with: the roof's name, or else the stem of its first file,
// in letters, digits and hyphens.
func Stem(r *roof.Roof) string {
	name := r.Name
	if name == "" && len(r.Inputs) > 0 {
		name = strings.TrimSuffix(filepath.Base(r.Inputs[0].Path), filepath.Ext(r.Inputs[0].Path))
	}
	return StemOf(name)
}

// longestStem keeps the names of files below what file systems take [bytes].
const longestStem = 80

// StemOf returns what the files of a roof of that name begin with, cut where it is very long; "roof" where no
// letter or digit is left.
func StemOf(name string) string {
	s := plain(name)
	if len(s) > longestStem {
		s = strings.TrimRight(s[:longestStem], "-")
	}
	return cmp.Or(s, "roof")
}

// marked are the letters of Latin alphabets that stand for another one with a mark. A library that knows those of all alphabets weighs 60 kB in the program for a browser.
var marked = map[string]string{
	"a": "àáâãäåāăą", "ae": "æ", "c": "çćĉċč", "d": "ðďđ", "e": "èéêëēĕėęě", "g": "ĝğġģ", "h": "ĥħ", "i": "ìíîïĩīĭįı", "j": "ĵ", "k": "ķ", "l": "ĺļľŀł", "n": "ñńņňŋ",
	"o": "òóôõöøōŏő", "oe": "œ", "r": "ŕŗř", "s": "śŝşšș", "ss": "ß", "t": "ţťŧț", "th": "þ", "u": "ùúûüũūŭůűų", "w": "ŵ", "y": "ýÿŷ", "z": "źżž",
}

// unmarked takes the marks off letters: ü becomes u.
var unmarked = sync.OnceValue(func() *strings.Replacer {
	var pairs []string
	for plain, letters := range marked {
		for _, r := range letters {
			pairs = append(pairs, string(r), plain)
		}
	}
	return strings.NewReplacer(pairs...)
})

// plain keeps ASCII letters and digits, takes the marks off others, and puts one hyphen for whatever else stands between them.
func plain(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range unmarked().Replace(strings.ToLower(name)) {
		if unicode.Is(unicode.Mn, r) {
			continue
		}
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') {
			gap = true
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte('-')
		}
		gap = false
		b.WriteRune(r)
	}
	return b.String()
}

// Names returns the names of all files of these kinds that a roof of that stem may get, in the order of writing; split
// asks for one GeoJSON a layer, and frames are those that the roof may be in: any where none is given.
func Names(stem string, kinds []Kind, split bool, frames ...roof.FrameKind) []string {
	if frames == nil {
		frames = []roof.FrameKind{roof.Geographic, roof.Local}
	}
	r := order{Options: Options{Stem: stem, Split: split}, frames: frames}
	all, _ := r.outputs(kinds) // only a drawing fails, and none is made for its name
	return names(all)
}

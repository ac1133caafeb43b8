package points

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/code"
	"runnel/importer/points/separated"
	"runnel/importer/points/wallbook"
)

type reader struct {
	*File
	set      draft.Setting
	out      *draft.Draft
	problems *roof.Refusal

	at     [kinds]int // field of each kind of column, -1 for none
	most   int        // fields after which the rest of a row is one field, 0 for no such
	metres [kinds]float64
	hi     float64 // height of instrument [m]
	rod    float64 // reading of the row at hand, in files of rod readings [m]
	comma  bool    // a decimal comma is possible
	signs  [2]int  // first line with a decimal point, and with a decimal comma

	codes   map[string]*code.Code
	unknown map[string]int // points with a code that is not known, by its first word
	skipped int
	kept    bool // a row could be used
	blind   bool // elevations are rod readings, and nobody stated the line of sight
	refused bool // which was said
	quotes  int  // fields that were quoted in messages
	chains  []*chain
	growing map[chainKey]*chain
	words   slab
	later   []tapedRow // of a file whose places are distances from walls
	walls   *wallbook.Book

	// of the row at hand
	number int
	id     string
	place  roof.Position
	code   *code.Code
}

// mostRows is how many points of a file are read.
const mostRows = 5000000

// maxCodes bounds how many different codes are kept parsed.
const maxCodes = 1 << 14

// Read reads every row. Problems are added to problems; what could be read is returned all the same.
func (f *File) Read(set draft.Setting, problems *roof.Refusal) *draft.Draft {
	r := newReader(f, set, problems)
	if !r.prepare() {
		return r.out
	}
	r.out.Spots = make([]roof.Spot, 0, min(strings.Count(f.body, "\n"), mostRows)+1)
	rows := 0
	fields := make([]string, 0, len(f.columns)+2)
	text := f.body
	for line := f.line; text != ""; line++ {
		var row string
		row, text, _ = strings.Cut(text, "\n")
		if len(row) > MaxLine {
			r.number = line
			r.refuse("the line is longer than a megabyte", "write one point a line")
			break
		}
		row = separated.Trim(row)
		if separated.Empty(row, r.sep) {
			continue
		}
		r.number, r.id = line, ""
		if rows++; rows > mostRows {
			r.refuse(fmt.Sprintf("the file has more than %d rows", mostRows), "thin the survey to a spot every few inches, or check the roof in parts")
			break
		}
		r.row(row, fields[:0])
	}
	r.finish()
	r.warn()
	return r.out
}

func newReader(f *File, set draft.Setting, problems *roof.Refusal) *reader {
	return &reader{
		File: f, set: set, out: &draft.Draft{}, problems: problems, comma: f.sep != ',',
		codes: map[string]*code.Code{}, unknown: map[string]int{}, growing: map[chainKey]*chain{},
	}
}

// finish makes what only all rows together say.
func (r *reader) finish() {
	r.placeTaped()
	r.finishChains()
	r.settleWaters()
	r.settleZeros()
}

// prepare looks up the columns and their units.
func (r *reader) prepare() bool {
	for k := range r.at {
		r.at[k] = slices.IndexFunc(r.columns, func(c column) bool { return int(c.kind) == k })
		unit := find(r.columns, kind(k)).unit
		overruled := r.Units != quantity.Unstated && r.set.Unit != r.Units // the header, by a flag
		if unit == quantity.Unstated || overruled {
			unit = r.set.Unit
		}
		r.metres[k] = unit.Metres()
	}
	if r.at[codeColumn] == len(r.columns)-1 {
		r.most = len(r.columns)
	}
	r.warnColumns()
	if r.at[rodColumn] < 0 {
		return true
	}
	if r.options.HI == "" && r.taped() {
		r.lineOfSight()
		return true
	}
	if r.options.HI == "" {
		r.blind = true
		return true
	}
	hi, imperial, err := quantity.ReadLength(r.options.HI, r.set.Unit)
	if err != nil {
		r.refuse("--hi: "+err.Error(), sayHI)
		return false
	}
	r.out.Imperial = r.out.Imperial || imperial
	r.hi = float64(hi)
	return true
}

const sayHI = "say --hi with the elevation of the instrument's line of sight; where nobody knows it, --hi 100 will do: heights then compare with each other only"

// refuseBlind refuses a file of rods whose line of sight nobody stated, once.
func (r *reader) refuseBlind() {
	if !r.refused {
		r.number, r.id = 0, ""
		r.refuse("the elevations are rod readings, and the height of instrument is not known", sayHI)
	}
	r.refused = true
}

// warnColumns says which columns are not read, and which take the unit that another column states.
func (r *reader) warnColumns() {
	if names := r.unread(); len(names) > 0 {
		r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: columns not read: %s.", r.Name, draft.Listing(names)))
	}
	if r.inferred && r.set.Unit == r.Units {
		r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: numbers without a unit are taken to be in %v, as the lengths of the file that carry one.", r.Name, r.Units))
	} else if names := r.unitless(); len(names) > 0 {
		r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: columns that state no unit are taken to be in %s, as other columns of the file say: %s.",
			r.Name, r.Units, draft.Listing(names)))
	}
}

// unitless lists the names of columns of lengths that state no unit where others do and no flag overrules them.
func (r *reader) unitless() []string {
	if r.Units == quantity.Unstated || r.set.Unit != r.Units {
		return nil
	}
	var list []string
	for _, k := range []kind{xColumn, yColumn, zColumn, rodColumn, sigmaColumn} {
		if r.set.Geographic && (k == xColumn || k == yColumn) {
			continue
		}
		if c := find(r.columns, k); c.name != "" && c.unit == quantity.Unstated {
			list = append(list, c.name)
		}
	}
	return list
}

// unread lists the names of columns that are not known.
func (r *reader) unread() []string {
	var list []string
	for _, c := range r.columns {
		if c.kind == ignored && c.name != "" && c.name != "-" {
			list = append(list, c.name)
		}
	}
	return list
}

func (r *reader) row(text string, fields []string) {
	fields, err := separated.Split(fields, text, r.sep, r.most)
	if err != nil {
		r.refuse(err.Error(), "write a quote inside of a quoted field twice")
		return
	}
	if r.taped() {
		fields = r.rejoin(fields)
	}
	if fields = r.even(fields, text); fields == nil {
		return
	}
	if i := r.at[pointColumn]; i >= 0 {
		r.id = r.words.keep(fields[i])
	}
	if !r.short(fields) {
		return
	}
	if r.id == "" {
		r.id = "L" + strconv.Itoa(r.number)
	}
	r.code = r.codeOf(fields)
	if r.code.Bad != "" {
		r.refuse(r.code.Bad, "correct the code")
		return
	}
	switch {
	case r.code.Role == code.Visit:
		r.visit()
		return
	case r.code.Role == code.Answer && r.placeless(fields):
		r.kept = true
		r.answer(false)
		return
	}
	if r.blind {
		r.refuseBlind()
		return
	}
	if r.taped() {
		r.later = append(r.later, tapedRow{r.number, r.id, slices.Clone(fields), r.code})
		return
	}
	if r.position(fields) {
		r.kept = true
		r.keep(fields)
	}
}

// short refuses a row with a name or a code longer than any is.
func (r *reader) short(fields []string) bool {
	for _, k := range []kind{pointColumn, codeColumn} {
		if r.at[k] < 0 {
			continue
		}
		if begin, rule := draft.Fitting(map[kind]string{pointColumn: "the name of the point", codeColumn: "the code"}[k], fields[r.at[k]]); rule != "" {
			if k == pointColumn {
				r.id = begin
			}
			r.refuse(rule, "shorten it")
			return false
		}
	}
	return true
}

// quoted quotes a field that is not what it should be. Of a file without a row that can be used a few are quoted and no
// more: it may be another file.
func (r *reader) quoted(field string) string {
	const few = 3
	if r.quotes++; !r.kept && r.quotes > few {
		return "what stands there"
	}
	return fmt.Sprintf("%.20q", field)
}

// even returns the fields of a row that has as many as there are columns, else nil.
func (r *reader) even(fields []string, text string) []string {
	want := len(r.columns)
	for len(fields) > want && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if len(fields) == want-1 && r.sep == separated.Blanks && r.most > 0 {
		fields = append(fields, "")
	}
	if len(fields) == want {
		return fields
	}
	rule := fmt.Sprintf("the row has %s where %d belong", counted(len(fields), "field"), want)
	mend := "write a value, or nothing between two separators, for each column; put a text that holds a separator in quotes"
	if sep := separated.Guess(text); sep != r.sep {
		rule += fmt.Sprintf(": it is separated by %s, the rows before by %s", separated.Name(sep), separated.Name(r.sep))
		mend = "use one separator in the whole file"
	}
	r.refuse(rule, mend)
	return nil
}

// counted writes a number of things.
func counted(n int, thing string) string {
	return choose.If(n == 1, "1 "+thing, strconv.Itoa(n)+" "+thing+"s")
}

// codeOf returns the code of a row.
func (r *reader) codeOf(fields []string) *code.Code {
	text := ""
	if i := r.at[codeColumn]; i >= 0 {
		text = fields[i]
	}
	if c, ok := r.codes[text]; ok {
		return c
	}
	text = strings.Clone(text)
	c := code.Parse(r.options.Codes.Translate(text))
	c.Properties = code.Properties(text)
	if len(r.codes) < maxCodes {
		r.codes[text] = c
	}
	return c
}

// origin is where the row at hand stands.
func (r *reader) origin() roof.Origin { return roof.Origin{File: r.Name, Line: r.number, ID: r.id} }

// head is what every measured thing carries.
func (r *reader) head() roof.Feature {
	return roof.Feature{Origin: r.origin(), ID: r.id, Properties: r.code.Properties}
}

// refuse adds a problem of the row at hand.
func (r *reader) refuse(rule, mend string) {
	r.problems.Add(roof.Problem{Origin: r.origin(), Rule: rule, Mend: mend})
}

// refuseAt adds a problem of the row at hand with its place.
func (r *reader) refuseAt(rule, mend string) {
	r.problems.Add(roof.Problem{Origin: r.origin(), At: r.place.Plan, HasAt: true, Rule: rule, Mend: mend})
}

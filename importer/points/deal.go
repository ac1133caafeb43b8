package points

import (
	"fmt"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points/separated"
)

// Row is where a row of a file stands.
type Row struct {
	at   uint32 // first byte
	line int32
}

// Deal tells where the rows of a file belong, without reading more of them than their places: a file of ten million spots for
// thousands of roofs is then read roof by roof.
type Deal struct {
	file  *File
	set   draft.Setting
	rest  []Row
	rows  []Row   // of all roofs, those of one beside each other, in the order of the file
	start []int32 // of each roof in rows, and the end

	None, Two Lost
}

// Lost are spots that are left out: how many, and the first of them.
type Lost struct {
	Count int
	First []string
}

// mostLost is how many lost spots are named.
const mostLost = 16

// Add adds others.
func (l *Lost) Add(o Lost) {
	l.Count += o.Count
	l.First = append(l.First, o.First...)
	l.First = l.First[:min(mostLost, len(l.First))]
}

// addRow adds the row at hand.
func (l *Lost) addRow(s *scanner) {
	if l.Count++; l.Count <= mostLost {
		l.First = append(l.First, s.name())
	}
}

// String counts them and names the first.
func (l Lost) String() string {
	if l.Count > len(l.First) {
		return fmt.Sprintf("%d (%s and %d more)", l.Count, strings.Join(l.First[:10], ", "), l.Count-10)
	}
	return fmt.Sprintf("%d (%s)", l.Count, draft.Listing(l.First))
}

// What a place may belong to instead of an outline.
const (
	OnNone = -1 // no outline holds it
	OnTwo  = -2 // more than one does
)

// NewDeal separates plain spots from the rows that say more, or that cannot be read as spots; nil where places are distances from
// walls, or the columns are not decided.
func NewDeal(f *File, set draft.Setting) *Deal {
	if f.taped() || f.open || uint64(len(f.body)) > 1<<32-1 {
		return nil
	}
	d := &Deal{file: f, set: set}
	for _, rest := range d.each(func(s *scanner) []Row {
		var rest []Row
		for s.next() {
			if !s.plain() {
				rest = append(rest, s.row)
			}
		}
		return rest
	}) {
		d.rest = append(d.rest, rest...)
	}
	return d
}

// Rest reads the rows that are no plain spots.
func (d *Deal) Rest(problems *roof.Refusal) *draft.Draft {
	return d.file.read(d.set, d.rest, true, problems)
}

// To deals the plain spots out among so many outlines. holder returns the outline that holds a place in the coordinates of the file,
// OnNone or OnTwo; it is called by several goroutines at once.
func (d *Deal) To(outlines int, holder func(x, y float64) int) {
	type part struct {
		rows      []Row
		to        []int32
		none, two Lost
	}
	parts := d.eachPart(func(s *scanner) any {
		p := &part{}
		n := strings.Count(s.text[s.at:s.end], "\n") + 1
		p.rows, p.to = make([]Row, 0, n), make([]int32, 0, n)
		for s.next() {
			if !s.plain() {
				continue
			}
			switch i := holder(s.x, s.y); i {
			case OnNone:
				p.none.addRow(s)
			case OnTwo:
				p.two.addRow(s)
			default:
				p.rows, p.to = append(p.rows, s.row), append(p.to, int32(i)) //nolint:gosec // outlines are few
			}
		}
		return p
	})
	d.start = make([]int32, outlines+1)
	all := 0
	for _, scanned := range parts {
		p, _ := scanned.(*part)
		d.None.Add(p.none)
		d.Two.Add(p.two)
		all += len(p.to)
		for _, i := range p.to {
			d.start[i+1]++
		}
	}
	for i := range outlines {
		d.start[i+1] += d.start[i]
	}
	next := slices.Clone(d.start)
	d.rows = make([]Row, all)
	for _, scanned := range parts {
		p, _ := scanned.(*part)
		for k, i := range p.to {
			d.rows[next[i]] = p.rows[k]
			next[i]++
		}
	}
}

// Of reads the plain spots of outline i.
func (d *Deal) Of(i int, problems *roof.Refusal) *draft.Draft {
	return d.file.read(d.set, d.rows[d.start[i]:d.start[i+1]], false, problems)
}

// read reads some rows; said asks for what there is to say of the columns.
func (f *File) read(set draft.Setting, rows []Row, said bool, problems *roof.Refusal) *draft.Draft {
	r := newReader(f, set, problems)
	if !r.prepare() {
		return r.out
	}
	if !said {
		r.out.Warnings = nil
	}
	r.out.Spots = make([]roof.Spot, 0, len(rows))
	fields := make([]string, 0, len(f.columns)+2)
	for _, at := range rows {
		row, _, _ := strings.Cut(f.body[at.at:], "\n")
		r.number, r.id = int(at.line), ""
		if len(row) > MaxLine {
			r.refuse("the line is longer than a megabyte", "write one point a line")
			break
		}
		r.row(separated.Trim(row), fields[:0])
	}
	r.finish()
	if said {
		r.warn()
	}
	return r.out
}

// scanner walks over the rows of a piece of a file.
type scanner struct {
	file *File
	text string
	at   int // of the next row
	end  int
	line int32 // of the next row

	fields  []string
	columns [kinds]int
	row     Row
	body    string // of the row
	x, y    float64
}

// pieceOf is how many bytes of a file one goroutine scans at least.
const pieceOf = 1 << 20

func (d *Deal) each(scan func(*scanner) []Row) [][]Row {
	var out [][]Row
	for _, p := range d.eachPart(func(s *scanner) any { return scan(s) }) {
		rows, _ := p.([]Row)
		out = append(out, rows)
	}
	return out
}

// eachPart scans the pieces of the file side by side, and returns what comes of each in the order of the file.
func (d *Deal) eachPart(scan func(*scanner) any) []any {
	text := d.file.body
	pieces := max(1, min(runtime.GOMAXPROCS(0), len(text)/pieceOf))
	out := make([]any, pieces)
	var workers sync.WaitGroup
	at, line := 0, int32(d.file.line) //nolint:gosec // a file has fewer lines
	for k := range pieces {
		end := len(text) * (k + 1) / pieces
		if i := strings.IndexByte(text[end:], '\n'); i >= 0 {
			end += i + 1
		} else {
			end = len(text)
		}
		end = max(end, at)
		s := &scanner{file: d.file, text: text, at: at, end: end, line: line}
		for c := range s.columns {
			s.columns[c] = slices.IndexFunc(d.file.columns, func(col column) bool { return int(col.kind) == c })
		}
		line += int32(strings.Count(text[at:end], "\n")) //nolint:gosec // a file has fewer lines
		at = end
		workers.Go(func() { out[k] = scan(s) })
	}
	workers.Wait()
	return out
}

// next goes to the next row that is not empty.
func (s *scanner) next() bool {
	for s.at < s.end {
		row, _, found := strings.Cut(s.text[s.at:s.end], "\n")
		s.row = Row{uint32(s.at), s.line} //nolint:gosec // NewDeal bounds the text
		s.at += len(row)
		if found {
			s.at++
		}
		s.line++
		if s.body = separated.Trim(row); !separated.Empty(s.body, s.file.sep) {
			return true
		}
	}
	return false
}

// plain reports whether the row is a spot and nothing more, and reads its place.
func (s *scanner) plain() bool {
	if len(s.body) > MaxLine || strings.IndexByte(s.body, '"') >= 0 {
		return false
	}
	most := 0
	if s.columns[codeColumn] == len(s.file.columns)-1 {
		most = len(s.file.columns)
	}
	fields, err := separated.Split(s.fields[:0], s.body, s.file.sep, most)
	s.fields = fields
	want := len(s.file.columns)
	for len(fields) > want && fields[len(fields)-1] == "" {
		fields = fields[:len(fields)-1]
	}
	if len(fields) == want-1 && s.file.sep == separated.Blanks && most > 0 {
		fields = append(fields, "")
	}
	if err != nil || len(fields) != want {
		return false
	}
	if i := s.columns[codeColumn]; i >= 0 && s.coded(fields[i]) {
		return false
	}
	comma := s.file.sep != ','
	var okX, okY bool
	s.x, _, okX = separated.Number(fields[s.columns[xColumn]], comma)
	s.y, _, okY = separated.Number(fields[s.columns[yColumn]], comma)
	s.fields = fields
	return okX && okY
}

// coded reports whether a code makes its row more than a spot, or may.
func (s *scanner) coded(code string) bool {
	return code != "" && (s.file.options.Codes != nil || !strings.EqualFold(code, "SPOT"))
}

// name names the spot of the row, as messages do.
func (s *scanner) name() string {
	o := roof.Origin{File: s.file.Name, Line: int(s.row.line)}
	if i := s.columns[pointColumn]; i >= 0 {
		o.ID = s.fields[i]
	}
	if o.ID == "" {
		o.ID = "L" + strconv.Itoa(o.Line)
	}
	return o.String()
}

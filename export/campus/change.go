package campus

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/export/cell"
	"runnel/export/record"
)

// difference says how a roof stands beside the last time.
type difference uint8

// Differences, the worst first.
const (
	nowKeepOff difference = iota
	worse
	moreWater
	unreadable
	newRoof
	gone
	otherFinding
	lessWater
	better
	same
	changes
)

var changeNames = [changes]string{"to keep off now", "worse", "more water", "cannot be checked now", "new", "gone", "another finding", "less water", "better", "unchanged"}

// String returns the change as it stands in the table.
func (c difference) String() string { return changeNames[c] }

// ChangeRule says what counts as which.
const ChangeRule = `A roof is worse or better when its worst finding is more or less severe, it has more or fewer urgent findings, or
its load with outlets blocked comes to be, or no longer is, 20 psf (0.96 kPa) or more. It has more or less water when what its
ponds hold differs by more than the errors of both surveys and by a tenth. Roofs are told by the names of their files.`

// changeName is the file that Changes writes.
const changeName = "campus.change.csv"

// ChangeNames returns the names of the files of a comparison.
func ChangeNames() []string { return []string{changeName} }

// changed is a roof at two times; the one that is not there is nil.
type changed struct{ a, b *Row }

func (c *changed) kind() difference {
	a, b := c.a, c.b
	switch {
	case a == nil:
		return newRoof
	case b == nil:
		return gone
	case b.Reason != "" && a.Reason == "":
		return unreadable
	case b.Reason != "":
		return same
	case b.KeepOff && !a.KeepOff:
		return nowKeepOff
	case a.Reason != "":
		return newRoof
	}
	return c.difference()
}

// difference says what has changed of a roof that was checked both times.
func (c *changed) difference() difference {
	a, b := c.a, c.b
	p, q := a.standing(), b.standing()
	const share = 1.1
	switch was, is := [2]int{p.severity(), a.Counts[finding.Urgent]}, [2]int{q.severity(), b.Counts[finding.Urgent]}; {
	case is[0] > was[0] || is[0] == was[0] && is[1] > was[1]:
		return worse
	case b.Least > a.Most && b.Volume > share*a.Volume:
		return moreWater
	case a.KeepOff && !b.KeepOff, is[0] < was[0] || is[0] == was[0] && is[1] < was[1]:
		return better
	case b.Most < a.Least && a.Volume > share*b.Volume:
		return lessWater
	case a.Worst != b.Worst:
		return otherFinding
	}
	return same
}

// Compare compares the rows of two runs, writes what changed to table, and a page for reading to page.
func Compare(earlier, later string, scratch func() (*os.File, error), table, page io.Writer) error {
	a, err := openLines(earlier, scratch)
	if err != nil {
		return err
	}
	defer a.close()
	b, err := openLines(later, scratch)
	if err != nil {
		return err
	}
	defer b.close()
	w := newChangeWriter(table, b.units)
	if err := join(a, b, w.take); err != nil {
		return err
	}
	return w.end(page)
}

// join hands the roofs of both to take, those of one name together.
func join(a, b *sortedLines, take func(*changed) error) error {
	for {
		p, err := a.peek()
		if err != nil {
			return err
		}
		q, err := b.peek()
		if err != nil {
			return err
		}
		if p == nil && q == nil {
			return nil
		}
		c := changed{a: p, b: q}
		switch {
		case q == nil || p != nil && p.Stem < q.Stem:
			c.b = nil
		case p == nil || q.Stem < p.Stem:
			c.a = nil
		}
		if err := take(&c); err != nil {
			return err
		}
		if c.a != nil {
			a.next = nil
		}
		if c.b != nil {
			b.next = nil
		}
	}
}

// sortedLines are the rows of a run in the order of the names of their files.
type sortedLines struct {
	sorter *Sorter
	rows   chan Row
	stop   chan struct{}
	next   *Row
	err    error
	units  record.Units
}

// openLines reads campus.ndjson of a folder, or a file of that kind.
func openLines(path string, scratch func() (*os.File, error)) (*sortedLines, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, linesName)
	}
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, wrongParts("%s: there is no such file; name the folder that campus wrote into, or its %s", path, linesName)
	}
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	l := &sortedLines{rows: make(chan Row), stop: make(chan struct{})}
	l.sorter = &Sorter{compare: func(a, b *Row) int { return strings.Compare(a.Stem, b.Stem) }, scratch: scratch, size: mostHeld}
	in := bufio.NewReaderSize(f, 1<<18)
	for number := 1; ; number++ {
		text, err := in.ReadBytes('\n')
		if errors.Is(err, io.EOF) && len(text) == 0 {
			break
		}
		r, us, ok := parseLine(text)
		if err != nil && !errors.Is(err, io.EOF) || !ok {
			l.sorter.discard()
			return nil, wrongParts("%s line %d is not a row of campus.ndjson", path, number)
		}
		if us {
			l.units = record.US
		}
		if err := l.sorter.Add(r); err != nil {
			return nil, err
		}
	}
	go func() {
		defer close(l.rows)
		l.err = l.sorter.Each(func(r *Row) error {
			select {
			case l.rows <- *r:
				return nil
			case <-l.stop:
				return io.EOF
			}
		})
	}()
	return l, nil
}

func (l *sortedLines) peek() (*Row, error) {
	if l.next == nil {
		r, ok := <-l.rows
		if !ok {
			return nil, l.err
		}
		l.next = &r
	}
	return l.next, nil
}

func (l *sortedLines) close() {
	close(l.stop)
	for range l.rows { //nolint:revive // until it has ended
	}
}

// parseLine reads what a comparison needs of a row of campus.ndjson, in either units.
func parseLine(text []byte) (r Row, us, ok bool) {
	var v map[string]any
	if json.Unmarshal(text, &v) != nil {
		return r, false, false
	}
	word := func(name string) string { s, _ := v[name].(string); return s }
	number := func(name string) float64 { n, _ := v[name].(float64); return n }
	either := func(si string, size float64, other string, otherSize float64) float64 {
		if _, there := v[other]; there {
			us = true
			return number(other) * otherSize
		}
		return number(si) * size
	}
	r = Row{Name: word("name"), Building: word("building"), Surveyed: word("surveyed"), Stem: word("files"), Reason: word("reason"), Worst: word("worst")}
	r.Counts = [3]int{int(number("note")), int(number("repair")), int(number("urgent"))}
	r.Ponds, r.Shown = int(number("ponds")), int(number("ponds_shown"))
	r.KeepOff, _ = v["keep_off"].(bool)
	r.Volume = either("volume_l", 0.001, "volume_gal", record.Gallon)
	r.Least = either("volume_least_l", 0.001, "volume_least_gal", record.Gallon)
	r.Most = either("volume_most_l", 0.001, "volume_most_gal", record.Gallon)
	r.Blocked = either("blocked_load_kpa", 1000, "blocked_load_psf", record.PSF)
	return r, us, r.Stem != "" && word("status") != ""
}

// changeWriter writes the table, and gathers the page.
type changeWriter struct {
	w     *csv.Writer
	units record.Units
	count [changes]int
	worst [changes][]changed
	err   error
}

func newChangeWriter(out io.Writer, u record.Units) *changeWriter {
	w := &changeWriter{w: csv.NewWriter(out), units: u}
	head := []string{"change", "name", "building", "files"}
	for _, name := range changeColumns(u) {
		head = append(head, name+"_before", name+"_now")
	}
	w.err = w.w.Write(head)
	return w
}

// changeColumns are the figures of which a comparison gives both.
func changeColumns(u record.Units) []string {
	names := []string{"surveyed", "worst", "urgent", "repair", "ponds"}
	var o record.Object
	u.Volume(&o, "volume", 1)
	u.Pressure(&o, "blocked_load", 1)
	return append(names, o.Names()...)
}

func (w *changeWriter) take(c *changed) error {
	kind := c.kind()
	w.count[kind]++
	if kind == same {
		return w.err
	}
	one := cmp.Or(c.b, c.a)
	if len(w.worst[kind]) < most {
		w.worst[kind] = append(w.worst[kind], *c)
	}
	fields := []string{kind.String(), cell.Text(one.Name), cell.Text(one.Building), one.Stem}
	before, now := w.figures(c.a), w.figures(c.b)
	for _, name := range changeColumns(w.units) {
		fields = append(fields, cell.Text(before.Value(name)), cell.Text(now.Value(name)))
	}
	w.err = errors.Join(w.err, w.w.Write(fields))
	return w.err
}

// figures are those of a roof at one time; none where it was not there.
func (w *changeWriter) figures(r *Row) *record.Object {
	if r == nil {
		return &record.Object{}
	}
	o := properties(r, w.units)
	w.units.Pressure(o, "blocked_load", record.Positive(r.Blocked))
	return o
}

func (w *changeWriter) end(out io.Writer) error {
	w.w.Flush()
	if err := errors.Join(w.err, w.w.Error()); err != nil {
		return err
	}
	var b strings.Builder
	all := 0
	for _, n := range w.count {
		all += n
	}
	fmt.Fprintf(&b, "Roofs: %s.", count(all))
	for k, n := range w.count {
		if n > 0 {
			fmt.Fprintf(&b, " %s: %s.", record.Capital(changeNames[k]), count(n))
		}
	}
	b.WriteString("\n" + Fold(ChangeRule) + "\n")
	list := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	left := most
	for k := range w.worst {
		if len(w.worst[k]) > 0 && left > 0 {
			line(list, "\n"+record.Capital(changeNames[k]), "worst finding", "urgent", "ponds", "water", "blocked")
		}
		for i := range w.worst[k] {
			if left--; left >= 0 {
				w.line(list, &w.worst[k][i])
			}
		}
	}
	if err := list.Flush(); err != nil {
		return err
	}
	b.WriteString("\nThis does not say that any roof can carry the water: that is for a structural engineer.\n")
	for l := range strings.Lines(b.String()) {
		if _, err := io.WriteString(out, strings.TrimRight(l, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// line writes the figures of a roof, "before > now" where they differ.
func (w *changeWriter) line(t io.Writer, c *changed) {
	u := w.units
	one := cmp.Or(c.b, c.a)
	both := func(say func(*Row) string) string {
		switch {
		case c.a == nil:
			return say(c.b)
		case c.b == nil:
			return say(c.a)
		case say(c.a) == say(c.b):
			return say(c.b)
		}
		return say(c.a) + " > " + say(c.b)
	}
	line(t, fullName(one),
		both(func(r *Row) string {
			switch {
			case r.Reason != "":
				return "not checked"
			case r.Worst == "":
				return "none"
			}
			return r.Worst
		}),
		both(func(r *Row) string { return fmt.Sprint(r.Counts[finding.Urgent]) }),
		both(func(r *Row) string { return fmt.Sprint(r.Ponds) }),
		both(func(r *Row) string { return u.SayVolume(r.Volume) }),
		both(func(r *Row) string {
			return choose.If(r.Blocked == 0, "-", u.SayPressure(r.Blocked))
		}))
}

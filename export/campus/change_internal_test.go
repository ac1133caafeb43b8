package campus

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/bounds"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/staged"
)

const psf = 47.88026 // Pa: 4.4482216 N on 0.09290304 m2

// What counts as which change, as the rule says it: severity and urgent findings, 20 psf with outlets blocked, water by more than both errors and a tenth.
func TestWhatHasChanged(t *testing.T) {
	water := func(v, least, most float64) *Row { return &Row{Volume: v, Least: least, Most: most} }
	found := func(note, repair, urgent int) *Row { return &Row{Counts: [3]int{note, repair, urgent}} }
	failed, off := &Row{Reason: "x"}, &Row{KeepOff: true}
	for name, c := range map[string]struct {
		a, b *Row
		want difference
	}{
		"not there before":             {nil, found(0, 0, 0), newRoof},
		"not there now":                {found(0, 0, 0), nil, gone},
		"not there now, failed before": {failed, nil, gone},
		"fails now":                    {found(0, 0, 1), failed, unreadable},
		"fails still":                  {failed, failed, same},
		"read now":                     {failed, found(0, 0, 1), newRoof},
		"read now, keep off":           {failed, off, nowKeepOff},
		"keep off now":                 {found(0, 0, 0), off, nowKeepOff},
		"keep off still":               {off, off, same},
		"no longer keep off":           {off, found(0, 0, 0), better},
		"a note":                       {found(0, 0, 0), found(1, 0, 0), worse},
		"a note less":                  {found(1, 0, 0), found(0, 0, 0), better},
		"to repair":                    {found(2, 0, 0), found(0, 1, 0), worse},
		"more to repair":               {found(0, 1, 0), found(0, 3, 0), same},
		"urgent":                       {found(0, 9, 0), found(0, 0, 1), worse},
		"more urgent":                  {found(0, 0, 1), found(0, 0, 2), worse},
		"less urgent":                  {found(0, 0, 2), found(0, 0, 1), better},
		"heavy when blocked":           {found(0, 1, 0), &Row{Counts: [3]int{0, 1, 0}, Blocked: 20.01 * psf}, worse},
		"not so heavy":                 {found(0, 1, 0), &Row{Counts: [3]int{0, 1, 0}, Blocked: 19.9 * psf}, same},
		"heavy and urgent":             {found(0, 0, 1), &Row{Counts: [3]int{0, 0, 1}, Blocked: 30 * psf}, same},
		"more water":                   {water(1, 0.9, 1.1), water(1.5, 1.2, 1.8), moreWater},
		"more, within errors":          {water(1, 0.9, 1.3), water(1.5, 1.3, 1.8), same},
		"more by less than a tenth":    {water(1, 0.99, 1.01), water(1.1, 1.09, 1.11), same},
		"more by over a tenth":         {water(1, 0.99, 1.01), water(1.11, 1.10, 1.12), moreWater},
		"less water":                   {water(1.5, 1.2, 1.8), water(1, 0.9, 1.1), lessWater},
		"less, within errors":          {water(1.5, 1.1, 1.8), water(1, 0.9, 1.1), same},
		"less by less than a tenth":    {water(1.1, 1.09, 1.11), water(1, 0.99, 1.01), same},
		"worse and more water":         {water(1, 0.9, 1.1), &Row{Volume: 2, Least: 1.8, Most: 2.2, Counts: [3]int{1, 0, 0}}, worse},
		"better and more water":        {&Row{Volume: 1, Least: 0.9, Most: 1.1, Counts: [3]int{1, 0, 0}}, water(2, 1.8, 2.2), moreWater},
		"another finding":              {&Row{Worst: "pond"}, &Row{Worst: "fold"}, otherFinding},
		"the same finding":             {&Row{Worst: "pond"}, &Row{Worst: "pond"}, same},
	} {
		if got := (&changed{c.a, c.b}).kind(); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// ran writes the lines of a run to a folder.
func ran(t *testing.T, u record.Units, rows ...Row) string {
	t.Helper()
	dir := t.TempDir()
	f, err := os.Create(filepath.Join(dir, linesName))
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		if _, err := f.Write(append(outline(&rows[i], i+1, u).Properties.Append(nil), '\n')); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

func scratchIn(t *testing.T) func() (*os.File, error) {
	t.Helper()
	dir := t.TempDir()
	return func() (*os.File, error) { return os.CreateTemp(dir, "sort-") }
}

// Two runs are compared roof by roof whatever the order of their lines and whatever their units; the table has what changed, the worst changes first on the page. By hand: 5 psf are
// 0.239 kPa, 1,000 gallons 3,785 litres.
func TestTwoRunsCompared(t *testing.T) {
	const gallon = 0.003785411784
	row := func(stem, name string, repair int, volume float64) Row {
		return Row{Stem: stem, Name: name, Building: "House", Counts: [3]int{0, repair, 0}, Volume: volume, Least: volume, Most: volume, Blocked: 5 * psf, BlockedAt: 0.1, Ponds: repair}
	}
	a := ran(t, record.US, row("c", "C", 1, gallon), row("a", "=A", 1, 1000*gallon), row("b", "B", 1, gallon), row("gone", "G", 0, 0))
	b := ran(t, record.SI, row("new", "N", 0, 0), row("a", "=A", 1, 2000*gallon), row("c", "C", 0, gallon), row("b", "B", 1, gallon), Row{Stem: "z", Name: "Z", Reason: "no outline"})
	var table, page bytes.Buffer
	if err := Compare(a, b, scratchIn(t), &table, &page); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&table).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	got := map[string][]string{}
	var order []string
	for _, r := range rows[1:] {
		got[r[3]] = r
		order = append(order, r[3])
	}
	if want := []string{"a", "c", "gone", "new", "z"}; !slices.Equal(order, want) {
		t.Fatalf("%v, want %v", order, want)
	}
	for stem, want := range map[string]string{"a": "more water", "c": "better", "gone": "gone", "new": "new", "z": "new"} {
		if got[stem][0] != want {
			t.Errorf("%s: %s, want %s", stem, got[stem][0], want)
		}
	}
	cell := func(stem, name string) string { return got[stem][column[name]] }
	for _, c := range []struct{ stem, name, want string }{
		{"a", "name", "'=A"},
		{"a", "volume_l_before", "3785.412"},
		{"a", "volume_l_now", "7570.824"},
		{"a", "blocked_load_kpa_now", "0.239401"},
		{"c", "repair_before", "1"},
		{"c", "repair_now", "0"},
		{"gone", "volume_l_now", ""},
		{"gone", "ponds_before", "0"},
		{"new", "ponds_before", ""},
		{"new", "building", "House"},
	} {
		if got := cell(c.stem, c.name); got != c.want {
			t.Errorf("%s: %s is %q, want %q", c.stem, c.name, got, c.want)
		}
	}
	text := page.String()
	last := -1
	for _, want := range []string{"Roofs: 6. More water: 1. New: 2. Gone: 1. Better: 1. Unchanged: 1.", "\nMore water", "House, =A", "3,785 litres > 7,571 litres", "\nNew", "not checked", "\nGone", "\nBetter", "House, C", "1 > 0", "structural engineer"} {
		at := strings.Index(text, want)
		if at <= last {
			t.Errorf("%q stands at %d, after %d, in\n%s", want, at, last, text)
		}
		last = at
	}
	for _, l := range strings.Split(text, "\n") {
		if len(l) > 140 || strings.HasSuffix(l, " ") {
			t.Errorf("a line of %d characters: %q", len(l), l)
		}
	}
}

// A page shows fifty roofs at most, the worst; the table has all.
func TestLongComparisons(t *testing.T) {
	var before, after []Row
	for i := range 70 {
		stem := fmt.Sprintf("r%02d", i)
		before, after = append(before, Row{Stem: stem, Name: stem, Counts: [3]int{1, 0, 0}}), append(after, Row{Stem: stem, Name: stem, Counts: [3]int{0, 0, i % 2}})
	}
	var table, page bytes.Buffer
	if err := Compare(ran(t, record.SI, before...), ran(t, record.SI, after...), scratchIn(t), &table, &page); err != nil {
		t.Fatal(err)
	}
	shown := strings.Count(page.String(), "\nr")
	if lines := strings.Count(table.String(), "\n"); lines != 71 || shown != 50 || strings.Count(page.String(), "urgent > ") != 0 || strings.Count(page.String(), "note > urgent") != 0 {
		t.Errorf("%d lines, %d roofs on the page", lines, shown)
	}
	if worse, better := strings.Index(page.String(), "\nWorse"), strings.Index(page.String(), "\nBetter"); worse < 0 || better < worse {
		t.Errorf("the worse at %d, the better at %d", worse, better)
	}
}

func TestRunsThatCannotBeCompared(t *testing.T) {
	good := ran(t, record.SI, Row{Stem: "a", Name: "A"})
	bad := filepath.Join(t.TempDir(), "bad.ndjson")
	if err := os.WriteFile(bad, []byte(`{"files":"a","status":"done"}`+"\n{}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{bad: "bad.ndjson line 2 is not a row of campus.ndjson", filepath.Join(t.TempDir(), "none"): "there is no such file; name the folder that campus wrote into"} {
		for _, pair := range [][2]string{{good, path}, {path, good}} {
			if err := Compare(pair[0], pair[1], scratchIn(t), io.Discard, io.Discard); err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%v, want %s", err, want)
			}
		}
	}
}

// Each criterion puts the worse roof first: more, heavier, larger, older; the severer kind has the smaller rank.
func TestEachCriterion(t *testing.T) {
	for name, c := range map[string]struct{ worse, other Standing }{
		"keep-off":     {Standing{KeepOff: true}, Standing{}},
		"severity":     {Standing{Counts: [3]int{0, 0, 1}}, Standing{Counts: [3]int{9, 9, 0}, Blocked: 30 * psf}},
		"kind":         {Standing{Rank: -1}, Standing{Rank: 0}},
		"blocked-load": {Standing{Blocked: 25.1 * psf}, Standing{Blocked: 24.9 * psf}},
		"urgent":       {Standing{Counts: [3]int{0, 0, 2}}, Standing{Counts: [3]int{0, 0, 1}}},
		"shown":        {Standing{Sure: 2}, Standing{Sure: 1}},
		"low-places":   {Standing{Low: 2}, Standing{Low: 1}},
		"water":        {Standing{Weight: 2}, Standing{Weight: 1}},
		"repair":       {Standing{Counts: [3]int{0, 2, 0}}, Standing{Counts: [3]int{0, 1, 0}}},
		"age":          {Standing{Surveyed: ""}, Standing{Surveyed: "2020-01-01"}},
		"no-way-out":   {Standing{Undrained: 2}, Standing{Undrained: 1}},
		"load":         {Standing{Load: 2}, Standing{Load: 1}},
		"area":         {Standing{Area: 2}, Standing{Area: 1}},
	} {
		r, err := ParseRank(name)
		if err != nil || r.Compare(&c.worse, &c.other) >= 0 || r.Compare(&c.other, &c.worse) <= 0 || r.Compare(&c.worse, &c.worse) != 0 {
			t.Errorf("%s: %v, %d and %d", name, err, r.Compare(&c.worse, &c.other), r.Compare(&c.other, &c.worse))
		}
	}
	if n := len(strings.Split(RankNames(), ", ")); n != 13 {
		t.Errorf("%d criteria", n)
	}
	// Steps of 5 psf from 20 on; a load between two repairs stands over them, one just under 20 psf does not.
	for load, want := range map[float64]float64{0: 0, 19.9: 0, 20.01: 1, 24.9: 1, 25.1: 2, 40.1: 5} {
		if got := (&Standing{Blocked: load * psf}).overload(); got != want {
			t.Errorf("%v psf: step %v, want %v", load, got, want)
		}
	}
	for want, s := range []Standing{{Counts: [3]int{1, 0, 0}}, {Counts: [3]int{9, 1, 0}, Blocked: 19 * psf}, {Counts: [3]int{0, 1, 0}, Blocked: heavy}, {Counts: [3]int{0, 0, 1}}} {
		if got := s.severity(); got != want {
			t.Errorf("%+v: %d, want %d", s, got, want)
		}
	}
	for text, want := range map[string]string{"wet": `there is no "wet"`, "age,age": "age stands there twice"} {
		if _, err := ParseRank(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
	if r, err := ParseRank(" age , water"); err != nil || r.String() != "age,water" || strings.Contains(r.Say(), "20 psf") || !strings.HasPrefix(r.Say(), "Worst first: the older survey, undated ones before; then more water in all ponds; then the name.") {
		t.Errorf("%v %s", err, r.Say())
	}
	if say := Rank(nil).Say(); strings.Count(say, "; then ") != 10 || !strings.Contains(say, "20 psf is the least live load") {
		t.Error(say)
	}
}

// folder keeps the files of a campus.
type folder string

func (d folder) AddLast(o staged.Output) error {
	var b bytes.Buffer
	if err := o.Write(&b); err != nil {
		return err
	}
	return os.WriteFile(d.PathOfLast(o.Name), b.Bytes(), 0o600)
}

func (d folder) PathOfLast(name string) string { return filepath.Join(string(d), name) }

func (d folder) Scratch() (*os.File, error) { return os.CreateTemp(string(d), "sort-") }

// Parts of a campus are put together only where all are there and belong to one run; their rows are those that went in.
func TestPartsOfACampus(t *testing.T) {
	write := func(dir folder, head Head, rows ...Row) {
		if _, err := WritePart(dir, func(take func(*Row) error) error {
			for i := range rows {
				if err := take(&rows[i]); err != nil {
					return err
				}
			}
			return nil
		}, head); err != nil {
			t.Fatal(err)
		}
	}
	dir := folder(t.TempDir())
	if _, err := PartsIn(string(dir)); err == nil || !strings.Contains(err.Error(), "holds no part of a campus") {
		t.Errorf("%v", err)
	}
	write(dir, Head{Part: 2, Of: 2, Call: "x", Units: "us"}, Row{Name: "D", Stem: "d"}, Row{Name: "C", Stem: "c"})
	if _, err := PartsIn(string(dir)); err == nil || !strings.HasSuffix(err.Error(), "1 of 2 parts are there; wanting: [1]") {
		t.Errorf("%v", err)
	}
	write(dir, Head{Part: 1, Of: 2, Call: "x", Units: "us"}, Row{Name: "B", Stem: "b", Volume: 2}, Row{Name: "A", Stem: "a"})
	p, err := PartsIn(string(dir))
	if err != nil || p.Head.Call != "x" || p.Head.Units != "us" || p.Head.Of != 2 || len(p.Paths) != 2 {
		t.Fatalf("%v %+v", err, p)
	}
	var names []string
	if err := p.Rows(func(r *Row) error {
		names = append(names, r.Name)
		return nil
	}); err != nil || !slices.Equal(names, []string{"A", "B", "C", "D"}) {
		t.Errorf("%v %v", err, names)
	}
	text, err := os.ReadFile(dir.PathOfLast(PartName(2, 2)))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ text, want string }{
		"another run":   {strings.Replace(string(text), `"x"`, `"y"`, 1), "is of another run than"},
		"another part":  {strings.Replace(string(text), `"part":2`, `"part":1`, 1), "says that it is part 1 of 2"},
		"no part":       {"{}\n", "is no part of a campus as this version writes it"},
		"other version": {strings.Replace(string(text), "part 1", "part 9", 1), "is no part of a campus as this version writes it"},
	} {
		if err := os.WriteFile(dir.PathOfLast(PartName(2, 2)), []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := PartsIn(string(dir)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
	for name, c := range map[string]struct{ text, want string }{"cut": {strings.TrimSuffix(string(text), "}\n"), "line 3 is cut off; run that part again"}, "broken": {string(text) + "[]\n", "line 4 is not a row"}} {
		if err := os.WriteFile(dir.PathOfLast(PartName(2, 2)), []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		p, err := PartsIn(string(dir))
		if err == nil {
			err = p.Rows(func(*Row) error { return nil })
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
	if err := os.Rename(dir.PathOfLast(PartName(2, 2)), dir.PathOfLast(PartName(3, 2))); err != nil {
		t.Fatal(err)
	}
	if _, err := PartsIn(string(dir)); err == nil || !strings.Contains(err.Error(), "there is no part 3 of 2") {
		t.Errorf("%v", err)
	}
}

// The headline of a roof in a few words, and its place in the lists.
func TestHeadlines(t *testing.T) {
	for want, r := range map[string]Row{
		"could not be checked": {Reason: "x", What: finding.Say("Deep water.")}, "0 findings, no pond listed": {}, "1 finding, no pond listed": {Counts: [3]int{0, 1, 0}}, "3 findings, no pond listed": {Counts: [3]int{1, 1, 1}},
		"keep off; Deep water; 1 urgent, 2 to repair; deepest water 30 mm, 120 kg in all": {KeepOff: true, What: finding.Say("Deep water."), Ponds: 1, Counts: [3]int{0, 2, 1}, Depth: 0.03, Weight: 120},
	} {
		if got := headline(&r, record.SI); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	for want, r := range map[string]Row{"A": {Name: "A"}, "House, A": {Name: "A", Building: "House"}, "B": {Name: "B", Building: "B"}} {
		if got := fullName(&r); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	k := &keepOff{}
	for i := range 1207 {
		k.add(&Row{Name: fmt.Sprint("R", i), KeepOff: i%2 == 0 || i > 13})
	}
	if got := k.say(); !strings.HasPrefix(got, "Keep off, and call a structural engineer today: R0; R2; R4; R6; R8; R10 and 1,194 more. ") { // 7 of the first 14, and 1,193
		t.Error(got)
	}
	six := &keepOff{}
	for i := range 6 {
		six.add(&Row{Name: fmt.Sprint("R", i), KeepOff: true})
	}
	if got := six.say(); !strings.HasPrefix(got, "Keep off, and call a structural engineer today: R0; R1; R2; R3; R4; R5. ") {
		t.Error(got)
	}
}

// What all roofs have in common: one unit where the site grids agree, else metres.
func TestTotals(t *testing.T) {
	rows := []Row{
		{Stem: "a", Units: quantity.Feet, Imperial: true, Counts: [3]int{0, 1, 0}, Dropped: []string{"7", "8"}},
		{Stem: "b", Units: quantity.Feet, Counts: [3]int{2, 0, 0}, Dropped: []string{"7"}, Kept: []string{"9"}},
		{Stem: "c", Reason: "x"},
	}
	for i := range rows[:2] {
		rows[i].Rings = append(rows[i].Rings, nil)
	}
	var total Total
	for i := range rows {
		total.add(&rows[i])
	}
	if total.Roofs != 3 || total.Failed != 1 || !total.Imperial || !total.Local || total.Geographic || total.Unit != quantity.Feet || total.Findings != [3]bool{true, true, false} || total.Classes != [7]int{0, 0, 1, 1, 0, 0, 1} {
		t.Errorf("%+v", total)
	}
	if !total.Had("7", true) || total.Had("9", true) || !total.Had("9", false) || total.Had("7", false) {
		t.Error("spots that the user named are not known")
	}
	rows[1].Units = quantity.Millimetres
	total.add(&rows[1])
	if total.Unit != quantity.Metres {
		t.Errorf("feet and millimetres in %v", total.Unit)
	}
	// Classes of roofs: to keep off before all, blind unless urgent.
	for want, r := range []Row{
		{KeepOff: true, Counts: [3]int{0, 0, 1}, Blind: true}, {Counts: [3]int{9, 9, 1}, Blind: true}, {Counts: [3]int{1, 1, 0}}, {Counts: [3]int{1, 0, 0}}, {}, {Blind: true, Counts: [3]int{0, 1, 0}}, {Reason: "x", KeepOff: true},
	} {
		if got := classOf(&r); got != want {
			t.Errorf("%+v is of class %d, want %d", r, got, want)
		}
	}
}

// Figures lie in the class whose upper limit they just reach; bars are as long as their counts.
func TestHistogramLimits(t *testing.T) {
	h := histograms(record.SI)[2] // limits 0.25, 0.5, 1 and 2 kPa
	for _, pa := range []float64{0, 250, 251, 500, 1000, 2000, 2001, 9000} {
		h.add(&Row{Blocked: pa})
	}
	h.add(&Row{Blocked: 9000, Reason: "x"})
	var counts []int
	var labels []string
	for _, r := range h.rows {
		counts, labels = append(counts, r.Count), append(labels, r.Label)
	}
	if !slices.Equal(counts, []int{1, 1, 2, 1, 1, 2}) || !reflect.DeepEqual(labels, []string{"none, or not known", "to 0.25 kPa", "0.25 kPa to 0.50 kPa", "0.50 kPa to 1.00 kPa", "1.00 kPa to 2.00 kPa", "over 2.00 kPa"}) {
		t.Errorf("%v %q", counts, labels)
	}
	us := histograms(record.US)
	if l := us[0].rows[1].Label + ", " + us[0].rows[5].Label + ", " + us[1].rows[4].Label; l != `to 1/2", over 4", 20.0 psf to 40.0 psf` {
		t.Error(l)
	}
	rows := scaled([]barRow{{Count: 4}, {Count: 1}, {Count: 3}, {}})
	if rows[0].Width != 120 || rows[1].Width != 30 || rows[2].Width != 90 || rows[3].Width != 0 {
		t.Errorf("%+v", rows)
	}
	if rows := scaled([]barRow{{}}); rows[0].Width != 0 {
		t.Errorf("%+v", rows)
	}
}

// The page counts the roofs of each class in its sentence, as by hand.
func TestSummaryOfThePage(t *testing.T) {
	h := newHTML(io.Discard, &Total{Roofs: 1231, Classes: [7]int{1, 2, 3, 4, 5, 6, 1210}}, Options{Units: record.SI})
	h.fill()
	if got, want := h.page.Summary, "1 to keep off, 2 more with something urgent, 3 to repair, 4 with notes only, 5 without a finding, 6 whose outlets were not surveyed, 1,210 that could not be checked."; got != want || h.page.Heading != "1,231 roofs" {
		t.Errorf("%s: %s", h.page.Heading, got)
	}
	h = newHTML(io.Discard, &Total{Roofs: 1}, Options{Units: record.SI})
	h.fill()
	if h.page.Heading != "1 roof" || h.page.More != 0 {
		t.Error(h.page.Heading)
	}
}

// Years of surveys that a roof may have been surveyed in; others are not said.
func TestYearsOfSurveys(t *testing.T) {
	y := years{}
	for _, s := range []string{"1901-05-02", "1900", "2999", "3000-01-01", "", "May 2020", "2020-05"} {
		y.add(&Row{Surveyed: s})
	}
	y.add(&Row{Surveyed: "2020", Reason: "x"})
	if !reflect.DeepEqual(y, years{1901: 1, 2999: 1, 2020: 1, 0: 4}) {
		t.Errorf("%v", y)
	}
	// The longest bar is 120 wide; of roofs that say all nothing is said beside the years.
	if got, want := (years{2020: 3, 2022: 1}).rows(), []barRow{{"2020", 3, 120}, {"2021", 0, 0}, {"2022", 1, 40}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// By hand, at the equator: of 1000 units 960 are as wide as the roofs are, and four fifths of that at most as high; 20 are left on each side.
func TestMapFitsItsRoofs(t *testing.T) {
	for _, c := range []struct {
		wide, high, height float64
		path               string
	}{
		{1, 0.5, 520, "M20.0 500.0L980.0 500.0L980.0 20.0Z"},
		{0.5, 1, 808, "M20.0 788.0L404.0 788.0L404.0 20.0Z"},
	} {
		ring := orb.Ring{{0, -c.high / 2}, {c.wide, -c.high / 2}, {c.wide, c.high / 2}}
		m := mapOf([]placed{{ring: ring}, {ring: ring}})
		if m.Width != 1000 || m.Height != c.height || len(m.Shapes) != 2 || m.Shapes[0].Path != c.path {
			t.Errorf("%v by %v degrees: %+v, want %v high, %s", c.wide, c.high, m, c.height, c.path)
		}
	}
	if mapOf(make([]placed, 1)) != nil {
		t.Error("a map of one roof")
	}
}

// The headline of a study: what its ponds hold, with the bounds of each where they are known, else the figure itself.
func TestRowOfAStudy(t *testing.T) {
	s := sample.Study(sample.Local())
	pond := &s.Ponds.Ponds[s.Listed[0].Pond]
	s.Bounds = nil
	r := NewRow(s, "a")
	if r.Least != pond.Volume || r.Most != pond.Volume || r.Volume != pond.Volume || r.Ponds != 1 || r.Depth != pond.Depth || r.Name != "Sample roof 1" || r.ID != "SR1" || r.Spots != 77 || r.Outlets != 3 || r.Stem != "a" || r.Imperial {
		t.Errorf("%+v", r)
	}
	s.Bounds = &bounds.Bounds{Ponds: []bounds.Pond{{Trials: 9, Volume: bounds.Range{Low: 0.01, High: 0.5}}}}
	if r := NewRow(s, "a"); r.Least != 0.01 || r.Most != 0.5 {
		t.Errorf("%v to %v", r.Least, r.Most)
	}
	s.Bounds.Ponds[0].Trials = 0
	if r := NewRow(s, "a"); r.Least != pond.Volume {
		t.Errorf("no trials: %v", r.Least)
	}
	// By hand: a third of 8 m2 times 20 mm are 53.3 kg; 238 m2 of roof; 0.196 kPa at the deepest.
	if !(math.Abs(r.Weight-53.33) <= 0.5) || !(math.Abs(r.Area-238) <= 1e-3) || !(math.Abs(r.Load-196.1) <= 0.5) || !(math.Abs(r.Water-8) <= 0.05) {
		t.Errorf("%+v", r)
	}
	counts := [3]int{}
	for i := range s.Findings {
		counts[s.Findings[i].Severity]++
	}
	if r.Counts != counts || r.Worst != string(s.Findings[0].Kind) || r.Rank != s.Rank || len(r.Rings) != 1 || r.KeepOff {
		t.Errorf("%+v", r)
	}
	s.RainLoad.Enclosed = true
	s.Findings = append(s.Findings, finding.Finding{Kind: finding.OutletsUnsurveyed})
	if r := NewRow(s, "a"); r.Blocked != 0 || !r.Blind {
		t.Errorf("%+v", r)
	}
}

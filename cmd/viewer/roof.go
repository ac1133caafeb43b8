package viewer

import (
	"cmp"
	"encoding/json"
	"io"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"time"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/export"
	"runnel/export/campus"
	"runnel/export/record"
	"runnel/export/summary"
)

// roof is what a summary says of one roof, and the files beside it.
type roof struct {
	Stem, Name     string
	Urgent, Repair int
	Note, Ponds    int
	Checked        time.Time
	Sheets, Tables []file
	Worst          string // the worst finding, in a sentence
	Deepest        string // pond, empty where there is none
	Weighs         string // the water of all ponds, likewise
	version        string // another one when a file has changed
	KeepOff        bool
	weight         float64 // of the ponds' water [kg]
	sure           float64 // of that in the ponds that the spots show [kg]
	blocked        float64 // load with every primary outlet blocked [Pa]
	surveyed       string
	rank           int // of the worst finding
	run            record.Run
}

// file is one file of a roof.
type file struct {
	Name, What string
	Framed     bool // is shown inside a page of ours
}

// longestSummary bounds what is read of a file that may be a summary [bytes].
const longestSummary = 64 << 20

// read reads the summary of a stem, if that is what it is.
func (f *Folder) read(stem string, info fs.FileInfo) (roof, bool) {
	if info.Size() > longestSummary {
		return roof{}, false
	}
	opened, _, err := f.open(stem + ".json")
	if err != nil {
		return roof{}, false
	}
	defer func() { _ = opened.Close() }()
	data, err := io.ReadAll(io.LimitReader(opened, longestSummary))
	if err != nil {
		return roof{}, false
	}
	var s struct {
		Schema, Units string
		Roof          struct{ ID, Name, Building, Surveyed string }
		RainLoad      struct {
			Enclosed    bool
			Kilopascals float64 `json:"max_load_kpa"`
			Pounds      float64 `json:"max_load_psf"`
		} `json:"rain_load"`
		Run      record.Run
		Ponds    []standingWater
		Findings []struct{ ID, Severity, What string }
		KeepOff  bool `json:"keep_off"`
		Worst    struct {
			Rank    int
			Finding string
		}
	}
	if json.Unmarshal(data, &s) != nil || s.Schema != summary.Schema {
		return roof{}, false
	}
	r := roof{Stem: stem, Name: s.Roof.Name, Ponds: len(s.Ponds), Checked: info.ModTime(), KeepOff: s.KeepOff, rank: s.Worst.Rank, run: s.Run, surveyed: s.Roof.Surveyed}
	if !s.RainLoad.Enclosed {
		r.blocked = 1000*s.RainLoad.Kilopascals + quantity.PoundPerSquareFoot*s.RainLoad.Pounds
	}
	if r.Name == "" {
		r.Name = stem
	}
	if s.Roof.Building != "" && s.Roof.Building != r.Name {
		r.Name = s.Roof.Building + ", " + r.Name
	}
	r.weigh(s.Ponds, s.Units)
	for _, n := range s.Findings {
		if n.ID == s.Worst.Finding {
			r.Worst = n.What
		}
		switch n.Severity {
		case "urgent":
			r.Urgent++
		case "repair":
			r.Repair++
		default:
			r.Note++
		}
	}
	return r, true
}

// standingWater is what a summary says of a pond: a figure, or where the spots barely show it bounds that hold it.
type standingWater struct {
	Millimetres, Millimetres95, Inches, Inches95 float64
	Kilograms, Litres95, Pounds, Gallons95       float64
	Shown                                        bool
}

// UnmarshalJSON reads the names of the summary.
func (w *standingWater) UnmarshalJSON(text []byte) error {
	var p map[string]any
	if err := json.Unmarshal(text, &p); err != nil {
		return err
	}
	for name, v := range map[string]*float64{
		"depth_mm": &w.Millimetres, "depth_mm_95": &w.Millimetres95, "depth_in": &w.Inches, "depth_in_95": &w.Inches95,
		"weight_kg": &w.Kilograms, "volume_l_95": &w.Litres95, "weight_lb": &w.Pounds, "volume_gal_95": &w.Gallons95,
	} {
		*v, _ = p[name].(float64)
	}
	w.Shown = p["confidence"] == finding.Shown.String()
	return nil
}

// weigh adds up the ponds' water and finds the deepest; of one that is barely shown the upper bound counts.
func (r *roof) weigh(ponds []standingWater, units string) {
	if len(ponds) == 0 {
		return
	}
	u, deepest, upTo := record.SI, 0.0, ""
	if units == record.US.String() {
		u = record.US
	}
	for _, p := range ponds {
		depth, weight := p.Millimetres/1000+p.Inches*metresPerInch, p.Kilograms+p.Pounds*kilogramsPerPound
		bound := depth == 0
		if bound {
			depth = p.Millimetres95/1000 + p.Inches95*metresPerInch
		}
		if weight == 0 {
			weight = p.Litres95 + p.Gallons95*litresPerGallon
		}
		r.weight += weight
		if p.Shown {
			r.sure += weight
		}
		if depth > deepest {
			if deepest, upTo = depth, ""; bound {
				upTo = "up to "
			}
		}
	}
	r.Deepest, r.Weighs = upTo+u.SayDepth(deepest), u.SayMass(r.weight)
}

// An inch is 25.4 mm and a gallon of the United States 231 cubic inches by definition; a litre of water weighs a kilogram here.
const (
	metresPerInch   = 0.0254
	litresPerGallon = 3.785411784
)

// kilogramsPerPound is the international avoirdupois pound: 0.45359237 kg by definition.
const kilogramsPerPound = 0.45359237

// newest leaves, of summaries that one run over one roof wrote under changing names, the last.
func newest(roofs []roof) []roof {
	return slices.DeleteFunc(slices.Clone(roofs), func(r roof) bool {
		return r.run.Command != "campus" && slices.ContainsFunc(roofs, func(q roof) bool {
			return keyOf(&q.run) == keyOf(&r.run) && q.Checked.After(r.Checked)
		})
	})
}

// worstFirst orders roofs as the table of a campus does.
func worstFirst(a, b roof) int {
	p, q := a.standing(), b.standing()
	return cmp.Or(campus.Rank(nil).Compare(&p, &q), cmp.Compare(a.Stem, b.Stem))
}

func (r *roof) standing() campus.Standing {
	return campus.Standing{KeepOff: r.KeepOff, Counts: [3]int{r.Note, r.Repair, r.Urgent}, Rank: r.rank, Weight: r.weight, Sure: r.sure, Blocked: r.blocked, Surveyed: r.surveyed}
}

// Others says how many findings there are that are not urgent, empty where there are none.
func (r *roof) Others() string {
	var parts []string
	if r.Repair > 0 {
		parts = append(parts, strconv.Itoa(r.Repair)+" to repair")
	}
	if r.Note > 0 {
		parts = append(parts, record.Plural(r.Note, "note"))
	}
	return strings.Join(parts, ", ")
}

// Found reports whether there is any finding.
func (r *roof) Found() bool { return r.Urgent+r.Repair+r.Note > 0 }

// Main is the file that the roof's name opens, nil where there is none to look at.
func (r roof) Main() *file {
	if len(r.Sheets) == 0 {
		return nil
	}
	return &r.Sheets[0]
}

// Version is another one when a file has changed.
func (r roof) Version() string { return r.version }

// sheets are the files that are for looking at, by what follows the stem, in the order of the list.
var sheets = []struct {
	ending, what string
	framed       bool
}{
	{".report.html", "report", true},
	{".report.pdf", "report to print", false},
	{".plan.svg", "plan", true},
	{".plan.pdf", "plan to print", false},
	{".setout.pdf", "set-out sheet", false},
	{".schedule.xlsx", "schedule", false},
}

// collect lists the files of r that are there.
func (r *roof) collect(there map[string]fs.FileInfo, files map[string]bool) {
	var names []string
	for _, split := range []bool{false, true} {
		for _, name := range export.Names(r.Stem, export.Kinds(), split) {
			if there[name] != nil && !slices.Contains(names, name) {
				names = append(names, name)
				files[name] = true
			}
		}
	}
	for _, s := range sheets {
		if i := slices.Index(names, r.Stem+s.ending); i >= 0 {
			r.Sheets = append(r.Sheets, file{names[i], s.what, s.framed})
			names = slices.Delete(names, i, i+1)
		}
	}
	own := map[string]bool{}
	for _, name := range names {
		r.Tables = append(r.Tables, file{Name: name, What: strings.TrimPrefix(name, r.Stem)})
		own[name] = true
	}
	for _, s := range r.Sheets {
		own[s.Name] = true
	}
	r.version = stampOf(there, own)
}

package demo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/export/staged"
)

// Files returns everything that Write writes: the inputs of every roof, its planted faults, a README.md.
func Files() []File {
	var files []File
	for _, r := range Roofs() {
		files = append(files, r.Inputs()...)
		files = append(files, r.booked())
	}
	return append(files, File{"README.md", readme()})
}

// Write writes the invented roofs into dir, which it makes if need be, and returns the paths written. It
// writes all or nothing; if one of them exists and overwrite is not set, the error wraps staged.ErrExists.
func Write(dir string, overwrite bool) ([]string, error) {
	set, _, err := Stage(dir, overwrite)
	if err != nil {
		return nil, err
	}
	paths, err := set.Commit()
	if err != nil {
		return nil, fmt.Errorf("demo: %w", err)
	}
	return paths, nil
}

// Stage is Write up to the point where the files take their places, and returns these.
func Stage(dir string, overwrite bool) (*staged.Set, []string, error) {
	files := Files()
	outputs, paths := make([]staged.Output, len(files)), make([]string, len(files))
	for i, f := range files {
		paths[i] = filepath.Join(dir, f.Name)
		outputs[i] = staged.Output{Name: f.Name, Write: func(w io.Writer) error {
			_, err := w.Write(f.Bytes)
			return err
		}}
	}
	set, err := staged.Stage(staged.Target{Dir: dir, Overwrite: overwrite}, outputs)
	if err != nil {
		return nil, nil, fmt.Errorf("demo: %w", err)
	}
	return set, paths, nil
}

// booked lists the roof's planted faults: kind, what is wrong, where, how much, and the area within which
// other findings come from it. It is plain JSON, one fault a line, in the coordinates of the roof's files.
func (r *Roof) booked() File {
	lines := make([]string, len(r.survey.site.faults))
	for i, f := range r.survey.site.faults {
		list := []pair{
			{"kind", string(f.Kind)},
			{"what", f.What},
			{"place", json.RawMessage(r.format.position(f.Place, math.NaN()))},
		}
		if f.Depth > 0 {
			list = append(list, r.size("depth", f.Depth))
		}
		if f.Slope > 0 {
			list = append(list, pair{"slope_pct", number(f.Slope*100, 2)})
		}
		if len(f.Brings) > 0 {
			list = append(list, pair{"brings", f.Brings})
		}
		list = append(list, pair{"area", json.RawMessage("[" + r.format.flat([]orb.Point(f.Area)) + "]")})
		lines[i] = "{" + joined(list, ",") + "}"
	}
	head := append([]pair{{"roof", r.title()}}, r.format.members()...)
	if verdict, flutes, ok := r.Assembly(); ok {
		head = append(head, pair{"cores_should_say", verdict.String()})
		if flutes != nil {
			head = append(head, pair{"cores_in_a_flute_without_saying_so", flutes})
		}
	}
	return File{r.Stem() + ".faults.json", []byte("{" + joined(head, ",\n") + ",\n\"faults\":[\n" + strings.Join(lines, ",\n") + "\n]}\n")}
}

// size is a short length in the unit of the roof's reports.
func (r *Roof) size(name string, m float64) pair {
	if r.format.units == "ft" {
		return pair{name + "_in", number(m/0.0254, 2)}
	}
	return pair{name + "_mm", number(m*1000, 0)}
}

// readme says what the folder holds and what to run.
func readme() []byte {
	var b bytes.Buffer
	b.WriteString(`# Invented roofs

No building, place or person here is real; the roofs in longitude and latitude stand in open ocean.
Each was surveyed by a program, with errors of 1 to 3 mm, and most were built wrong on purpose.
<stem>.faults.json says what is wrong with each and where; check does not read it.

| check it | roof | points | unit | planted faults |
|---|---|---|---|---|
`)
	for _, r := range Roofs() {
		names := gather.Each(r.Inputs(), func(f File) string { return f.Name })
		kinds := gather.Each(r.survey.site.faults, func(f Fault) string { return string(f.Kind) })
		if len(kinds) == 0 {
			kinds = []string{"none"}
		}
		fmt.Fprintf(&b, "| `runnel check %s -o out` | %s | %d | %s | %s |\n", strings.Join(names, " "), r.title(), r.Spots(), r.format.unitName(), strings.Join(kinds, ", "))
	}
	b.WriteString("\nAll of them at once: `runnel campus . -o out`. A check leaves\nout/<roof>.report.html to read in a browser, out/<roof>.plan.pdf to print, out/<roof>.geojson\n(.local.geojson for a site grid) to open in a map viewer, and tables.\n\n" +
		"A storm goes over any of them, `runnel storm` in place of `runnel check` with `--depth 3in --duration 1h`;\n" +
		"the market hall's outlets fail it. `runnel correct` says what would let the water go.\n")
	return b.Bytes()
}

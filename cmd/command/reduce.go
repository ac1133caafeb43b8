package command

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"runnel/analysis/choose"
	"runnel/analysis/levelling"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/cmd/call"
	"runnel/export/cell"
	"runnel/export/staged"
	"runnel/importer/levelbook"
)

// usualAllowance is the misclosure that is allowed for one set-up of a level: 5 mm, and 5 mm times the root of the number of
// set-ups for a run. Common practice on building sites, no source; state your own with --allow.
const usualAllowance = 5 * quantity.Millimetre

// reduceRun is one call of "runnel reduce".
type reduceRun struct {
	call.Streams
	out, units, allow string
	overwrite         bool
}

func newReduce(s call.Streams) *cobra.Command {
	r := &reduceRun{Streams: s}
	c := &cobra.Command{
		Use:   "reduce NOTES",
		Short: "Turn the readings of a level or laser into elevations",
		Long: `reduce reads a level book and works out the elevations: a row a station, with the columns station, bs
(backsight), is (intermediate sight), fs (foresight) and elevation (of bench marks), or station, setup,
rod and elevation for rods read down from a laser. It prints the page check and the misclosure of every
run, and shares a misclosure that is allowed out over the set-ups. A run of one set-up is not changed.
Other columns, such as x, y and code, go through to the spots, which check then reads.`,
		Example: `  runnel reduce notes.csv --units ft
  runnel reduce notes.csv -o spots.csv
  runnel check outline.geojson spots.csv`,
		Args: call.Arguments(1, 1, "give one file with level notes"),
		RunE: func(_ *cobra.Command, args []string) error { return r.run(args[0]) },
	}
	flags := c.Flags()
	flags.StringVarP(&r.out, "out", "o", "", "write the spots into this `FILE`")
	flags.StringVar(&r.units, "units", "", "`UNIT` of the readings where the columns state none: "+quantity.UnitNames)
	flags.StringVar(&r.allow, "allow", "", "misclosure allowed for one set-up, a `LENGTH`; n set-ups are allowed that times the root of n (default 5 mm)")
	flags.BoolVar(&r.overwrite, "overwrite", false, "replace a file that exists")
	return c
}

func (r *reduceRun) run(path string) error {
	unit := quantity.Unstated
	var err error
	if r.units != "" {
		if unit, err = quantity.ParseUnit(r.units); err != nil {
			return call.Usage("--units: %v", err)
		}
	}
	allow := usualAllowance
	if r.allow != "" {
		if allow, err = quantity.ParseLength(r.allow, quantity.Unstated); err != nil || allow <= 0 {
			return call.Usage("--allow %q: give a length above zero, such as 5 mm or 0.02 ft", r.allow)
		}
	}
	book, err := levelbook.Read(path, unit)
	if err != nil {
		return err
	}
	result, err := levelling.Reduce(book.Rows, allow)
	var broken *levelling.Error
	if errors.As(err, &broken) {
		return &roof.Refusal{Problems: []roof.Problem{{Origin: roof.Origin{File: path, Line: broken.Line}, Rule: broken.Rule, Mend: broken.Mend}}}
	}
	if err != nil {
		return err
	}
	if err := writeBook(r.Out, book, result); err != nil {
		return err
	}
	return r.spots(path, book, result)
}

// spots writes the spots, unless a run closes badly.
func (r *reduceRun) spots(path string, book *levelbook.Book, result *levelling.Reduction) error {
	for i := range result.Runs {
		if run := &result.Runs[i]; run.Closed && !run.Within() {
			return fmt.Errorf("%s: the run from %s to %s closes by %s, and %s is allowed: no spots were written; look for a wrong reading, level it again, or state what you allow with --allow",
				path, run.From, run.To, booked(run.Misclosure(), book.Unit, true), booked(run.Allowed, book.Unit, false))
		}
	}
	if r.out == "" {
		return nil
	}
	to := staged.Target{Dir: filepath.Dir(r.out), Overwrite: r.overwrite, Inputs: []string{path}}
	set, err := staged.Stage(to, []staged.Output{{Name: filepath.Base(r.out), Write: func(w io.Writer) error {
		return writeSpots(w, book, result)
	}}})
	if err != nil {
		return err
	}
	return r.Commit(set)
}

// writeBook prints the reduced book, then what was checked.
func writeBook(out io.Writer, book *levelbook.Book, result *levelling.Reduction) error {
	w := bufio.NewWriter(out)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	_, _ = fmt.Fprintf(t, "station\tread\tshared out\televation %s\t\n", book.Unit)
	for i := range result.Levels {
		l := &result.Levels[i]
		shared := ""
		if l.Shared != 0 {
			shared = booked(l.Shared, book.Unit, true)
		}
		_, _ = fmt.Fprintf(t, "%s\t%s\t%s\t%s\t\n", book.Rows[l.Row].Station, booked(l.Elevation, book.Unit, false), shared, booked(l.Final(), book.Unit, false))
	}
	_ = t.Flush()
	for i := range result.Runs {
		writeRun(w, &result.Runs[i], book.Unit)
	}
	for _, tie := range result.Ties {
		_, _ = fmt.Fprintf(w, "\nStation %s read again from set-up %q: %s from the elevation known before.", tie.Station, tie.SetUp, booked(tie.Differs, book.Unit, true))
	}
	if len(result.Ties) > 0 {
		_, _ = fmt.Fprintln(w)
	}
	return w.Flush()
}

// writeRun prints the page check and the misclosure of a run.
func writeRun(w io.Writer, r *levelling.Run, unit quantity.Unit) {
	_, _ = fmt.Fprintf(w, "\nRun from %s to %s, %d set-up%s.\n", r.From, r.To, r.SetUps, choose.If(r.SetUps == 1, "", "s"))
	_, _ = fmt.Fprintf(w, "Page check: backsights %s less foresights %s = %s; last less first = %s.\n",
		booked(r.Backsights, unit, false), booked(r.Foresights, unit, false), booked(r.Check(), unit, true), booked(r.Last-r.First, unit, true))
	switch {
	case !r.Closed:
		_, _ = fmt.Fprintf(w, "Not closed: the run ends on no known elevation, so a wrong reading in it would not show. Close it on a bench mark.\n")
	case !r.Within():
		_, _ = fmt.Fprintf(w, "Misclosure %s, more than the %s allowed. Nothing was shared out.\n", booked(r.Misclosure(), unit, true), booked(r.Allowed, unit, false))
	case r.SetUps == 1:
		_, _ = fmt.Fprintf(w, "Misclosure %s; %s is allowed. One set-up has nothing to share out.\n", booked(r.Misclosure(), unit, true), booked(r.Allowed, unit, false))
	default:
		_, _ = fmt.Fprintf(w, "Misclosure %s; %s is allowed. It was shared out over the set-ups.\n", booked(r.Misclosure(), unit, true), booked(r.Allowed, unit, false))
	}
}

// booked writes a length as level books do: to a tenth of a millimetre, a thousandth of a foot, a hundredth of an inch.
func booked(v float64, unit quantity.Unit, signed bool) string {
	decimals := cmp.Or(map[quantity.Unit]int{quantity.Metres: 4, quantity.Millimetres: 1, quantity.Inches: 2}[unit], 3)
	text := strconv.FormatFloat(v/unit.Metres(), 'f', decimals, 64)
	if zero := strings.Trim(text, "-0."); zero == "" {
		return strings.TrimPrefix(text, "-")
	}
	return choose.If(signed && v > 0, "+"+text, text)
}

// writeSpots writes each station once, at its first elevation: point, the columns passed on, elevation with its unit. Where the
// notes have plan columns, stations without a place (turning points off the roof) are left out.
func writeSpots(out io.Writer, book *levelbook.Book, result *levelling.Reduction) error {
	w := csv.NewWriter(out)
	unit := strings.ReplaceAll(book.Unit.String(), "-", "_")
	if err := w.Write(append(append([]string{"point"}, harmless(book.Heads)...), "elevation_"+unit)); err != nil {
		return err
	}
	seen := map[string]bool{}
	for i := range result.Levels {
		l := &result.Levels[i]
		station := book.Rows[l.Row].Station
		if kept := book.Kept[l.Row]; !seen[station] && placed(book.Heads, kept) {
			seen[station] = true
			if err := w.Write(append(append([]string{cell.Text(station)}, harmless(kept)...), booked(l.Final(), book.Unit, false))); err != nil {
				return err
			}
		}
	}
	w.Flush()
	return w.Error()
}

// harmless returns fields that no spreadsheet runs as formulas; lengths stay as they are.
func harmless(fields []string) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f
		if _, err := quantity.ParseLength(f, quantity.Metres); err != nil {
			out[i] = cell.Text(f)
		}
	}
	return out
}

// placed reports whether a row's plan columns are filled, or there are none.
func placed(heads, fields []string) bool {
	for i, h := range heads {
		switch strings.ToLower(h) {
		case "x", "y", "e", "n", "east", "north", "easting", "northing", "lon", "lat", "place":
			if fields[i] == "" {
				return false
			}
		}
	}
	return true
}

package command

import (
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/cmd/call"
	"runnel/export/logbook"
	"runnel/export/papers"
	"runnel/export/record"
	"runnel/export/text"
)

// logRun is one call of "runnel log".
type logRun struct {
	call.Streams
	kind, who, at, pond, depth, date, photo string
	unitsOut                                string
	hours                                   float64
	now                                     func() time.Time
}

func newLog(s call.Streams) *cobra.Command {
	r := &logRun{Streams: s, now: time.Now}
	c := &cobra.Command{
		Use:   "log FILE [TEXT]",
		Short: "Add to a roof's own history, or print it",
		Long: `log keeps the history of a roof beside its file, as FILE's stem with .log.ndjson: cuts, repairs, outlets
cleaned, consent, looks at the roof, water that stood, and the close-out when it was seen dry 48 hours after
rain. Entries are only added; each holds the hash of the line before, so that a line changed afterwards shows.
Without TEXT it prints the history, each pond's depth over the years, and which looks of the year are wanting.
It keeps facts; what a warranty or an insurance covers it does not say.`,
		Example: `  runnel log shed.geojson "strainers of RD-1 and RD-2 cleaned" --kind cleaned --photo drain.jpg
  runnel log shed.geojson "water behind RTU-1" --kind water --pond P01 --depth "3/4 in" --hours 50
  runnel log shed.geojson`,
		Args: call.Arguments(1, 2, "give the roof's file, and a text to add to its history"),
		RunE: func(_ *cobra.Command, args []string) error { return r.run(args) },
	}
	f := c.Flags()
	names := gather.Each(logbook.Kinds(), func(k logbook.Kind) string { return string(k) })
	f.StringVar(&r.kind, "kind", string(logbook.Note), "`KIND` of entry: "+strings.Join(names, ", "))
	f.StringVar(&r.who, "who", "", "`NAME` of who did it, saw it or agreed")
	f.StringVar(&r.at, "at", "", "`PLACE` in words, such as \"12' from W wall, 30' from S wall\"")
	f.StringVar(&r.pond, "pond", "", "`NAME` of a pond on the plan, such as P01")
	f.StringVar(&r.depth, "depth", "", "`DEPTH` of the water that stood, such as \"3/4 in\" or 20mm")
	f.Float64Var(&r.hours, "hours", 0, "`HOURS` since the rain ended")
	f.StringVar(&r.date, "date", "", "`DATE` of what happened, such as 2026-03-01 (default today)")
	f.StringVar(&r.photo, "photo", "", "`FILE` of a photo: its name and hash are kept, not its place")
	f.StringVar(&r.unitsOut, "units-out", "us", "`UNITS` in which depths are printed, us or si")
	call.NamesFile(c, "photo", "jpg", "jpeg", "png")
	return c
}

// logPath is where the history of a roof's file stands.
func logPath(file string) string { return strings.TrimSuffix(file, filepath.Ext(file)) + ".log.ndjson" }

func (r *logRun) run(args []string) error {
	if r.unitsOut != record.US.String() && r.unitsOut != record.SI.String() {
		return call.Usage("--units-out %q: use us or si", r.unitsOut)
	}
	if _, err := os.Stat(args[0]); err != nil {
		return call.Usage("%s: there is no such file; a history stands beside the file of its roof", args[0])
	}
	path := logPath(args[0])
	if len(args) == 1 {
		book, err := logbook.Read(path)
		if err != nil {
			return err
		}
		return r.print(book, filepath.Base(args[0]))
	}
	e, err := r.entry(args[1])
	if err != nil {
		return err
	}
	if err := logbook.Append(path, e); err != nil {
		return err
	}
	call.Note(r.Err, fmt.Sprintf("added entry %d to %s", e.Number, filepath.ToSlash(path)))
	return nil
}

// entry reads the flags.
func (r *logRun) entry(said string) (*logbook.Entry, error) {
	now := r.now()
	e := &logbook.Entry{Text: strings.TrimSpace(said), Who: r.who, At: r.at, Pond: r.pond, Hours: r.hours, Date: r.date, Written: now.UTC().Format(time.RFC3339)}
	const longest = 2000
	if e.Text == "" || len(e.Text) > longest {
		return nil, call.Usage("give a text of one to %d characters", longest)
	}
	var err error
	if e.Kind, err = logbook.ParseKind(r.kind); err != nil {
		return nil, call.Usage("--kind: %v", err)
	}
	if e.Date == "" {
		e.Date = now.Format(time.DateOnly)
	}
	if day, err := time.Parse(time.DateOnly, e.Date); err != nil || day.After(now.AddDate(0, 0, 1)) {
		return nil, call.Usage("--date %q: give a day that has been, such as 2026-03-01", r.date)
	}
	if err := r.water(e); err != nil {
		return nil, err
	}
	if r.photo != "" {
		if e.PhotoSum, err = photoSum(r.photo); err != nil {
			return nil, err
		}
		e.Photo = filepath.Base(r.photo)
	}
	return e, nil
}

// water reads the flags of water that stood, or did not.
func (r *logRun) water(e *logbook.Entry) error {
	if r.depth != "" {
		d, err := quantity.ParseLength(r.depth, quantity.Unstated)
		if err != nil || d <= 0 || d > 3 {
			return call.Usage("--depth %q: give a depth with its unit, such as 3/4 in or 20mm", r.depth)
		}
		e.Depth = math.Round(float64(d)*1e4) / 10
	}
	if r.hours < 0 || r.hours > 10000 || math.IsNaN(r.hours) {
		return call.Usage("--hours %v: give the hours since the rain ended", r.hours)
	}
	if e.Kind == logbook.Dry && e.Hours < closeOut {
		return call.Usage("--kind dry: say how long after the rain it was, %d hours or more: --hours 50", closeOut)
	}
	return nil
}

// closeOut is how long after rain a roof is to be dry [h]: ponded water stands longer. Common practice, no source.
const closeOut = 48

// mostPhoto bounds a photo [bytes].
const mostPhoto = 100 << 20

func (r *logRun) print(b *logbook.Book, name string) error {
	l := text.NewLines()
	l.Title("History of " + name)
	if len(b.Entries) == 0 {
		l.Paragraph("Nothing is kept yet. Add an entry: runnel log " + name + " \"what was done or seen\" --kind cleaned")
		_, err := r.Out.Write(l.Bytes())
		return err
	}
	if len(b.Broken) > 0 {
		l.Entry("CHANGED", "A line before entry "+strings.Join(gather.Each(b.Broken, strconv.Itoa), ", ")+" was changed or taken out after it was written.")
	}
	l.Entry("CLOSE-OUT", papers.CloseOut(b))
	l.Entry("LOOKS", r.looks(b))
	rows := [][]string{{"no.", "date", "kind", "what", "where", "who", "photo"}}
	for i := range b.Entries {
		e := &b.Entries[i]
		what := e.Text
		if e.Depth > 0 {
			what += " (" + r.u().SayDepth(e.Depth/1000) + papers.Hours(e) + ")"
		}
		where := e.At
		if e.Pond != "" {
			where = strings.TrimSpace(e.Pond + " " + where)
		}
		rows = append(rows, []string{strconv.Itoa(e.Number), e.Date, string(e.Kind), what, where, e.Who, e.Photo})
	}
	l.Heading("Entries")
	l.Table(rows)
	for _, pond := range logbook.Ponds(b) {
		l.Heading("Pond " + pond)
		l.Table(r.chart(logbook.Course(b, pond)))
	}
	l.Paragraph("Facts only: what a warranty or an insurance covers, they say.")
	_, err := r.Out.Write(l.Bytes())
	return err
}

func (r *logRun) u() record.Units {
	return choose.If(r.unitsOut == record.SI.String(), record.SI, record.US)
}

// looks says which of this year's looks are kept: in spring, after the leaves have fallen, before frost, the months being those of the north; common practice.
func (r *logRun) looks(b *logbook.Book) string {
	year := r.now().Year()
	var kept, wanting []string
	for _, season := range []struct {
		name        string
		first, last time.Month
	}{{"spring", time.March, time.May}, {"leaf fall", time.October, time.October}, {"before frost", time.November, time.December}} {
		found := ""
		for i := range b.Entries {
			e := &b.Entries[i]
			day, err := time.Parse(time.DateOnly, e.Date)
			if err == nil && day.Year() == year && day.Month() >= season.first && day.Month() <= season.last && (e.Kind == logbook.Look || e.Kind == logbook.Cleaned) {
				found = e.Date
			}
		}
		switch {
		case found != "":
			kept = append(kept, season.name+" "+found)
		case r.now().Month() > season.last:
			wanting = append(wanting, season.name+" (missed)")
		case r.now().Month() >= season.first:
			wanting = append(wanting, season.name+" (due now)")
		}
	}
	said := choose.If(len(kept) > 0, "This year: "+strings.Join(kept, ", ")+".", "None this year.")
	if len(wanting) > 0 {
		said += " Wanting: " + strings.Join(wanting, ", ") + "."
	}
	return said
}

// chart draws a pond's depth over the years, a bar an entry.
func (r *logRun) chart(seen []logbook.Entry) [][]string {
	most := 0.0
	for i := range seen {
		most = math.Max(most, seen[i].Depth)
	}
	const widest = 40
	rows := [][]string{{"date", "deep", "", "hours after rain"}}
	for i := range seen {
		e := &seen[i]
		since := "-"
		if e.Depth == 0 {
			word := string(e.Kind) + ": " + e.Text
			if e.Kind == logbook.Dry {
				word, since = "dry", strconv.FormatFloat(e.Hours, 'g', 4, 64)
			}
			rows = append(rows, []string{e.Date, "", word, since})
			continue
		}
		switch {
		case e.Hours >= closeOut:
			since = strconv.FormatFloat(e.Hours, 'g', 4, 64)
		case e.Hours > 0:
			since = strconv.FormatFloat(e.Hours, 'g', 4, 64) + ": may still run off"
		}
		rows = append(rows, []string{e.Date, r.u().SayDepth(e.Depth / 1000), strings.Repeat("#", max(1, int(math.Round(widest*e.Depth/most)))), since})
	}
	return rows
}

// photoSum returns the hash of a photo.
func photoSum(path string) (string, error) {
	f, err := call.OpenSide(path, mostPhoto)
	if err != nil {
		return "", err
	}
	defer func() { _ = f.Close() }()
	content, err := io.ReadAll(f)
	if err != nil {
		return "", call.SideError(path, err)
	}
	return logbook.Sum(content), nil
}

package papers

import (
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/logbook"
	"runnel/export/page"
	"runnel/export/palette"
	"runnel/export/record"
)

// History is the paper with a roof's own history, for a claim or a new owner: facts, and no opinion on what a warranty or an insurance covers.
func History(r *roof.Roof, u record.Units, b *logbook.Book) *Paper {
	a := &Paper{Name: "history", Title: "History of the roof: facts", To: "____________________", roof: r, units: u}
	first := []string{CloseOut(b)}
	if len(b.Broken) > 0 {
		first = append(first, "A line of the history before entry "+strconv.Itoa(b.Broken[0])+" was changed or taken out after it was written.")
	}
	a.Parts = append(a.Parts, Part{Heading: "Seen dry", Texts: first})
	for _, pond := range logbook.Ponds(b) {
		seen := logbook.Course(b, pond)
		a.Parts = append(a.Parts, Part{Heading: "Pond " + pond + " over the years", Drawing: func(width float64) *scene.Scene { return bars(seen, u, width) }})
	}
	var rows [][]string
	for _, e := range logbook.ByDate(b) {
		what := e.Text
		if e.Depth > 0 {
			what += " (" + u.SayDepth(e.Depth/1000) + Hours(&e) + ")"
		}
		where := e.At
		if e.Pond != "" && where != "" {
			where = e.Pond + ", " + where
		} else if where == "" {
			where = e.Pond
		}
		rows = append(rows, []string{e.Date, string(e.Kind), what, where, e.Who, e.Photo, writtenOn(&e)})
	}
	a.Parts = append(a.Parts, Part{Heading: "What was done and seen, by date", Table: table([]string{"date", "kind", "what", "where", "who", "photo", "written down"}, rows)})
	if photos := photoTable(b); photos != nil {
		a.Parts = append(a.Parts, Part{Heading: "Photos, by the hash of their bytes", Table: photos})
	}
	a.Parts = append(a.Parts,
		Part{Texts: []string{"Each entry holds the hash of the one before, so that one that was changed or taken out afterwards shows; another photo under the name of one of these has another hash. These are facts only: what a warranty or an insurance covers, they say."}},
	)
	return a
}

// writtenOn is the day on which an entry was written down.
func writtenOn(e *logbook.Entry) string {
	day, _, _ := strings.Cut(e.Written, "T")
	return choose.If(day == e.Date, "the same day", day)
}

// photoTable lists the photos with their hashes; nil where there are none.
func photoTable(b *logbook.Book) *page.Table {
	var rows [][]string
	for _, e := range logbook.ByDate(b) {
		if e.Photo != "" {
			rows = append(rows, []string{e.Date, e.Photo, grouped(e.PhotoSum)})
		}
	}
	if rows == nil {
		return nil
	}
	return table([]string{"date", "photo", "SHA-256"}, rows)
}

// grouped writes a hash in groups of 16, so that a line breaks between them.
func grouped(hash string) string {
	const size = 16
	var parts []string
	for ; len(hash) > size; hash = hash[size:] {
		parts = append(parts, hash[:size])
	}
	return strings.Join(append(parts, hash), " ")
}

// bars draws a pond's depths, a bar each time, in proportion, with repairs and looks at a dry roof between them.
func bars(seen []logbook.Entry, u record.Units, width float64) *scene.Scene {
	const high, date, size = 5.0, 24.0, 2.8
	most := 0.0
	for i := range seen {
		most = max(most, seen[i].Depth)
	}
	d := &scene.Scene{Width: width, Height: high * float64(len(seen))}
	l := d.Layer("page")
	for i := range seen {
		e := &seen[i]
		y := float64(i) * high
		long := scene.Hundredth((width - date - 60) * e.Depth / most)
		if e.Depth > 0 {
			l.Box(scene.Rect{X: date, Y: y + 0.8, W: long, H: high - 1.6}, palette.Water, palette.Ink, 0.1)
		}
		for _, t := range []struct {
			x    float64
			text string
		}{{0, e.Date}, {date + long + 2, beside(e, u)}} {
			text := typeface.Cut(typeface.Clean(t.text), size, width-t.x, false)
			l.Texts = append(l.Texts, scene.Text{At: scene.Point{X: t.x, Y: y + 3.4}, String: text, Size: size, Width: typeface.Width(text, size, false), Colour: palette.Ink})
		}
	}
	return d
}

// beside says what stands beside a bar, or in its place.
func beside(e *logbook.Entry, u record.Units) string {
	switch {
	case e.Depth > 0:
		return u.SayDepth(e.Depth/1000) + Hours(e)
	case e.Kind == logbook.Dry:
		return "dry" + Hours(e)
	}
	return string(e.Kind) + ": " + e.Text
}

// closeAfter is how long after rain a roof is to be dry [h]: ponded water stands longer. Common practice, no source.
const closeAfter = 48

// Hours says how long after rain an entry was made, as it follows a depth; empty where nobody noted it.
func Hours(e *logbook.Entry) string {
	return choose.If(e.Hours == 0, "", ", "+record.SayHours(e.Hours)+" after rain")
}

// CloseOut says whether the last repair was followed by a look at a dry roof, and whether water stood after that.
func CloseOut(b *logbook.Book) string {
	var repaired, dry, wet, later *logbook.Entry
	all := logbook.ByDate(b)
	for i := range all {
		switch e := &all[i]; e.Kind {
		case logbook.Repaired, logbook.Cut:
			repaired, dry, wet, later = e, nil, nil, nil
		case logbook.Dry:
			dry, wet, later = e, nil, nil
		case logbook.Water:
			later = e
			if e.Hours >= closeAfter {
				wet, dry = e, nil
			}
		case logbook.Note, logbook.Cleaned, logbook.Consent, logbook.Look:
		}
	}
	const look = " Look, and keep it with --kind dry --hours 48 or more."
	switch {
	case wet != nil:
		return "Open: on " + wet.Date + " water still stood" + strings.TrimPrefix(Hours(wet), ",") + ", and nobody has seen the roof dry since." + look
	case dry != nil && later != nil:
		return "Seen dry " + dry.Date + Hours(dry) + ". Water was seen after that, on " + later.Date + Hours(later) + ": look again 48 hours after rain."
	case dry != nil:
		return "Seen dry " + dry.Date + Hours(dry) + "."
	case repaired == nil:
		return "No repair is kept, and no look at a roof that was dry 48 hours after rain."
	}
	return "Open: nobody has seen the roof dry 48 hours after rain since " + repaired.Date + "." + look
}

package drawing_test

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/demo"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
	"runnel/export/record"
	"runnel/importer"
)

// book analyses a roof as check does.
func book(tb testing.TB, r *roof.Roof) *record.Book {
	tb.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		tb.Fatalf("%s: %v", r.Name, err)
	}
	u := record.SI
	if r.Imperial {
		u = record.US
	}
	return record.NewBook(s, "", u)
}

// read reads an invented roof from its files as a user would.
func read(tb testing.TB, d *demo.Roof) *roof.Roof {
	tb.Helper()
	dir := tb.TempDir()
	var paths []string
	for _, f := range d.Inputs() {
		path := filepath.Join(dir, f.Name)
		if err := os.WriteFile(path, f.Bytes, 0o600); err != nil {
			tb.Fatal(err)
		}
		paths = append(paths, path)
	}
	r, err := importer.Read(paths, importer.Options{})
	if err != nil {
		tb.Fatalf("%s: %v", d.Stem(), err)
	}
	return r
}

// planOf returns the sheet with the plan.
func planOf(tb testing.TB, b *record.Book) *scene.Scene {
	tb.Helper()
	s, err := drawing.Plan(b, drawing.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return s[0]
}

// scattered returns a roof of random shape, nil where its lines contradict each other.
func scattered(seed uint64) *record.Book {
	r := shape.Random(seed, 40+int(seed%200))
	s, err := study.Run(r, study.Options{})
	if err != nil {
		return nil
	}
	return record.NewBook(s, "", record.Units(seed%2))
}

func svgOf(tb testing.TB, s *scene.Scene) string {
	tb.Helper()
	var b strings.Builder
	if err := svg.Write(&b, s); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

// element is one element of an SVG with the group that it stands in.
type element struct {
	group, name, text string
	attributes        map[string]string
}

// elements reads an SVG with the XML parser of the library; an error fails the test.
func elements(tb testing.TB, document string) []element {
	tb.Helper()
	d := xml.NewDecoder(strings.NewReader(document))
	var all []element
	group := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			tb.Fatalf("not well formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attributes: map[string]string{}}
			for _, a := range token.Attr {
				e.attributes[a.Name.Local] = a.Value
			}
			if e.name == "g" {
				group = e.attributes["id"]
			}
			e.group = group
			all = append(all, e)
		case xml.CharData:
			if len(all) > 0 && strings.TrimSpace(string(token)) != "" {
				all[len(all)-1].text += string(token)
			}
		}
	}
}

func number(tb testing.TB, s string) float64 {
	tb.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		tb.Fatal(err)
	}
	return v
}

// Package report writes the report of one roof: a single HTML file that opens offline on a desk, on a phone
// and on paper.
//
// The file holds everything: words, tables, drawings as SVG, the map's data and scripts. Its content security policy
// lets it load nothing and run only the scripts written into it, which it names by their hashes; what
// came from the input is text everywhere, never markup. Without scripts all but the map can be read.
//
// The library of the 3-D view stands in it packed, as data, and becomes a script when the view is first opened.
//
// The first screen and the sentences are those of package text, the numbers those of package record.
package report

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html"
	"html/template"
	"io"
	"regexp"
	"strings"
	"sync"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
	"runnel/export/model"
	"runnel/export/record"
)

// Parts of the page; Leaflet and three.js are in asset with their licences and checksums.
var (
	//go:embed asset/leaflet.js
	leafletScript string
	//go:embed asset/leaflet.css
	leafletStyle string
	//go:embed asset/three.js.gz
	packedThree []byte
	//go:embed page/address.js
	addressScript string
	//go:embed page/facet.js
	facetScript string
	//go:embed page/facts.js
	factsScript string
	//go:embed page/names.js
	namesScript string
	//go:embed page/map.js
	mapScript string
	//go:embed page/section.js
	sectionScript string
	//go:embed page/scene.js
	sceneScript string
	//go:embed page/space.js
	spaceScript string
	//go:embed page/tabs.js
	tabsScript string
	//go:embed page/water.js
	waterScript string
	//go:embed page/table.js
	tableScript string
	//go:embed page/page.css
	pageStyle string
	//go:embed page/body.html
	bodyText string
)

// body is parsed when the first report is written: most commands write none.
var body = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("body").Funcs(template.FuncMap{
		"nothing": func() string { return model.Nothing },
		"whole":   whole,
		"rest":    func(n int) string { return model.Rest(n, model.FewerFindings) },
	}).Parse(bodyText))
})

// mixed is a measure that reads as another one where a line ends inside it: 2-1/8" as 1/8", 14' 6" as 6".
var mixed = regexp.MustCompile(`\d+' \d+(?:-\d+/\d+)?"|\d+-\d+/\d+"?`)

// whole writes a text with each mixed measure on one line. A browser breaks lines behind a hyphen as well as at blanks.
func whole(text string) template.HTML {
	var b strings.Builder
	end := 0
	for _, m := range mixed.FindAllStringIndex(text, -1) {
		b.WriteString(template.HTMLEscapeString(text[end:m[0]]) + `<span class="whole">` + template.HTMLEscapeString(text[m[0]:m[1]]) + "</span>")
		end = m[1]
	}
	return template.HTML(b.String() + template.HTMLEscapeString(text[end:])) //nolint:gosec // every part of it is escaped
}

// policy lets the page run its own scripts and styles and nothing else.
func policy(scripts, styles []string) string {
	p := "default-src 'none'; base-uri 'none'; form-action 'none'; img-src data:; script-src"
	for _, s := range scripts {
		p += " " + hashOf(s)
	}
	p += " " + threeHash() + "; style-src"
	for _, s := range styles {
		p += " " + hashOf(s)
	}
	return p
}

// threeHash names the script that the page unpacks.
var threeHash = sync.OnceValue(func() string {
	unpacked, err := gzip.NewReader(bytes.NewReader(packedThree))
	if err != nil {
		panic(fmt.Sprintf("report: three.js.gz: %v", err))
	}
	text, err := io.ReadAll(unpacked)
	if err != nil {
		panic(fmt.Sprintf("report: three.js.gz: %v", err))
	}
	return hashOf(string(text))
})

func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// Write writes the report of m to w.
func Write(w io.Writer, m *model.Model) error {
	b := m.Book
	out := bufio.NewWriterSize(w, 1<<16)
	scripts := []string{leafletScript, addressScript, tabsScript, sectionScript, facetScript, factsScript, namesScript, mapScript, waterScript, sceneScript, spaceScript, tableScript}
	styles := []string{leafletStyle, pageStyle}
	put := func(parts ...string) {
		for _, p := range parts {
			_, _ = out.WriteString(p) // bufio keeps the error for Flush
		}
	}
	put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n",
		"<meta http-equiv=\"Content-Security-Policy\" content=\"", policy(scripts, styles), "\">\n",
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
		"<title>", html.EscapeString(record.Title(b.Study.Roof.Name)), ": roof report</title>\n")
	for _, s := range styles {
		put("<style>", s, "</style>\n")
	}
	put("</head>\n")
	v, err := newView(m)
	if err != nil {
		return err
	}
	if err := body().Execute(out, v); err != nil {
		return fmt.Errorf("lay out the report: %w", err)
	}
	put("<script type=\"application/json\" id=\"features\">")
	if err := features(out, b); err != nil {
		return err
	}
	put("</script>\n<script type=\"application/json\" id=\"surface\">")
	_, _ = out.Write(surfaceData(b))
	if v.Standing != nil && v.Standing.Left == "" {
		put("</script>\n<script type=\"application/json\" id=\"standing\">")
		_, _ = out.Write(v.Standing.data(b))
	}
	put("</script>\n<script type=\"text/plain\" id=\"packed\">", base64.StdEncoding.EncodeToString(packedThree), "</script>\n")
	for _, s := range scripts {
		put("<script>", s, "</script>\n")
	}
	put("</body>\n</html>\n")
	return out.Flush()
}

// planOf is the plan as the drawing on its sheet shows it, to stand in the page.
func planOf(m *model.Model) (template.HTML, error) {
	sheets, err := m.Plan()
	if err != nil {
		return "", err
	}
	return inline(sheets[0])
}

// inline returns a drawing as an element of the page.
func inline(s *scene.Scene) (template.HTML, error) {
	var text bytes.Buffer
	if err := svg.Write(&text, s); err != nil {
		return "", fmt.Errorf("draw %s: %w", s.Title, err)
	}
	_, element, _ := strings.Cut(text.String(), "?>")
	return template.HTML(element), nil
}

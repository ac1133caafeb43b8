package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"regexp"
	"strings"
)

// Lines of a module that bind it to others. Modules keep to these forms, so that they can be joined.
var (
	importLine = regexp.MustCompile(`(?m)^import \{([^}]*)\} from '\./([a-z-]+)\.js';\n`)
	exportWord = regexp.MustCompile(`(?m)^export (async function|function|class|const|let) ([A-Za-z0-9_]+)`)
)

// joined returns the modules that a module needs, and itself, as one text: each a function of its own that returns what it exports.
func joined(files map[string][]byte, name string, done map[string]bool) (string, error) {
	if done[name] {
		return "", nil
	}
	done[name] = true
	source, ok := files[name+".js"]
	if !ok {
		return "", fmt.Errorf("module %s is missing", name)
	}
	var b strings.Builder
	for _, m := range importLine.FindAllSubmatch(source, -1) {
		before, err := joined(files, string(m[2]), done)
		if err != nil {
			return "", fmt.Errorf("%s: %w", name, err)
		}
		b.WriteString(before)
	}
	var names []string
	for _, m := range exportWord.FindAllSubmatch(source, -1) {
		names = append(names, string(m[2]))
	}
	text := importLine.ReplaceAllStringFunc(string(source), func(line string) string {
		m := importLine.FindStringSubmatch(line)
		return "const {" + strings.ReplaceAll(m[1], " as ", ": ") + "} = " + variable(m[2]) + ";\n"
	})
	text = exportWord.ReplaceAllString(text, "$1 $2")
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "import ") || strings.HasPrefix(line, "export ") {
			return "", fmt.Errorf("%s: a line that cannot be joined: %s", name, line)
		}
	}
	fmt.Fprintf(&b, "const %s = (() => {\n%sreturn {%s};\n})();\n", variable(name), text, strings.Join(names, ", "))
	return b.String(), nil
}

// variable is the name that holds what a module exports.
func variable(module string) string { return "module_" + strings.ReplaceAll(module, "-", "_") }

// singleFile returns the page as one file that holds everything.
func singleFile(files map[string][]byte) ([]byte, error) {
	code, err := joined(files, "app", map[string]bool{})
	if err != nil {
		return nil, err
	}
	code = "'use strict';\n" + code
	worker := string(files["wasm_exec.js"]) + string(files["worker.js"])
	for _, part := range [][2]string{{code, "</script"}, {worker, "</script"}, {string(files[example]), "</script"}, {string(files["style.css"]), "</style"}} {
		if strings.Contains(strings.ToLower(part[0]), part[1]) || strings.Contains(part[0], "<!--") {
			return nil, fmt.Errorf("a part holds %s, which ends its own element, or begins a comment", part[1])
		}
	}
	sum := sha256.Sum256([]byte(code))
	policy := "default-src 'none'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "' blob: 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; img-src blob: data:; base-uri 'none'; form-action 'none'"
	held := "<script type=\"application/octet-stream\" id=\"held-program\">" + base64.StdEncoding.EncodeToString(files[first]) + "</script>\n" +
		"<script type=\"text/plain\" id=\"held-worker\">" + worker + "</script>\n" +
		"<script type=\"application/json\" id=\"held-example\">" + string(files[example]) + "</script>\n"
	page := string(files["index.html"])
	for _, change := range [][2]string{
		{`<link rel="stylesheet" href="style.css">`, "<style>" + string(files["style.css"]) + "</style>"},
		{`<link rel="manifest" href="manifest.webmanifest">` + "\n", ""},
		{`<link rel="icon" href="icon.svg" type="image/svg+xml">`, `<link rel="icon" href="data:image/svg+xml;base64,` + base64.StdEncoding.EncodeToString(files["icon.svg"]) + `">`},
		{`<link rel="apple-touch-icon" href="icon.png">` + "\n", ""},
		{`<script type="module" src="app.js"></script>`, held + "<script type=\"module\">" + code + "</script>"},
	} {
		if strings.Count(page, change[0]) != 1 {
			return nil, fmt.Errorf("index.html does not hold %s once", change[0])
		}
		page = strings.Replace(page, change[0], change[1], 1)
	}
	at := strings.Index(page, `content="default-src`)
	end := strings.Index(page[at+len(`content="`):], `"`) + at + len(`content="`)
	if at < 0 || end < at {
		return nil, fmt.Errorf("index.html has no policy")
	}
	return []byte(page[:at] + `content="` + policy + page[end:]), nil
}

// icon draws icon.svg's shapes as a PNG of 512 px, for what takes no SVG.
func icon() ([]byte, error) {
	const side = 512
	m := image.NewRGBA(image.Rect(0, 0, side, side))
	back, deck, pond := color.RGBA{0x28, 0x00, 0x2F, 255}, color.RGBA{0xFB, 0xF7, 0xEC, 255}, color.RGBA{0x37, 0xC6, 0xFF, 255}
	roof := [][2]float64{{48, 176}, {232, 344}, {280, 344}, {464, 176}, {464, 248}, {304, 396}, {304, 448}, {208, 448}, {208, 396}, {48, 248}}
	water := [][2]float64{{128, 196}, {384, 196}, {276, 296}, {236, 296}}
	for y := range side {
		for x := range side {
			c := back
			switch p := [2]float64{float64(x) + 0.5, float64(y) + 0.5}; {
			case inside(water, p):
				c = pond
			case inside(roof, p):
				c = deck
			}
			m.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	err := png.Encode(&b, m)
	return b.Bytes(), err
}

// inside reports whether a place lies in a ring, by the even-odd rule.
func inside(ring [][2]float64, p [2]float64) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}

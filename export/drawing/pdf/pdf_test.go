package pdf_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/png" // of the pages as another program draws them
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
)

// written writes scenes to a file.
func written(t *testing.T, pages ...*scene.Scene) string {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, pages...); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// drawn returns the first page as poppler draws it, five pixels a millimetre.
func drawn(t *testing.T, path string) image.Image {
	t.Helper()
	out := reference.Run(t, "poppler-utils", nil, "pdftoppm", "-png", "-r", "127", "-f", "1", "-l", "1", "-singlefile", path)
	m, _, err := image.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// at returns the colour of a place of a page [mm] as "#RRGGBB".
func at(m image.Image, x, y float64) string {
	r, g, b, _ := m.At(int(x*5), int(y*5)).RGBA()
	return fmt.Sprintf("#%02X%02X%02X", r>>8, g>>8, b>>8)
}

// A page as another program draws it: areas where they were put, in their colours, holes by the even-odd rule; lines as wide as they are said to be, dashed where they are, with ends that
// are cut off or rounded.
func TestShapesAsDrawn(t *testing.T) {
	s := &scene.Scene{Width: 100, Height: 60, Title: "Shapes"}
	l := s.Layer("a")
	l.Box(scene.Rect{X: 10, Y: 10, W: 20, H: 30}, "#CC3300", "", 0)
	l.Add(scene.Shape{Closed: true, Fill: "#0033CC", Paths: [][]scene.Point{{{X: 40, Y: 10}, {X: 60, Y: 10}, {X: 60, Y: 30}, {X: 40, Y: 30}}, {{X: 45, Y: 15}, {X: 55, Y: 15}, {X: 55, Y: 25}, {X: 45, Y: 25}}}})
	l.Box(scene.Rect{X: 70, Y: 10, W: 20, H: 20}, "#00CC33", "#000000", 2)
	l.Line("#FF0000", 2, nil, scene.Point{X: 40, Y: 40}, scene.Point{X: 60, Y: 40})
	l.Add(scene.Shape{Paths: [][]scene.Point{{{X: 70, Y: 40}, {X: 90, Y: 40}}}, Stroke: "#FF0000", Width: 2, Butt: true})
	l.Add(scene.Shape{Paths: [][]scene.Point{{{X: 10, Y: 50}, {X: 90, Y: 50}}}, Stroke: "#0000FF", Width: 2, Butt: true, Dash: []float64{10, 5}})
	l.Add(scene.Shape{Paths: [][]scene.Point{{{X: 1, Y: 1}, {X: 5, Y: 5}}}}) // neither filled nor drawn
	m := drawn(t, written(t, s))
	if b := m.Bounds(); b.Dx()/2 != 250 || b.Dy()/2 != 150 {
		t.Fatalf("a page of %v", b)
	}
	for _, c := range []struct {
		x, y float64
		want string
	}{
		{20, 25, "#CC3300"},
		{9.5, 25, "#FFFFFF"},
		{30.5, 25, "#FFFFFF"},
		{20, 9.5, "#FFFFFF"},
		{20, 40.5, "#FFFFFF"},
		{20, 39.5, "#CC3300"},
		{42, 20, "#0033CC"},
		{50, 20, "#FFFFFF"},
		{58, 20, "#0033CC"},
		{80, 20, "#00CC33"},
		{70.5, 20, "#000000"},
		{69.5, 20, "#000000"},
		{68.5, 20, "#FFFFFF"},
		{71.5, 20, "#00CC33"},
		{80, 30.5, "#000000"},
		{50, 40.7, "#FF0000"},
		{50, 39.3, "#FF0000"},
		{50, 41.4, "#FFFFFF"},
		{60.7, 40, "#FF0000"}, // a rounded end reaches a millimetre on
		{80, 40.7, "#FF0000"},
		{90.5, 40, "#FFFFFF"}, // one that is cut off does not
		{15, 50, "#0000FF"},
		{22, 50, "#FFFFFF"},
		{30, 50, "#0000FF"},
		{37, 50, "#FFFFFF"},
		{3, 3, "#FFFFFF"},
	} {
		if got := at(m, c.x, c.y); got != c.want {
			t.Errorf("at %v, %v: %s, want %s", c.x, c.y, got, c.want)
		}
	}
}

var word = regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="([0-9.]+)" yMax="([0-9.]+)">([^<]*)</word>`)

// Texts are text, and stand where they are anchored: by their beginning, middle or end, or read upwards, as another program finds them. A point is 25.4 / 72 mm.
func TestTextsAsFound(t *testing.T) {
	s := &scene.Scene{Width: 200, Height: 100, Title: "Texts"}
	l := s.Layer("a")
	put := func(text string, a scene.Anchor, x, y float64, turned, bold bool) {
		l.Texts = append(l.Texts, scene.Text{At: scene.Point{X: x, Y: y}, String: text, Size: 4, Width: 20, Anchor: a, Colour: "#000000", Turned: turned, Bold: bold})
	}
	put("Begin", scene.Start, 50, 20, false, false)
	put("Middle", scene.Middle, 100, 40, false, false)
	put("End", scene.End, 150, 60, false, true)
	put("Upwards", scene.Start, 30, 90, true, false)
	put("Höhe<28", scene.Start, 100, 80, false, false)
	path := written(t, s)
	found := map[string][4]float64{}
	for _, m := range word.FindAllStringSubmatch(string(reference.Run(t, "poppler-utils", nil, "pdftotext", "-bbox", path, "-")), -1) {
		var box [4]float64
		for i := range box {
			v, err := strconv.ParseFloat(m[i+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			box[i] = v * 25.4 / 72
		}
		found[m[5]] = box
	}
	for text, want := range map[string][2]float64{"Begin": {50, 20}, "Middle": {90, 40}, "End": {130, 60}, "Höhe&lt;28": {100, 80}} { // of a text that is said to be 20 mm wide
		box, ok := found[text]
		if !ok || !(math.Abs(box[0]-want[0]) <= 0.3) || box[1] > want[1]-2 || box[1] < want[1]-5 || box[3] < want[1] || box[3] > want[1]+2 {
			t.Errorf("%s: %v, want it to begin at %v on the line %v", text, box, want[0], want[1])
		}
	}
	up := found["Upwards"]
	if wide, high := up[2]-up[0], up[3]-up[1]; high < 2*wide || !(math.Abs(up[3]-90) <= 0.5) || up[2] < 29 || up[0] < 25 {
		t.Errorf("read upwards from (30, 90): %v", up)
	}
	if len(found) != 5 {
		t.Errorf("%v", found)
	}
}

// A text that is read upwards runs square to the sheet: a rule of 20 dashes 4 mm long stands in the same columns at both ends, as another program draws it.
func TestTurnedTextIsSquare(t *testing.T) {
	s := &scene.Scene{Width: 60, Height: 100, Title: "Turned"}
	l := s.Layer("a")
	l.Texts = append(l.Texts, scene.Text{At: scene.Point{X: 30, Y: 90}, String: strings.Repeat("\u2014", 20), Size: 4, Width: 80, Colour: "#000000", Turned: true, Bold: true})
	m := drawn(t, written(t, s))
	var rows [2]string
	for i, y := range []float64{88, 12} {
		for x := 20.0; x < 40; x += 0.2 {
			rows[i] += map[bool]string{true: "#", false: "."}[at(m, x, y) == "#000000"]
		}
	}
	if rows[0] != rows[1] || !strings.Contains(rows[0], "#") {
		t.Errorf("the rule stands at both ends in\n%s\n%s", rows[0], rows[1])
	}
}

// Each sheet is a page of its size, under the title of the first; marks are its outline; the same sheets give the same bytes, whenever they are written.
func TestPagesAsTold(t *testing.T) {
	first, second := &scene.Scene{Width: 210, Height: 297, Title: "Roof ü"}, &scene.Scene{Width: 420, Height: 297, Title: "Other"}
	second.Marks = []scene.Mark{{Text: "Ponds", Y: 20}}
	path := written(t, first, second)
	info := string(reference.Run(t, "poppler-utils", nil, "pdfinfo", "-f", "1", "-l", "2", path))
	for _, want := range []string{`Title:\s+Roof ü\n`, `Pages:\s+2\n`, `Page\s+1 size:\s+595\.\d* x 841\.\d* pts`, `Page\s+2 size:\s+1190\.\d* x 841\.\d* pts`, `JavaScript:\s+no\n`, `Encrypted:\s+no\n`} {
		if !regexp.MustCompile(want).MatchString(info) {
			t.Errorf("%s is not told in\n%s", want, info)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte("/Outlines")) || !bytes.Contains(data, []byte("/Lang")) {
		t.Error("no outline, or no language")
	}
	again, err := os.ReadFile(written(t, first, second))
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("%v: the bytes differ", err)
	}
}

type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestAFullDisk(t *testing.T) {
	if err := pdf.Write(full{}, &scene.Scene{Width: 10, Height: 10}); err == nil || !strings.HasPrefix(err.Error(), "pdf: ") {
		t.Error(err)
	}
}

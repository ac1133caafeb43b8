// Package scenetest is test support: it tells what a scene draws, a line for each thing, and holds it to a file under testdata that somebody read
// beside the picture.
package scenetest

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
)

// Told says what scenes draw: of each text where and how it stands; of each shape its style, its number of places, where it begins, its box, its length
// and the area that its paths enclose. In millimetres and tenths of them.
func Told(pages []*scene.Scene) string {
	var b strings.Builder
	for i, s := range pages {
		fmt.Fprintf(&b, "page %d, %.1f by %.1f: %s\n", i+1, s.Width, s.Height, s.Title)
		for _, l := range s.Layers {
			fmt.Fprintf(&b, " layer %s\n", l.Name)
			for j := range l.Shapes {
				b.WriteString("  " + shape(&l.Shapes[j]) + "\n")
			}
			for j := range l.Texts {
				b.WriteString("  " + text(&l.Texts[j]) + "\n")
			}
		}
		for _, m := range s.Marks {
			fmt.Fprintf(&b, " mark %.1f %s\n", m.Y, m.Text)
		}
	}
	return b.String()
}

func text(t *scene.Text) string {
	out := fmt.Sprintf("%.1f %.1f %q %s %.1f %.2f", t.At.X+0, t.At.Y+0, t.String, t.Colour, t.Width, t.Size)
	if t.Bold {
		out += " bold"
	}
	if t.Turned {
		out += " turned"
	}
	return out + [...]string{"", " middle", " end"}[t.Anchor]
}

func shape(s *scene.Shape) string {
	out, n := "", 0
	box := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	length, area := 0.0, 0.0
	for _, p := range s.Paths {
		n += len(p)
		for i, at := range p {
			box = [4]float64{math.Min(box[0], at.X), math.Min(box[1], at.Y), math.Max(box[2], at.X), math.Max(box[3], at.Y)}
			to := p[(i+1)%len(p)]
			area += (at.X*to.Y - at.Y*to.X) / 2
			if i+1 < len(p) || s.Closed {
				length += math.Hypot(to.X-at.X, to.Y-at.Y)
			}
		}
	}
	if s.Fill != "" {
		out += "filled " + s.Fill + " "
	}
	if s.Stroke != "" {
		out += fmt.Sprintf("line %s %.2f%v ", s.Stroke, s.Width, s.Dash)
	}
	if s.Closed {
		out += "closed "
	}
	if s.Butt {
		out += "butt "
	}
	if n == 0 {
		return out + "nothing"
	}
	first := s.Paths[0][0]
	return out + fmt.Sprintf("%d in %d: from %.1f %.1f, box %.1f %.1f %.1f %.1f, %.0f long, area %.0f", n, len(s.Paths), first.X+0, first.Y+0, box[0], box[1], box[2], box[3], length, area+0)
}

// AsRead holds a text to testdata/name. UPDATE_GOLDEN=1 writes it anew; the difference is then to be read.
func AsRead(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	told := 0
	for i := range max(len(g), len(w)) {
		switch {
		case i >= len(g):
			t.Errorf("%s:%d: lacks %q", path, i+1, w[i])
		case i >= len(w) || g[i] != w[i]:
			t.Errorf("%s:%d: %q", path, i+1, g[i])
		default:
			continue
		}
		if told++; told == 5 {
			return
		}
	}
}

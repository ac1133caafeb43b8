package layer_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"runnel/export/drawing/scene/scenetest"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/sample"
)

// How each layer of a roof under a storm is drawn, style by style in the order of the key, as somebody read it beside the map: lines, fills and marks.
func TestGoldenStyles(t *testing.T) {
	looks := map[string][]layer.Style{}
	var names []string
	layer.Each(record.NewBook(sample.Storm(sample.Local()), "", record.SI), func(f *layer.Feature) {
		if !slices.Contains(names, f.Layer) {
			names = append(names, f.Layer)
		}
		if !slices.Contains(looks[f.Layer], f.Style) {
			looks[f.Layer] = append(looks[f.Layer], f.Style)
		}
	}, layer.All()...)
	slices.Sort(names)
	var out strings.Builder
	for _, name := range names {
		fmt.Fprintln(&out, name)
		slices.SortStableFunc(looks[name], func(a, b layer.Style) int {
			return strings.Compare(fmt.Sprintf("%4d%s", a.Class+1000, a.Name), fmt.Sprintf("%4d%s", b.Class+1000, b.Name))
		})
		for _, s := range looks[name] {
			fmt.Fprintf(&out, "  %d %q", s.Class, s.Name)
			if s.Stroke != "" {
				fmt.Fprintf(&out, ", line %s %.2f", s.Stroke, s.Width)
			}
			if s.Fill != "" {
				fmt.Fprintf(&out, ", fill %s %.3f", s.Fill, s.Opacity)
			}
			if s.Marker != "" {
				fmt.Fprintf(&out, ", mark %s %s", s.Marker, s.Size)
			}
			out.WriteString("\n")
		}
	}
	scenetest.AsRead(t, "looks.txt", out.String())
}

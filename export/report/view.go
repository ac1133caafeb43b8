package report

import (
	"fmt"
	"html/template"
	"strings"

	"runnel/analysis/gather"
	"runnel/export/layer"
	"runnel/export/model"
	"runnel/export/record"
)

// view is what the body's template shows.
type view struct {
	*model.Model
	Front
	Unit       string // of plan lengths that a reader types
	Defs, Plan template.HTML
	Findings   []findingView
	Layers     []layerView // those that are wanted most
	MoreLayers []layerView
	LeftOut    []string

	Flows, Volumes []chartView
	VolumesNote    string
	Standing       *standing // the storm's water through time
	Classes        []swatch  // its depths
	LastMoment     int
}

type chartView struct {
	Caption string
	Drawing template.HTML
}

type findingView struct {
	model.Finding
	Thumb template.HTML
}

type layerView struct {
	Name, Label string
	On          bool
	Classes     []swatch // its depths, where it shows any
}

// swatch is a class of depth in a key.
type swatch struct {
	Text     string
	Strength string // of the colour, 0 to 1
}

func newView(m *model.Model) (*view, error) {
	b := m.Book
	plan, err := planOf(m)
	if err != nil {
		return nil, err
	}
	v := &view{Model: m, Plan: plan, Unit: "metres", VolumesNote: model.VolumesNote}
	if b.Units == record.US {
		v.Unit = "feet"
	}
	c := newCanvas(b, 1000)
	v.Defs = c.definition(b)
	for _, f := range m.Findings {
		of := &b.Study.Findings[f.Index]
		v.Findings = append(v.Findings, findingView{f, c.thumb(of, f.ID, string(of.Kind))})
	}
	if v.Volumes, err = charts(v.Rain.Volumes); err != nil {
		return nil, err
	}
	if v.Storm != nil {
		if v.Flows, err = charts(v.Storm.Flows); err != nil {
			return nil, err
		}
	}
	if v.Front, err = newFront(b, v.First); err != nil {
		return nil, err
	}
	v.layers(b)
	v.Standing = standingOf(b)
	if v.Standing != nil && v.Standing.Left == "" {
		v.Classes, v.LastMoment = v.Standing.classes(b.Units), len(b.Study.Storm.Moments)-1
	}
	return v, nil
}

// layers lists the layers of the map, those that lie lowest first.
func (v *view) layers(b *record.Book) {
	names, left := inPage(b)
	v.LeftOut = left
	add := func(l layerView) {
		if l.On || wanted(l.Name) {
			v.Layers = append(v.Layers, l)
		} else {
			v.MoreLayers = append(v.MoreLayers, l)
		}
	}
	add(layerView{Name: "relief", Label: layerLabel("relief"), On: true})
	for _, n := range names {
		if n == "water" {
			for _, l := range waterLayers(b) {
				add(l)
			}
			continue
		}
		l := layerView{Name: n, Label: layerLabel(n), On: onAtFirst(n)}
		if n == "pond" {
			l.Classes = pondClasses(b.Units)
		}
		add(l)
		if n == "outline" {
			add(layerView{Name: "facet", Label: layerLabel("facet")})
		}
	}
}

// pondClasses is the key of the ponds' depths.
func pondClasses(u record.Units) []swatch {
	return gather.Each(record.DepthClasses(u), func(c record.DepthClass) swatch { return swatch{c.Name, fmt.Sprintf("%.2f", c.Strength)} })
}

// waterLayers are the states of the water, each a layer of its own: they lie over each other.
func waterLayers(b *record.Book) []layerView {
	var out []layerView
	for i := range b.Waters {
		w := &b.Waters[i]
		if len(w.Bands) == 0 {
			continue
		}
		l := layerView{Name: fmt.Sprintf("water-%d", i+1), Label: "Greatest depth with " + w.Case}
		for k := range w.Bands {
			l.Classes = append(l.Classes, swatch{b.Units.SayDepth(w.Bands[k].To), fmt.Sprintf("%.2f", layer.BandStrength(k, len(w.Bands)))})
		}
		out = append(out, l)
	}
	return out
}

// chartWidth is the width at which charts are drawn for the page [mm]: on a phone its texts are then as large as a note.
const chartWidth = 110.0

// charts returns charts as they stand in the page.
func charts(of []model.Chart) ([]chartView, error) {
	var out []chartView
	for _, c := range of {
		drawing, err := inline(c.Draw(chartWidth))
		if err != nil {
			return nil, err
		}
		out = append(out, chartView{c.Caption, drawing})
	}
	return out, nil
}

// layerLabel is how the map names a layer; one without a name of its own goes by the GeoJSON file's.
func layerLabel(name string) string {
	label, ok := map[string]string{
		"relief": "Relief, lit from the north-west", "outline": "Outline", "facet": "Facets by slope", "plane": "Planes by slope", "catchment": "Catchments", "contour": "Contours", "pond": "Ponds",
		"stain": "Water as seen", "breakline": "Breaklines", "valley": "Valleys", "ridge": "Ridges", "curb": "Curbs", "edge": "Edges",
		"flowpath": "Longest ways of the water", "spot": "Spots", "core": "Cores", "sill": "Sills", "control": "Control points", "answer": "Answers", "lip": "Lips",
		"outlet": "Outlets", "finding": "Findings", "next-core": "Where to core next", "next-spot": "Where to shoot next",
	}[name]
	if !ok {
		label = strings.ReplaceAll(name, "-", " ")
	}
	return label
}

func onAtFirst(name string) bool {
	switch name {
	case "outline", "pond", "curb", "edge", "outlet", "lip", "contour", "flowpath", "finding":
		return true
	}
	return false
}

// wanted tells layers that stand in the short list though they are off at first.
func wanted(name string) bool {
	return name == "plane" || name == "catchment" || name == "spot" || strings.HasPrefix(name, "water-")
}

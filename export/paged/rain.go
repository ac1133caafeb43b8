package paged

import (
	"runnel/analysis/choose"
	"runnel/export/drawing/scene"
	"runnel/export/model"
	"runnel/export/page"
)

// rain sets the outlets under the design rain, the water with every primary outlet blocked, and the sills; each where there is any.
func (r *report) rain() {
	c := r.m.Rain
	if len(c.Outlets.Rows) > 0 {
		r.table(c.Outlets)
	}
	if len(c.Load) > 0 {
		r.Heading(c.LoadHeading, 25)
		for _, s := range c.Load {
			r.Paragraph(s, note)
			r.Skip(1)
		}
		if len(c.Waters.Rows) > 0 {
			r.rows(c.Waters)
		}
	}
	if len(c.Sills.Rows) > 0 {
		r.table(c.Sills)
	}
}

// storm sets what the storm does, with a chart for each outlet, and how much water stands at which level.
func (r *report) storm() {
	if c := r.m.Storm; c != nil {
		r.Heading("Storm", 40)
		facts := &page.Facts{Style: note, Words: words, Gap: 0.6}
		for _, e := range c.Facts {
			for i, s := range e.Texts {
				word := choose.If(i == 0, e.Word, "")
				facts.Rows = append(facts.Rows, [2]string{word, s})
			}
		}
		r.Facts(facts)
		r.Skip(1.5)
		r.rows(c.Cases)
		r.charts("Flow of each outlet", c.Flows)
		if c.MoreFlows != "" {
			r.Paragraph(c.MoreFlows, note)
		}
		r.table(c.Outlets)
	}
	if c := r.m.Rain; len(c.Volumes) > 0 {
		r.charts("How much water stands at which level", c.Volumes)
		r.Paragraph(model.VolumesNote, note)
		if c.MoreVolumes != "" {
			r.Paragraph(c.MoreVolumes, note)
		}
	}
}

// chartWidth is the width of a chart on a sheet [mm].
const chartWidth = 184.0

// charts sets charts under a heading, each with its caption.
func (r *report) charts(heading string, charts []model.Chart) {
	if len(charts) == 0 {
		return
	}
	for i, c := range charts {
		drawn := c.Draw(chartWidth)
		if i == 0 {
			r.Heading(heading, drawn.Height+14)
		}
		r.Need(drawn.Height + 12)
		r.Paragraph(c.Caption, page.Style{Size: noteEm, Bold: true})
		r.Place(drawn, scene.Point{X: page.Margin, Y: r.Y()})
		r.Skip(drawn.Height + 3)
	}
}

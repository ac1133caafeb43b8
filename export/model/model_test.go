package model_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/summary"
)

// told is what the summary says of rain and storm, in SI.
type told struct {
	Outlets []struct {
		Label  string  `json:"label"`
		Demand float64 `json:"demand_lps"`
		Head   float64 `json:"head_mm"`
	} `json:"outlets"`
	RainLoad struct {
		Waters []struct {
			Depth float64 `json:"depth_mm"`
			Load  float64 `json:"load_kpa"`
		} `json:"waters"`
	} `json:"rain_load"`
	Sills []struct {
		Label  string  `json:"label"`
		Case   string  `json:"case"`
		Margin float64 `json:"margin_mm"`
	} `json:"sills"`
	Storm struct {
		Worst string `json:"worst"`
		Cases []struct {
			Case  string  `json:"case"`
			Depth float64 `json:"max_depth_mm"`
			Load  float64 `json:"max_load_kpa"`
			Left  float64 `json:"left_after_48h_l"`
			Outs  []struct {
				Label  string  `json:"label"`
				Flow   float64 `json:"peak_flow_lps"`
				Volume float64 `json:"out_l"`
			} `json:"outlets"`
		} `json:"cases"`
	} `json:"storm"`
}

func tell(t *testing.T, b *record.Book) (s told) {
	t.Helper()
	var text bytes.Buffer
	if err := summary.Write(&text, model.Of(b)); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text.Bytes(), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if d := got - want; d > 1e-3 || d < -1e-3 {
		t.Errorf("%s is %v, in the summary %v", what, got, want)
	}
}

// Every figure of the tables is that of the summary, to a thousandth of its unit.
func TestFiguresAreThoseOfTheSummary(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	c, s := model.Of(b), tell(t, b)
	rows := c.Rain.Outlets.Rows
	if len(rows) < 2 || len(rows) != len(s.Outlets) {
		t.Fatalf("%d outlets under the design rain, %d in the summary", len(rows), len(s.Outlets))
	}
	for i, o := range s.Outlets {
		if got := rows[i].Cells[0].Text; got != o.Label {
			t.Errorf("row %d is of %q, want %q", i, got, o.Label)
		}
		near(t, o.Label+": what comes", rows[i].Cells[3].Value*1000, o.Demand)
		if o.Head > 0 && !strings.HasPrefix(rows[i].Cells[4].Text, "takes only") {
			near(t, o.Label+": head", rows[i].Cells[4].Value*1000, o.Head)
		}
	}
	if len(c.Rain.Waters.Rows) == 0 || len(c.Rain.Waters.Rows) != len(s.RainLoad.Waters) {
		t.Fatalf("%d waters, %d in the summary", len(c.Rain.Waters.Rows), len(s.RainLoad.Waters))
	}
	for i, w := range s.RainLoad.Waters {
		near(t, "depth", c.Rain.Waters.Rows[i].Cells[4].Value*1000, w.Depth)
		near(t, "load", c.Rain.Waters.Rows[i].Cells[5].Value/1000, w.Load)
	}
	if len(c.Rain.Sills.Rows) == 0 || len(c.Rain.Sills.Rows) != len(s.Sills) {
		t.Fatalf("%d rows of sills, %d in the summary", len(c.Rain.Sills.Rows), len(s.Sills))
	}
	for i, w := range s.Sills {
		row := c.Rain.Sills.Rows[i].Cells
		if row[0].Text != w.Label || row[2].Text != w.Case {
			t.Errorf("sill %q with %q, want %q with %q", row[0].Text, row[2].Text, w.Label, w.Case)
		}
		near(t, "margin", row[4].Value*1000, w.Margin)
	}
}

func TestStormIsThatOfTheSummary(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	c, s := model.Of(b).Storm, tell(t, b).Storm
	if len(s.Cases) < 3 || len(c.Cases.Rows) != len(s.Cases) {
		t.Fatalf("%d cases, %d in the summary", len(c.Cases.Rows), len(s.Cases))
	}
	flows := map[[2]string][2]float64{}
	for i, k := range s.Cases {
		row := c.Cases.Rows[i].Cells
		if row[0].Text != k.Case {
			t.Errorf("case %q, want %q", row[0].Text, k.Case)
		}
		near(t, k.Case+": depth", row[1].Value*1000, k.Depth)
		near(t, k.Case+": load", row[2].Value/1000, k.Load)
		near(t, k.Case+": left", row[6].Value*1000, k.Left)
		for _, o := range k.Outs {
			flows[[2]string{o.Label, k.Case}] = [2]float64{o.Flow, o.Volume}
		}
	}
	for _, row := range c.Outlets.Rows {
		want, ok := flows[[2]string{row.Cells[0].Text, row.Cells[2].Text}]
		if !ok {
			t.Errorf("the summary has no %q with %q", row.Cells[0].Text, row.Cells[2].Text)
		}
		near(t, "flow", row.Cells[3].Value*1000, want[0])
		near(t, "volume", row.Cells[6].Value*1000, want[1])
	}
	if !strings.Contains(c.Facts[0].Texts[0], "75 mm in 1 h") {
		t.Errorf("the rain is %q", c.Facts[0].Texts)
	}
	if len(c.Flows) == 0 || c.Flows[0].Draw(184).Title == "" {
		t.Error("no chart of a flow, or none that says what it shows")
	}
}

// A roof under no rain has no storm and no table of what comes.
func TestWithoutRain(t *testing.T) {
	c := model.Of(record.NewBook(sample.Study(sample.Local()), "", record.SI))
	if c.Storm != nil || len(c.Rain.Outlets.Rows)+len(c.Rain.Volumes) > 0 {
		t.Errorf("%+v", c.Rain)
	}
}

// Sources stand under the table once a method, marked as read or from memory.
func TestMethodsNameTheirSources(t *testing.T) {
	c := model.Of(record.NewBook(sample.Storm(sample.Local()), "", record.SI))
	seen := map[string]bool{}
	marked := 0
	for _, n := range c.Rain.Outlets.Notes {
		if seen[n] {
			t.Errorf("twice: %s", n)
		}
		seen[n] = true
		if strings.HasSuffix(n, "(read).") || strings.HasSuffix(n, "(from memory).") {
			marked++
		}
	}
	if marked < 2 {
		t.Errorf("%d sources marked in %q", marked, c.Rain.Outlets.Notes)
	}
}

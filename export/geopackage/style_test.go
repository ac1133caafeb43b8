package geopackage_test

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/geometry/reference"
)

// styled are the two styles of a table.
type styled struct {
	Table string `json:"f_table_name"`
	SLD   string `json:"styleSLD"`
	QML   string `json:"styleQML"`
	Taken bool   `json:"useAsDefault"`
}

// styles reads the table of styles as a general program does.
func styles(t *testing.T, path string) map[string]styled {
	t.Helper()
	var doc struct{ Features []struct{ Properties styled } }
	if err := json.Unmarshal(reference.Run(t, "gdal-bin", nil, "ogr2ogr", "-f", "GeoJSON", "/vsistdout/", path, "layer_styles"), &doc); err != nil {
		t.Fatal(err)
	}
	out := map[string]styled{}
	for _, f := range doc.Features {
		out[f.Properties.Table] = f.Properties
	}
	return out
}

func wellFormed(text string) error {
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// Every table has a style that is well-formed; where styles differ each feature is picked by a rule.
func TestStyles(t *testing.T) {
	path := file(t, books()["metres"])
	all := styles(t, path)
	for _, table := range tables(t, path) {
		s := all[table]
		if err := errors.Join(wellFormed(s.SLD), wellFormed(s.QML)); err != nil {
			t.Errorf("%s: %v", table, err)
		}
		if !s.Taken || !strings.Contains(s.SLD, "Symbolizer>") {
			t.Errorf("%s has no style that is taken by default", table)
		}
	}
	sld := all["finding"].SLD
	if n := strings.Count(sld, "<se:Rule>"); n < 2 || n != strings.Count(sld, "<ogc:Filter>") {
		t.Errorf("%d rules for findings: %s", n, sld)
	}
}

// qml is what is read back of a QGIS style.
type qml struct {
	Labels   int `xml:"labelsEnabled,attr"`
	Renderer struct {
		Type  string `xml:"type,attr"`
		Rules []struct {
			Symbol int    `xml:"symbol,attr"`
			Filter string `xml:"filter,attr"`
			Label  string `xml:"label,attr"`
		} `xml:"rules>rule"`
		Symbols []struct {
			Name  int    `xml:"name,attr"`
			Type  string `xml:"type,attr"`
			Layer struct {
				Class string `xml:"class,attr"`
				Props []struct {
					Key   string `xml:"k,attr"`
					Value string `xml:"v,attr"`
				} `xml:"prop"`
			} `xml:"layer"`
		} `xml:"symbols>symbol"`
	} `xml:"renderer-v2"`
	Text struct {
		Field      string `xml:"fieldName,attr"`
		Expression int    `xml:"isExpression,attr"`
	} `xml:"labeling>settings>text-style"`
}

// The rules of a QGIS style are SQL that the tables themselves answer: every feature is drawn by one rule and no more, whose symbol there
// is and suits the shape, and labels are of columns that there are.
func TestRulesDrawEveryFeatureOnce(t *testing.T) {
	for name, b := range books() {
		path := file(t, b)
		all := styles(t, path)
		ruled := map[string]bool{}
		var asks, want []string
		for i, table := range tables(t, path) {
			var q qml
			if err := xml.Unmarshal([]byte(all[table].QML), &q); err != nil {
				t.Errorf("%s %s: %v", name, table, err)
				continue
			}
			ask := fmt.Sprintf("SELECT %d AS i, '%s' AS said, COUNT(*) - SUM(rules = 1) AS wrong, COUNT(label) > 0 AS labels FROM (SELECT ", i, table)
			for k, r := range q.Renderer.Rules {
				if r.Symbol >= len(q.Renderer.Symbols) {
					t.Errorf("%s %s: rule %d has no symbol", name, table, k)
				}
				if r.Filter != "" {
					ask += "(" + r.Filter + ") + "
				} else {
					ask += "1 + "
				}
			}
			if len(q.Renderer.Rules) == 0 {
				ask += "1 + "
			}
			label := "'x'"
			if q.Labels == 1 {
				if label = q.Text.Field; q.Text.Expression == 0 {
					label = `"` + label + `"`
				}
			}
			asks = append(asks, ask+"0 AS rules, "+label+` AS label FROM "`+table+`")`)
			want = append(want, table+" 0 1")
			ruled[table] = len(q.Renderer.Rules) > 0
			for _, s := range q.Renderer.Symbols {
				class := map[string]string{"marker": "SimpleMarker", "line": "SimpleLine", "fill": "SimpleFill"}[s.Type]
				if s.Layer.Class != class || len(s.Layer.Props) < 5 {
					t.Errorf("%s %s: symbol %s of %s with %d properties", name, table, s.Type, s.Layer.Class, len(s.Layer.Props))
				}
			}
		}
		out := string(reference.Run(t, "gdal-bin", nil, "ogrinfo", "-q", path, "-sql", strings.Join(asks, " UNION ALL ")+" ORDER BY i"))
		var got []string
		for _, m := range regexp.MustCompile(`said \(String\) = (.*)\n\s+wrong \(Integer\) = (.*)\n\s+labels \(Integer\) = (.*)\n`).FindAllStringSubmatch(out, -1) {
			got = append(got, strings.Join(m[1:], " "))
		}
		if len(want) == 0 || !slices.Equal(got, want) {
			t.Errorf("%s: table, features without one rule, and whether any has a label: %q, want %q\n%s", name, got, want, out)
		}
		if !ruled["finding"] || !ruled["outlet"] || !ruled["pond"] || ruled["outline"] {
			t.Errorf("%s: rules %v", name, ruled)
		}
	}
}

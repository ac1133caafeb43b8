package text_test

import (
	"bytes"
	"strings"
	"testing"

	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/text"
)

// The parts are the page's own words: each of them stands on the page, and the words come in its order.
func TestPartsAreThePage(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	var page bytes.Buffer
	if err := text.Write(&page, b); err != nil {
		t.Fatal(err)
	}
	whole := strings.Join(strings.Fields(page.String()), " ")
	order := ""
	for _, p := range text.First(b) {
		if !strings.Contains(whole, strings.Join(strings.Fields(p.Text), " ")) {
			t.Errorf("%q is not on the page", p.Text)
		}
		if p.Word != "" {
			order += p.Word + " "
		}
	}
	if order != "PONDS HELD BY NEXT MEND SLOPE IN SURVEY LIMIT " {
		t.Errorf("order %q", order)
	}
	if all := text.Assumptions(b); len(all) < 3 {
		t.Errorf("%d assumptions", len(all))
	}
	if not := text.NotMeasured(b); len(not) != 1 || !strings.Contains(not[0], "rain") {
		t.Errorf("not measured: %q", not) // the sample has a core, a stain, edges and inverts
	}
}

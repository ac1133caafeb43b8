package report

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
)

// Browsers break lines behind hyphens and at blanks: 2-1/8" would end a line with "2-" and begin the next with 1/8", 14' 6" with 6".
func TestMixedMeasuresStayOnOneLine(t *testing.T) {
	for text, want := range map[string]string{
		`P01 is 2-1/8" deep, <b>`: `P01 is <span class="whole">2-1/8&#34;</span> deep, &lt;b&gt;`,
		`4' 11", 14' 6-1/2" on`:   `<span class="whole">4&#39; 11&#34;</span>, <span class="whole">14&#39; 6-1/2&#34;</span> on`,
		`RD-1, 1/8", 7-16, 2"`:    `RD-1, 1/8&#34;, 7-16, 2&#34;`,
	} {
		if got := string(whole(text)); got != want {
			t.Errorf("%s: %s", text, got)
		}
	}
	var page bytes.Buffer
	if err := Write(&page, model.Of(record.NewBook(sample.Study(sample.Local()), "", record.US))); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(page.String(), ".whole{white-space:nowrap}") {
		t.Error("the style does not say what whole is")
	}
	n := 0
	for _, m := range regexp.MustCompile(`<bdi>(.*?)</bdi>`).FindAllStringSubmatch(page.String(), -1) {
		n += strings.Count(m[1], `"whole"`)
		if rest := regexp.MustCompile(`<span class="whole">.*?</span>`).ReplaceAllString(m[1], ""); regexp.MustCompile(`\d-\d+/\d|\d&#39; \d`).MatchString(rest) {
			t.Errorf("may break: %s", m[1])
		}
	}
	if n == 0 {
		t.Error("no mixed measure on the page")
	}
}

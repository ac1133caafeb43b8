package report_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/report"
	"runnel/export/sample"
)

// attack is what a name may hold: ends of scripts and comments, markup, a formula, marks of direction.
const attack = "</script><script>window.pwned=1</script><!-- \"><img src=x onerror=window.pwned=1> =cmd() '&amp; \u202eabc\u2066 \u2028 {{.}} ]]>"

// hostile is the sample with such names everywhere, and one of 10,000 letters.
func hostile() *roof.Roof {
	r := sample.Local()
	r.Name, r.Building, r.Surveyed = attack, attack+strings.Repeat("W", 10000), attack
	r.Inputs[0].Path = attack
	r.Warnings = []string{attack}
	for i := range r.Outlets {
		r.Outlets[i].Label = attack
	}
	r.Curbs[0].Label, r.Stains[0].Note, r.Stains[0].Photo, r.Cores[0].Deck = attack, attack, attack, attack
	r.Cores[0].ID, r.Cores[0].Layers[0].Material, r.Cores[0].Layers[1].Material, r.Cores[0].Layers[1].Condition = attack, attack, attack, attack
	r.Spots[3].ID = attack
	text, err := json.Marshal(attack)
	if err != nil {
		panic(err)
	}
	r.Curbs[0].Properties = json.RawMessage(`{` + string(text) + `:` + string(text) + `}`)
	return r
}

func write(tb testing.TB, b *record.Book) string {
	tb.Helper()
	var page bytes.Buffer
	if err := report.Write(&page, model.Of(b)); err != nil {
		tb.Fatal(err)
	}
	return page.String()
}

// A page with hostile names has no kind of element that the same page with plain ones lacks, and as many scripts. (The
// plan breaks long names over more lines of text.)
func TestHostileNamesAddNoElement(t *testing.T) {
	tags := func(page string) string {
		all := regexp.MustCompile(`<(?:/?[a-z]|!)[a-z0-9-]*`).FindAllString(page, -1)
		slices.Sort(all)
		return strings.Join(slices.Compact(all), " ") + strings.Repeat(" script", strings.Count(page, "<script"))
	}
	plain := sample.Local()
	plain.Surveyed = "today"
	plain.Building = "b"
	got, want := tags(write(t, book(hostile(), record.SI))), tags(write(t, book(plain, record.SI)))
	if got != want {
		t.Error("the elements differ")
	}
}

func TestThePageNamesNoAddress(t *testing.T) {
	page := write(t, book(sample.Local(), record.SI))
	for _, m := range regexp.MustCompile(`(?i)(?:src|href|action|url)\s*[=(]\s*["']?[a-z]*:?//[^"') ]*`).FindAllString(page, -1) {
		if !strings.Contains(m, "leafletjs.com") { // in the library's own credit line, which the map leaves out
			t.Errorf("address %q", m)
		}
	}
	if !strings.Contains(page, "default-src 'none'") || strings.Contains(page, "unsafe-inline") {
		t.Error("the policy is not strict")
	}
	if strings.Contains(page, " style=\"") {
		t.Error("an inline style")
	}
}

func TestTheFirstScreenIsThePages(t *testing.T) {
	b := book(sample.Local(), record.SI)
	page := write(t, b)
	at := 0
	for i, p := range model.Of(b).First {
		word := "<dt>" + p.Word + "</dt>"
		if i == 0 { // before the picture of the roof
			word = `<span class="word">` + p.Word + "</span>"
		}
		k := strings.Index(page[at:], word)
		if k < 0 {
			t.Fatalf("%s is missing or out of order", p.Word)
		}
		at += k
	}
	for _, p := range model.Of(b).First {
		for _, text := range append(slices.Clone(p.Steps), p.Texts...) {
			if n := strings.Count(page[:at+2000], "<bdi>"+html.EscapeString(text)+"</bdi>"); n != 1 && !strings.ContainsAny(text, `"'&<>`) {
				t.Errorf("%q stands %d times in the answer", text, n)
			}
		}
	}
	if first := strings.Index(page, `id="map-section"`); at > first {
		t.Error("the map stands before the answer")
	}
}

func TestSameBytes(t *testing.T) {
	first, second := write(t, book(sample.Feet(), record.US)), write(t, book(sample.Feet(), record.US))
	if first != second {
		t.Error("two runs differ")
	}
}

func TestEveryFrame(t *testing.T) {
	for _, r := range []*roof.Roof{sample.Local(), sample.Feet(), sample.Geographic()} {
		page := write(t, book(r, record.US))
		for _, id := range []string{"features", "surface"} {
			_, rest, _ := strings.Cut(page, `id="`+id+`">`)
			data, _, _ := strings.Cut(rest, "</script>")
			if !json.Valid([]byte(data)) {
				t.Errorf("%s is not JSON", id)
			}
		}
	}
}

// The vendored files are those whose checksums stand beside them.
func TestAssetsAreWhole(t *testing.T) {
	sums, err := os.ReadFile("asset/SHA256SUMS")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(sums)), "\n")
	if len(lines) != 6 {
		t.Errorf("%d files", len(lines))
	}
	for _, line := range lines {
		want, name, _ := strings.Cut(line, "  ")
		data, err := os.ReadFile("asset/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%x", sha256.Sum256(data)); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	roof := book(sample.Local(), record.SI)
	for b.Loop() {
		write(b, roof)
	}
}

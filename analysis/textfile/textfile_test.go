package textfile_test

import (
	"strings"
	"testing"
	"unicode/utf16"

	"runnel/analysis/soak"
	"runnel/analysis/textfile"
)

// The first bytes of each kind: PKWARE APPNOTE 4.3.7, ISO 32000-1 7.5.2, PNG (ISO/IEC 15948) 5.2, RFC 1952 2.3.1,
// ITU-T T.81 B.1.1.3, the SQLite database file format 1.3; the Unicode standard 23.8 for UTF-16.
func TestNotText(t *testing.T) {
	wide := func(mark string, low bool) string {
		b := []byte(mark)
		for _, u := range utf16.Encode([]rune("point,x,y,z\n1,2,3,4\n")) {
			if low {
				b = append(b, byte(u), byte(u>>8))
			} else {
				b = append(b, byte(u>>8), byte(u))
			}
		}
		return string(b)
	}
	for text, want := range map[string]string{
		"PK\x03\x04\x14\x00":               "a workbook or an archive (zip)",
		"%PDF-1.7\n":                       "a PDF",
		"\x89PNG\r\n\x1a\n\x00":            "a picture (PNG)",
		"\xff\xd8\xff\xe0":                 "a picture (JPEG)",
		"\x1f\x8b\x08\x00":                 "packed with gzip",
		"SQLite format 3\x00":              "a database",
		"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1": "of an old kind",
		wide("\xff\xfe", true):             "text in UTF-16",
		wide("\xfe\xff", false):            "text in UTF-16",
		wide("", true):                     "text in UTF-16",
		wide("", false):                    "text in UTF-16",
		"x,y\x00z":                         "not text",
		"point,x,y,z\n1,2,3,4\n":           "",
		"P,K\n":                            "",
		"":                                 "",
		"gr\xfcn,x,y\n":                    "",
	} {
		rule, mend := textfile.NotText([]byte(text))
		if want == "" && rule != "" || !strings.Contains(rule, want) || (rule == "") != (mend == "") {
			t.Errorf("%.12q: %q, %q; want %q", text, rule, mend, want)
		}
	}
}

// Places counted by hand.
func TestJSONFault(t *testing.T) {
	for text, want := range map[string]string{
		`{"a":1}`:                   "",
		"{\"a\":1,\n\n\"b\":}":      "line 3, column 5: this is not JSON",
		"{\"ä€\": x}":               "line 1, column 8: ",
		"[1,\n  NaN]":               "line 2, column 3: NaN is not a number",
		"[1,\n 2\n\n":               "the file is cut off: the JSON does not end; its last sign is on line 2, column 2",
		"{\n\t\"a\": 1,\n\t}":       "line 3, column 2: ",
		"password=correct horse\nx": "line 1, column 1: ",
		strings.Repeat("[", 200000): "this is not JSON",
	} {
		err := textfile.JSONFault([]byte(text))
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%.30q: %v, want %q", text, err, want)
		}
		if err != nil && (strings.Contains(err.Error(), "horse") || len(err.Error()) > 200) {
			t.Errorf("%.30q is quoted: %v", text, err)
		}
	}
}

func TestMembers(t *testing.T) {
	const shape = "a JSON object of names and texts"
	members, err := textfile.Members([]byte("\ufeff{\"b\": \"1 in\",\n \"a\": 2.50,\n\"c\": null, \"d\": [1]}\n"), shape)
	if err != nil || len(members) != 4 {
		t.Fatal(members, err)
	}
	for i, want := range []struct {
		name string
		line int
		text string
		ok   bool
	}{{"b", 1, "1 in", true}, {"a", 2, "2.50", true}, {"c", 3, "", false}, {"d", 3, "", false}} {
		if text, ok := members[i].Text(); members[i].Name != want.name || members[i].Line != want.line || text != want.text || ok != want.ok {
			t.Errorf("member %d: %+v, %q, %v", i, members[i], text, ok)
		}
	}
	for text, want := range map[string]string{
		"{\"a\":1,\n\"b\":2,\n\"a\":3}": `line 3: "a" stands already on line 1`,
		"{\"a\":1} {}":                  "line 1: something follows the object",
		"[]":                            shape,
		"":                              "the file is empty",
		"{\"a\":\n!}":                   "line 2, column 1: this is not JSON",
		"{\"a\":1":                      "the file is cut off",
		"{\"a\":1,}":                    "line 1, column 8",
		"root:x:0:0:secret words\n":     shape,
		"PK\x03\x04":                    "a workbook or an archive (zip)",
		"{\"\xff\":1}":                  "not in UTF-8",
		`{"` + strings.Repeat("s", 500) + `":1,"` + strings.Repeat("s", 500) + `":2}`: "stands already",
	} {
		_, err := textfile.Members([]byte(text), shape)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.30q: %v, want %q", text, err, want)
			continue
		}
		if strings.Contains(err.Error(), "secret") || len(err.Error()) > 250 {
			t.Errorf("%.30q is quoted: %v", text, err)
		}
	}
}

func members() *soak.Target {
	g := soak.New("FuzzMembers", `"a":`, `1e5`, `"1/2 in"`, `{"a":1}`)
	g.Add([]byte(`{"pond_depth": "1/2 in", "a": 1e5}`))
	g.Add([]byte("{\"a\":1,\n\"a\":2}"))
	g.Property = func(t *testing.T, data []byte) {
		t.Helper()
		members, err := textfile.Members(data, "an object")
		if err != nil {
			if members != nil || len(err.Error()) > 400 {
				t.Fatalf("%d members, %v", len(members), err)
			}
			return
		}
		seen := map[string]bool{}
		for i := range members {
			if seen[members[i].Name] || members[i].Line < 1 {
				t.Fatalf("%+v", members)
			}
			seen[members[i].Name] = true
			_, _ = members[i].Text()
		}
	}
	return g
}

func FuzzMembers(f *testing.F) { members().Fuzz(f) }

func TestSoakMembers(t *testing.T) { members().Soak(t) }

// A message quotes what a reader recognises: 60 characters, not bytes, and three dots where there was more.
func TestClip(t *testing.T) {
	for _, c := range []struct {
		text string
		most int
		want string
	}{
		{"", 3, ""},
		{"gully", 5, "gully"},
		{"gully", 4, "gull..."},
		{"Dächer", 6, "Dächer"},
		{"Dächer", 3, "Däc..."},
	} {
		if got := textfile.Clip(c.text, c.most); got != c.want {
			t.Errorf("Clip(%q, %d) = %q, want %q", c.text, c.most, got, c.want)
		}
	}
}

package command

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"runnel/cmd/call"
)

// papersOf writes the papers of a roof of the demo and returns what each says, by its name, and their pages.
func papersOf(t *testing.T, name string) (said map[string]string, pages map[string]string) {
	t.Helper()
	base := t.TempDir()
	var out bytes.Buffer
	if code := Main([]string{"demo", filepath.Join(base, "demo")}, call.Streams{Out: &out, Err: &out}); code != call.ExitDone {
		t.Fatal(out.String())
	}
	files := []string{filepath.Join(base, "demo", name+".geojson")}
	if csv := filepath.Join(base, "demo", name+".csv"); exists(csv) {
		files = append(files, csv)
	}
	dir := filepath.Join(base, "papers")
	if code := Main(append([]string{"papers", "-o", dir}, files...), call.Streams{Out: &out, Err: &out}); code != call.ExitDone {
		t.Fatal(out.String())
	}
	return papersIn(t, dir, name)
}

// needsPdftotext skips a test where nothing reads papers.
func needsPdftotext(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("RUNNEL_REFERENCES") == "1" {
			t.Fatalf("Debian package poppler-utils: %v", err)
		}
		t.Skipf("needs Debian package poppler-utils: %v", err)
	}
}

// pageText returns what a PDF says, as one line.
func pageText(t *testing.T, path string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), "pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}

// papersIn returns what each paper of a folder says, by its name without the roof's, and the pages of each.
func papersIn(t *testing.T, dir, name string) (said map[string]string, pages map[string]string) {
	t.Helper()
	said, pages = map[string]string{}, map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		path, short := filepath.Join(dir, e.Name()), strings.TrimPrefix(e.Name(), name+".")
		if filepath.Ext(path) != ".pdf" {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			said[short] = string(text)
			continue
		}
		text, err := exec.CommandContext(t.Context(), "pdftotext", "-layout", path, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		said[short] = strings.Join(strings.Fields(string(text)), " ")
		info, err := exec.CommandContext(t.Context(), "pdfinfo", path).Output()
		if err != nil {
			t.Fatal(err)
		}
		pages[short] = regexp.MustCompile(`Pages:\s+(\d+)`).FindStringSubmatch(string(info))[1]
	}
	return said, pages
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func names(said map[string]string) []string {
	var out []string
	for name := range said {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Who gets a paper, and what has to stand on it: a depot whose scupper stands high, which is a roofer's; a library whose drain does; a hall whose deck hangs in dishes, where nobody is let on, nothing is
// bid on and waiting is not offered; a terrace with walls all round and no overflow, where the engineer is asked before anything is built.
func TestPapers(t *testing.T) {
	needsPdftotext(t)
	for name, c := range map[string]struct {
		papers []string
		says   map[string][]string
		never  map[string][]string
	}{
		"depot": {
			[]string{"bids.csv", "engineer.pdf", "letter.pdf", "scope.pdf", "warrantor.pdf"},
			map[string][]string{
				"letter.pdf":    {"1 pond", "What waiting costs", "warranty", "Please go ahead with answer"},
				"engineer.pdf":  {"How much water may this roof hold, as a load?", "Answer, a load", "5.0 psf"},
				"scope.pdf":     {"SC-1", "Unit price", "watertight the same day", "48 hours after rain"},
				"warrantor.pdf": {"Nothing is cut before your answer", "Does the warranty stay in force", "set the outlet down; opens 16 sq ft at SC-1", "without that name nobody cuts"},
				"energy.pdf":    {"Which must it have, averaged over the roof, after a mend of this size", "such as R-25 or 4.4 m2K/W"},
				"bids.csv":      {"item,what,amount,allow,bid A,bid B,bid C", "Unit price: core cut and patched"},
			},
			nil,
		},
		"library": {
			[]string{"plumber.pdf"},
			map[string][]string{"plumber.pdf": {"Can RD-1 be set down", "Answer, yes or no"}},
			nil,
		},
		"hall": {
			[]string{"engineer.pdf", "letter.pdf"},
			map[string][]string{
				"letter.pdf":   {"Keep off, and call a structural engineer today", "Waiting is not offered"},
				"engineer.pdf": {"Keep off", "bent down like a dish", "Q2. Is the deck sound at P01", "Answer, yes or no:"},
			},
			map[string][]string{"letter.pdf": {"Please go ahead"}},
		},
		"terrace": {
			[]string{"engineer.pdf", "letter.pdf"},
			map[string][]string{
				"engineer.pdf": {"no overflow", "Until these are answered, nothing is built."},
				"letter.pdf":   {"Waiting is not offered"},
			},
			map[string][]string{"letter.pdf": {"Please go ahead"}, "engineer.pdf": {"at least 0 mm"}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			said, pages := papersOf(t, name)
			for _, want := range c.papers {
				if said[want] == "" {
					t.Errorf("no %s among %v", want, names(said))
				}
			}
			if name == "depot" && said["plumber.pdf"] != "" {
				t.Errorf("the floor of a scupper is no plumber's:\n%s", said["plumber.pdf"])
			}
			for paper, n := range pages {
				if n != "1" {
					t.Errorf("%s has %s pages", paper, n)
				}
				if strings.Contains(said[paper], "…") {
					t.Errorf("a line of %s is cut short: %s", paper, said[paper])
				}
				if !strings.Contains(said[paper], "Engineers decide what the roof carries") {
					t.Errorf("%s has no caution at its foot", paper)
				}
			}
			for paper, words := range c.says {
				for _, want := range words {
					if !strings.Contains(said[paper], want) {
						t.Errorf("%s lacks %q:\n%s", paper, want, said[paper])
					}
				}
			}
			for paper, words := range c.never {
				for _, no := range words {
					if strings.Contains(said[paper], no) {
						t.Errorf("%s says %q", paper, no)
					}
				}
			}
			if c.papers[0] == "engineer.pdf" && (said["scope.pdf"] != "" || said["bids.csv"] != "") {
				t.Error("bids are asked for before the engineer has answered")
			}
			if regexp.MustCompile(`(?i)\bcertif|\bcompliant|is safe|\badequate`).MatchString(strings.Join(slices.Collect(maps.Values(said)), " ")) {
				t.Error("a paper certifies")
			}
		})
	}
}

func TestPapersWrongly(t *testing.T) {
	var said bytes.Buffer
	if code := Main([]string{"papers", "nothing.geojson"}, call.Streams{Out: &said, Err: &said}); code != call.ExitUsage || !strings.Contains(said.String(), "-o FOLDER") {
		t.Errorf("%d %s", code, said.String())
	}
}

const tapedShed = `place;rod;depth;code
;;;OUTLINE rect=120x60ft edge=wall name="Tool shed"
40' from W wall, 30' from S wall;;;DRAIN RD-1 d=4in
120' from W wall, 20' from S wall;;;OVERFLOW OS-1 w=8in
50' from W wall, 30' from S wall;;%s;POND 1 size=12x6ft
;;;VISIT surveyed=2026-03-14 surveyed_by="A. Person" weather="dry, 45 F" hours_since_rain=50 age_years=15 coverings=2 warrantor="Maker and Co" cuts_authorised_by="B. Owner"
`

const tapedRods = `RD-1;4' 3";;INLET RD-1
1 ft from RD-1 toward P1;4' 3-1/2";;BEFORE RD-1
2 ft from RD-1 toward P1;4' 3-3/4";;BEFORE RD-1
4 ft from RD-1 toward P1;4' 4";;BEFORE RD-1
50' from W wall, 30' from S wall;4' 4-1/4";;LOW 1
`

// Of a tape's numbers the papers say what is known, with the range of the weight. By hand, an ellipse 12 by 6 ft 0.75 in deep where it was sounded: 56.5 sq ft;
// 62.4 lb/cu ft x 0.0625 ft = 3.9 psf; a flat pan 3.9 x 56.5 = 221 lb, a cone a third of it, 74 lb, a paraboloid half, 110 lb. Over 2 in: keep off, and no waiting.
func TestPapersByTape(t *testing.T) {
	needsPdftotext(t)
	for name, c := range map[string]struct {
		survey string
		says   map[string][]string
		never  map[string][]string
	}{
		"tier A": {
			fmt.Sprintf(tapedShed, "0.75in"),
			map[string][]string{
				"letter.pdf": {
					"Seen 2026-03-14 by A. Person, 50 hours after rain. Weather: dry, 45 F.", "57 sq ft", "74 lb to 221 lb of water, likely about 110 lb", "3.9 psf", "Not known.",
					"read that of Maker and Co", "15 years old, and 2 coverings", "Who may authorise a cut: B. Owner", "Where has it leaked, and when?", "Please take the readings",
				},
				"engineer.pdf":  {"Use the upper figure", "221 lb 110 lb 74 lb", "Q1. How much water may this roof hold, as a load?", "2 coverings lie on each other"},
				"readings.pdf":  {"1 ft from RD-1 toward P1", "the inlet of the overflow OS-1"},
				"nextspots.csv": {"INLET RD-1"},
			},
			map[string][]string{"letter.pdf": {"How old is the roof", "Keep off,", "Please go ahead"}},
		},
		"tier B": {
			fmt.Sprintf(tapedShed, "0.75in") + tapedRods,
			map[string][]string{"letter.pdf": {"The outlet is set high", "Likely:"}, "engineer.pdf": {"Tier B"}},
			map[string][]string{"letter.pdf": {"Not known. No height"}},
		},
		"deep": {
			fmt.Sprintf(tapedShed, "2.5in"),
			map[string][]string{
				"letter.pdf":   {"Keep off, and call a structural engineer today", "Waiting is not offered"},
				"engineer.pdf": {"Until these are answered, nothing is built.", "Q1. May people go onto the roof"},
			},
			map[string][]string{"letter.pdf": {"Please take the readings", "Standing water carries dirt"}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "shed.csv")
			if err := os.WriteFile(path, []byte(c.survey), 0o600); err != nil {
				t.Fatal(err)
			}
			runs(t, call.ExitDone, "papers", path, "-o", filepath.Join(dir, "out"))
			said, pages := papersIn(t, filepath.Join(dir, "out"), "tool-shed")
			for paper, words := range c.says {
				for _, want := range words {
					if !strings.Contains(said[paper], want) {
						t.Errorf("%s lacks %q:\n%s", paper, want, said[paper])
					}
				}
			}
			for paper, words := range c.never {
				for _, no := range words {
					if strings.Contains(said[paper], no) {
						t.Errorf("%s says %q", paper, no)
					}
				}
			}
			for paper, n := range pages {
				if n != "1" && paper != "readings.pdf" { // a grid of spots takes what it takes
					t.Errorf("%s has %s pages", paper, n)
				}
			}
		})
	}
}

// What the visit noted stands where it matters, and is not asked again.
func TestPapersOfAVisit(t *testing.T) {
	needsPdftotext(t)
	files := demoFiles(t, "depot")
	visit := filepath.Join(filepath.Dir(files[0]), "visit.csv")
	if err := os.WriteFile(visit, []byte(`point;northing;easting;elevation;code
v;;;;VISIT surveyed=2026-03-14 surveyed_by="A. Person" weather="showers" hours_since_rain=20 age_years=15 coverings=2 leaks="over bay 3" warrantor="Maker and Co" warranty_until=2031 access="ladder, east" cuts_authorised_by="B. Owner"
`), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(filepath.Dir(files[0]), "out")
	runs(t, call.ExitDone, append([]string{"papers", "-o", out, visit}, files...)...)
	said, _ := papersIn(t, out, "depot")
	for paper, words := range map[string][]string{
		"letter.pdf": {
			"Seen 2026-03-14 by A. Person, 20 hours after rain. Weather: showers. Water seen so soon after rain may still run off: it counts as a pond if it stands 48 hours after rain.",
			"15 years old, and 2 coverings lie on each other. Leaks: over bay 3. Warranted by Maker and Co. Warranty until 2031. Who may authorise a cut: B. Owner. Access: ladder, east.",
		},
		"engineer.pdf":  {"15 years old, and 2 coverings"},
		"warrantor.pdf": {"To: Maker and Co.", "Each cut is authorised by B. Owner"},
		"scope.pdf":     {"Each cut is authorised by B. Owner"},
	} {
		for _, want := range words {
			if !strings.Contains(said[paper], want) {
				t.Errorf("%s lacks %q:\n%s", paper, want, said[paper])
			}
		}
	}
	for _, no := range []string{"How old is the roof", "Who warrants it", "Who may authorise a cut for", "Where has it leaked", "What we need from you"} {
		if strings.Contains(said["letter.pdf"], no) {
			t.Errorf("the letter asks %q again", no)
		}
	}
}

// The history beside the roof's file becomes a paper: facts in the order of their days, the same pond over the years, no opinion.
func TestPaperOfTheHistory(t *testing.T) {
	needsPdftotext(t)
	path := filepath.Join(t.TempDir(), "shed.csv")
	if err := os.WriteFile(path, []byte(fmt.Sprintf(tapedShed, "0.75in")), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"scupper set down", "--kind", "repaired", "--date", "2025-06-01", "--who", "the roofer"},
		{"water at SC-1", "--kind", "water", "--pond", "P1", "--depth", "1 in", "--hours", "50", "--date", "2024-05-03"},
		{"water at SC-1", "--kind", "water", "--pond", "P1", "--depth", "1/2 in", "--hours", "72", "--date", "2025-08-03"},
	} {
		runs(t, call.ExitDone, append([]string{"log", path}, args...)...)
	}
	out := filepath.Join(filepath.Dir(path), "out")
	runs(t, call.ExitDone, "papers", path, "-o", out)
	said, pages := papersIn(t, out, "tool-shed")
	text := said["history.pdf"]
	for _, want := range []string{
		"Open: on 2025-08-03 water still stood 72 hours after rain, and nobody has seen the roof dry since.", "Pond P1 over the years", "2024-05-03 1\", 50 hours after rain 2025-06-01 repaired: scupper set down 2025-08-03 1/2\", 72 hours after rain",
		"facts only: what a warranty or an insurance covers, they say.", "the roofer",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	if _, table, _ := strings.Cut(text, "What was done and seen"); strings.Index(table, "2024-05-03") > strings.Index(table, "2025-06-01") || pages["history.pdf"] != "1" {
		t.Errorf("%s pages, %s", pages["history.pdf"], table)
	}
}

// The table of bids that papers wrote, filled in and compared: sums by hand, what each leaves out, and no word of whom to take. Filled in it is not written over.
func TestBidsAreCompared(t *testing.T) {
	needsPdftotext(t)
	files := demoFiles(t, "library")
	dir := filepath.Join(t.TempDir(), "papers")
	runs(t, call.ExitDone, append(append([]string{"papers"}, files...), "-o", dir)...)
	path := filepath.Join(dir, "library.bids.csv")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(text)), "\n")
	fill := map[int]string{0: ",Alder,Birch", 1: `,"1,650.50",1800`, 2: ",4200,3950", 3: ",380,", 4: ",950,1100"}
	for i := range rows {
		rows[i] = strings.TrimSuffix(strings.TrimSuffix(rows[i], ",bid A,bid B,bid C"), ",,,")
		if fill[i] == "" {
			fill[i] = ",,"
		}
		rows[i] += fill[i]
	}
	if err := os.WriteFile(path, []byte(strings.Join(rows, "\r\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	_, said := runs(t, call.ExitDone, append(append([]string{"papers"}, files...), "-o", dir, "--overwrite")...)
	if kept, err := os.ReadFile(path); err != nil || !strings.Contains(string(kept), "Alder") || !strings.Contains(said, "library.bids.csv has bids in it and was kept") {
		t.Errorf("filled in and then: %v %s\n%s", err, said, kept)
	}
	other := filepath.Join(t.TempDir(), "compared")
	runs(t, call.ExitDone, append(append([]string{"papers"}, files...), "-o", other, "--bids", path)...)
	papers, pages := papersIn(t, other, "library")
	page := papers["bids.pdf"]
	for _, want := range []string{"2 bids on 10 items", "7,180.50", "6,850", "Birch: no price for item 3, which its sum lacks", "They recommend nobody", "Sums of bids that leave something out do not compare"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in %s", want, page)
		}
	}
	if strings.Contains(page, "another scope") || pages["bids.pdf"] != "1" {
		t.Errorf("%s pages: %s", pages["bids.pdf"], page)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "41.2 m", "50 m", 1)+"x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, said = runs(t, call.ExitRefused, append(append([]string{"papers"}, files...), "-o", other, "--overwrite", "--bids", path)...); !strings.Contains(said, "no bid has a price") {
		t.Errorf("an empty table: %s", said)
	}
}

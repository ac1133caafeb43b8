package command

import (
	"bytes"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// papersOf writes the papers of a roof of the demo and returns what each says, by its name, and their pages.
func papersOf(t *testing.T, name string) (said map[string]string, pages map[string]string) {
	t.Helper()
	base := t.TempDir()
	var out bytes.Buffer
	if code := Main([]string{"demo", filepath.Join(base, "demo")}, Streams{Out: &out, Err: &out}); code != exitDone {
		t.Fatal(out.String())
	}
	files := []string{filepath.Join(base, "demo", name+".geojson")}
	if csv := filepath.Join(base, "demo", name+".csv"); exists(csv) {
		files = append(files, csv)
	}
	dir := filepath.Join(base, "papers")
	if code := Main(append([]string{"papers", "-o", dir}, files...), Streams{Out: &out, Err: &out}); code != exitDone {
		t.Fatal(out.String())
	}
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

// Who gets a paper, and what has to stand on it: a depot whose scupper stands high; a hall whose deck hangs in dishes, where nobody is let on, nothing is
// bid on and waiting is not offered; a terrace with walls all round and no overflow, where the engineer is asked before anything is built.
func TestPapers(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("RUNNEL_REFERENCES") == "1" {
			t.Fatalf("Debian package poppler-utils: %v", err)
		}
		t.Skipf("needs Debian package poppler-utils: %v", err)
	}
	for name, c := range map[string]struct {
		papers []string
		says   map[string][]string
		never  map[string][]string
	}{
		"depot": {
			[]string{"bids.csv", "engineer.pdf", "letter.pdf", "scope.pdf", "warrantor.pdf"},
			map[string][]string{
				"letter.pdf":    {"1 pond", "What waiting costs", "warranty", "Please go ahead with answer"},
				"engineer.pdf":  {"How much water may this roof hold, as a load?", "Answer, a load", "25 sq ft"},
				"scope.pdf":     {"SC-1", "Unit price", "watertight the same day", "48 hours after rain"},
				"warrantor.pdf": {"Nothing is cut before your answer", "Does the warranty stay in force"},
				"bids.csv":      {"item,what,amount,bid A,bid B,bid C", "Unit price: core cut and patched"},
			},
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
			for paper, n := range pages {
				if n != "1" {
					t.Errorf("%s has %s pages", paper, n)
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
	if code := Main([]string{"papers", "nothing.geojson"}, Streams{Out: &said, Err: &said}); code != exitUsage || !strings.Contains(said.String(), "-o FOLDER") {
		t.Errorf("%d %s", code, said.String())
	}
}

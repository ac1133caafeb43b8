package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/analysis/assembly"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding/findingtest"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/cmd/call"
	"runnel/export"
	"runnel/export/layer"
)

func readReadme(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// flagsOf returns the flags that a command has of its own, as they are written.
func flagsOf(root *cobra.Command, path ...string) []string {
	c, _, err := root.Find(path)
	if err != nil {
		panic(err)
	}
	var names []string
	c.InitDefaultHelpFlag()
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Name != "help" {
			names = append(names, "--"+f.Name)
		}
	})
	return names
}

func words[T ~string](all ...T) []string {
	out := make([]string, len(all))
	for i, w := range all {
		out[i] = "`" + string(w) + "`"
	}
	return out
}

// Each page of the reference names all that the program knows of its matter.
func TestReferenceNamesEverything(t *testing.T) {
	root := newRoot(call.Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}})
	var outlets, files, codes []string
	outlet, _, _ := root.Find([]string{"outlet"})
	for _, c := range outlet.Commands() {
		outlets = append(append(outlets, "`"+c.Name()+"`"), flagsOf(root, "outlet", c.Name())...)
	}
	for _, name := range export.Names("<roof>", export.Kinds(), false, roof.Geographic, roof.Local) {
		files = append(files, strings.TrimPrefix(strings.TrimPrefix(name, "<roof>"), ".schedule"))
	}
	for _, code := range []int{call.ExitDone, call.ExitFindings, call.ExitUsage, call.ExitRefused, call.ExitPartial, call.ExitFault, call.ExitInterrupted} {
		codes = append(codes, fmt.Sprintf("| %d |", code))
	}
	checks := flagsOf(root, "check")
	own := func(path ...string) []string {
		return slices.DeleteFunc(flagsOf(root, path...), func(name string) bool { return slices.Contains(checks, name) })
	}
	for page, want := range map[string][]string{
		"flags": checks,
		"files": files,
		"cores": words(assembly.LeastR, assembly.LeastPlusInch, assembly.WithinInch, assembly.AreaU, assembly.AverageThickness, assembly.AverageTable),
		"rain":  append(own("storm"), words("uniform", "alternating", "scs-i", "scs-ia", "scs-ii", "scs-iii")...),
		"mending": append(own("correct"), words(mend.Clear, mend.Dewater, mend.RemoveSource, mend.MoveObstacle, mend.Resecure,
			mend.LowerRise, mend.LowerOutlet, mend.ReplacePatch, mend.RaiseCurb, mend.Cricket, mend.LowerEdge, mend.Fill,
			mend.AddScupper, mend.AddOutlet, mend.Retaper, mend.Overlay, mend.Replace, mend.Structure)...),
		"many":       slices.Concat(own("campus"), own("campus", "compare"), own("log"), own("compare"), own("view"), own("reduce")),
		"machines":   slices.Concat(own("campus", "merge"), flagsOf(root, "worker"), []string{"`merge`", "--shard", "campus --queue", "NATS_USER", "NATS_PASSWORD", "NATS_TOKEN", "NATS_CREDS", "NATS_NKEY", "NATS_CA", "NATS_CERT", "NATS_KEY"}),
		"outlets":    outlets,
		"criteria":   words(standard.Names()...),
		"findings":   append(words(findingtest.Kinds()...), words("urgent", "repair", "note")...),
		"properties": words(layer.All()...),
		"exit-codes": codes,
	} {
		text := referencePage(page)
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s.md does not say %s", page, w)
			}
		}
	}
}

// The tables of findings, criteria and layers name nothing that the program does not know.
func TestReferenceNamesNothingElse(t *testing.T) {
	first := regexp.MustCompile("(?m)^\\| ((?:`[a-z_-]+`(?:, )?)+)")
	known := map[string][]string{
		"findings":   append(words(findingtest.Kinds()...), words("urgent", "repair", "note")...),
		"criteria":   words(standard.Names()...),
		"properties": words(layer.All()...),
	}
	for page, names := range known {
		rows := first.FindAllStringSubmatch(referencePage(page), -1)
		if len(rows) < 3 {
			t.Errorf("%s.md: %d rows", page, len(rows))
		}
		for _, m := range rows {
			for _, name := range strings.Split(strings.TrimSuffix(m[1], ", "), ", ") {
				if !slices.Contains(names, name) {
					t.Errorf("%s.md names %s, which there is not", page, name)
				}
			}
		}
	}
}

// "runnel help codes" prints the page as it stands, and the README leads to every page.
func TestHelpPrintsTheReference(t *testing.T) {
	readme := readReadme(t)
	files, err := filepath.Glob("reference/*.md")
	if err != nil || len(files) != len(referencePages) {
		t.Errorf("%d files, %d pages", len(files), len(referencePages))
	}
	for _, page := range referencePages {
		var out bytes.Buffer
		if code := Main([]string{"help", page}, call.Streams{Out: &out, Err: &out}); code != 0 || strings.TrimSpace(out.String()) != strings.TrimSpace(referencePage(page)) {
			t.Errorf("help %s: exit %d, %d letters of %d", page, code, out.Len(), len(referencePage(page)))
		}
		if !strings.Contains(readme, "(cmd/command/reference/"+page+".md)") {
			t.Errorf("README.md does not lead to %s.md", page)
		}
	}
}

// A README that is longer than 200 lines is not read; and each command stands in it.
func TestReadmeIsShort(t *testing.T) {
	readme := readReadme(t)
	if n := strings.Count(readme, "\n"); n >= 200 {
		t.Errorf("README.md has %d lines", n)
	}
	for _, who := range []string{"roofer", "surveyor", "designer", "engineer", "estimator", "owner"} {
		if !strings.Contains(readme, "| a "+who) && !strings.Contains(readme, "| an "+who) {
			t.Errorf("nothing to start with for the %s", who)
		}
	}
	for _, m := range regexp.MustCompile(`\]\(([a-zA-Z_/.-]+)\)`).FindAllStringSubmatch(readme, -1) {
		if _, err := os.Stat("../../" + m[1]); err != nil {
			t.Errorf("README.md leads to %s, which is not there", m[1])
		}
	}
}

// Every property that the map of an invented roof has is named on the page of properties, but those of its input and the numbers of findings,
// whose names are said as a pattern.
func TestPropertiesAreNamed(t *testing.T) {
	dir := t.TempDir()
	quiet := call.Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}}
	if code := Main([]string{"demo", dir}, quiet); code != 0 {
		t.Fatalf("exit %d", code)
	}
	page, inputs := referencePage("properties"), referencePage("codes")+referencePage("criteria")
	for _, name := range []string{"market", "library", "archive"} {
		args := []string{"check", filepath.Join(dir, name+".geojson"), "-o", filepath.Join(dir, "out"), "--write", "geojson", "--units-out", "si", "--facets", "--rain-primary", "100 mm/h", "--rain-overflow", "150 mm/h"}
		if csv := filepath.Join(dir, name+".csv"); onDisk(csv) {
			args = append(args, csv)
		}
		if code := Main(args, quiet); code != 0 {
			t.Fatalf("%s: exit %d: %s", name, code, quiet.Err)
		}
	}
	maps, _ := filepath.Glob(filepath.Join(dir, "out", "*.geojson"))
	if len(maps) != 3 {
		t.Fatalf("%d maps", len(maps))
	}
	for _, path := range maps {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Features []struct{ Properties map[string]any }
		}
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		for _, f := range doc.Features {
			for key := range f.Properties {
				named := strings.Contains(page, "`"+key+"`") || strings.Contains(inputs, "`"+key+"`")
				if !named && !strings.HasPrefix(key, "measured_") && !strings.HasPrefix(key, "required_") {
					t.Errorf("properties.md does not name %s, which %s has", key, f.Properties["id"])
				}
				if strings.ContainsAny(key, "' \"") {
					t.Errorf("%q is no name", key)
				}
			}
		}
	}
}

func TestManNamesEveryCommand(t *testing.T) {
	var out bytes.Buffer
	if code := Main([]string{"man"}, call.Streams{Out: &out, Err: &out}); code != 0 {
		t.Fatalf("exit %d", code)
	}
	root := newRoot(call.Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}})
	for _, c := range root.Commands() {
		if !c.IsAdditionalHelpTopicCommand() && c.Name() != "help" && !strings.Contains(out.String(), ".SS runnel "+c.Name()) {
			t.Errorf("no %s", c.Name())
		}
	}
	if !strings.Contains(out.String(), `\-\-fail\-on`) || strings.Contains(out.String(), "\n'") {
		t.Error("a flag is missing, or a line begins with a macro's sign")
	}
}

func onDisk(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

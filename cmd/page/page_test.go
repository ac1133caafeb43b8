package main_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/command"
	"runnel/cmd/demo"
)

// What the program that a page fetches first may weigh, compressed [bytes]: a phone on a roof fetches it.
const most = 4_600_000

func TestProgramIsSmall(t *testing.T) {
	info, err := os.Stat(filepath.Join(build(t), "page", "runnel.wasm.gz"))
	if err != nil {
		t.Fatal(err)
	}
	if info.Size() >= most {
		t.Errorf("the program has %d bytes compressed, and %d are allowed", info.Size(), most)
	}
	if info.Size() < most/4 {
		t.Errorf("the program has %d bytes: that is none", info.Size())
	}
}

// The first program imports nothing that writes paper or workbooks, serves, or keeps a database; nor the command line's own library.
func TestProgramImportsLittle(t *testing.T) {
	c := exec.Command("go", "list", "-deps", "-tags", "screen", "./cmd/page")
	c.Dir = "../.."
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	deps := strings.Fields(string(out))
	found := map[string]bool{}
	for _, d := range deps {
		found[d] = true
		for _, not := range []string{"github.com/spf13/", "github.com/xuri/", "github.com/go-pdf/", "modernc.org/", "net/http", "runnel/cmd/command", "runnel/cmd/viewer"} {
			if d == not || strings.HasPrefix(d, not) {
				t.Errorf("the program imports %s", d)
			}
		}
	}
	for _, must := range []string{"runnel/analysis/study", "runnel/export/report", "runnel/importer"} {
		if !found[must] {
			t.Errorf("%s is not among the imports: the list is not that of the program", must)
		}
	}
}

// answer is what the command line says of a roof: the page on stdout and the hashes of its files.
type answer struct {
	text  string
	files map[string]string
}

func byCommand(t *testing.T, names []string, more ...string) answer {
	t.Helper()
	var out, said bytes.Buffer
	args := append(append([]string{"check", "-o", "."}, more...), names...)
	if code := command.Main(args, call.Streams{Out: &out, Err: &said}); code != 0 {
		t.Fatalf("%v: exit %d: %s", args, code, said.String())
	}
	a := answer{out.String(), map[string]string{}}
	for line := range strings.Lines(said.String()) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "wrote "); ok {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			a.files[filepath.Base(name)] = hash(data)
		}
	}
	return a
}

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// inPage loads files into the page under window.given.
func (p *page) give(t *testing.T, files []demo.File) {
	t.Helper()
	eval[int](p, `(window.given = [], 0)`)
	for _, f := range files {
		eval[int](p, `given.push({name: `+quoted(t, f.Name)+`, data: Uint8Array.from(atob(`+quoted(t, f.Bytes)+`), c => c.charCodeAt(0))})`)
	}
}

// hashes is a script's function that gives the hash of each of some files.
const hashes = `const hashes = async files => Object.fromEntries(await Promise.all(files.map(async f => [f.name,
	[...new Uint8Array(await crypto.subtle.digest('SHA-256', f.data))].map(b => b.toString(16).padStart(2, '0')).join('')])));`

// Text, map, summary, plan and report of every demo roof have the same bytes in the browser as from the command line.
func TestSameBytes(t *testing.T) {
	p := shared(t)
	for _, r := range demo.Roofs() {
		t.Run(r.Stem(), func(t *testing.T) {
			t.Chdir(t.TempDir())
			var names []string
			inputs := r.Inputs()
			for i := range inputs {
				f := &inputs[i]
				f.Name = "survey-" + f.Name // as outputs are named for the roof, and take no input's place
				if err := os.WriteFile(f.Name, f.Bytes, 0o600); err != nil {
					t.Fatal(err)
				}
				names = append(names, f.Name)
			}
			want := byCommand(t, names)
			p.give(t, inputs)
			got := eval[map[string]string](p, `(async () => { `+hashes+`
				const a = await runnelPage.check(given, []);
				if (a.error) return {error: a.error};
				const w = await runnelPage.runnel.call('write', ['geojson', 'json', 'plan', 'report']);
				return {...await hashes(w.files), text: a.text, error: w.error};
			})()`)
			if got["error"] != "" {
				t.Fatal(got["error"])
			}
			if got["text"] != want.text {
				t.Error("the text differs")
			}
			n := 0
			for name, sum := range got {
				if name == "text" || name == "error" {
					continue
				}
				n++
				if sum != want.files[name] {
					t.Errorf("%s differs", name)
				}
			}
			if n != 4 {
				t.Errorf("%d files, want a map, a summary, a plan and a report", n)
			}
		})
	}
	p.quiet()
}

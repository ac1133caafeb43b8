package command

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/importer"
)

// demoFiles writes the demo and returns the files of one of its roofs.
func demoFiles(t *testing.T, name string) []string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "demo")
	var out bytes.Buffer
	if code := Main([]string{"demo", dir}, call.Streams{Out: &out, Err: &out}); code != call.ExitDone {
		t.Fatal(out.String())
	}
	files := []string{filepath.Join(dir, name+".geojson")}
	if csv := filepath.Join(dir, name+".csv"); exists(csv) {
		files = append(files, csv)
	}
	return files
}

// runs runs a command and returns what it printed, as one line, and what it said.
func runs(t *testing.T, want int, args ...string) (printed, said string) {
	t.Helper()
	var out, err bytes.Buffer
	if code := Main(args, call.Streams{Out: &out, Err: &err}); code != want {
		t.Fatalf("%v: code %d: %s", args, code, err.String())
	}
	return strings.Join(strings.Fields(out.String()), " "), err.String()
}

func answers(t *testing.T, files []string, said ...string) string {
	t.Helper()
	args := append([]string{"answer"}, files...)
	for _, s := range said {
		args = append(args, "--said", s)
	}
	printed, note := runs(t, call.ExitDone, args...)
	return printed + note
}

// A hall whose deck hangs in three dishes. Only the answer that bears on a dish takes it away as a reason to keep off; a load, a word on people and a no take
// nothing away. Answered questions keep their numbers, with name and day; what was asked beside them is asked on.
func TestAnswerLiftsWhatItBearsOn(t *testing.T) {
	files := demoFiles(t, "hall")
	asked := answers(t, files)
	for _, want := range []string{"Q1 May people go onto the roof", "Q2 Is the deck sound at P01", "Q3 Is the deck sound at P02", "Q4 Is the deck sound at P03", "Q5 How much water may this roof hold"} {
		if !strings.Contains(asked, want) {
			t.Fatalf("no %q in %s", want, asked)
		}
	}
	const by = ", A. Person, PE, 2026-12-02"
	dish := func() string {
		printed, _ := runs(t, call.ExitDone, append([]string{"check"}, files...)...)
		return printed
	}
	answers(t, files, "Q1: two at a time"+by, "q5. 1.4 kPa"+by, "Q3: no"+by)
	if text := dish(); !strings.Contains(text, "dish under P01 and 2 more ponds") {
		t.Errorf("a load, people and a no: %.600s", text)
	}
	if said := answers(t, files, "Q2: yes"+by); !strings.Contains(said, "Q2. Is the deck sound at P01") || !strings.Contains(said, "yes. A. Person, PE, 2026-12-02") {
		t.Errorf("said %s", said)
	}
	if text := dish(); !strings.Contains(text, "dish under P02 and another pond") || !strings.Contains(text, "The deck here is sound, answered A. Person, PE on 2026-12-02.") {
		t.Errorf("P01 is sound: %.600s", text)
	}
	asked = answers(t, files)
	for _, want := range []string{
		"Q1 May people go onto the roof, where, and with what loads? Until you say so, everybody keeps off. (answered: two at a time. A. Person, PE, 2026-12-02)",
		"wall? (answered: yes. A. Person, PE, 2026-12-02) Q3", "(answered: no. A. Person, PE, 2026-12-02) Q4 Is the deck sound at P03", "(answered: 1.4 kPa. A. Person, PE, 2026-12-02)",
	} {
		if !strings.Contains(asked, want) {
			t.Errorf("no %q in %s", want, asked)
		}
	}
	// Looked at again: the later answer holds. With all three sound nothing speaks against going up, and the mend is designed.
	answers(t, files, "Q4: yes"+by, "Q3: yes; A. Person, PE; 2026-12-09")
	if text := dish(); strings.Contains(text, "Keep off, and call a structural engineer today") {
		t.Errorf("all are sound: %.900s", text)
	}
	printed, _ := runs(t, call.ExitDone, append([]string{"correct"}, files...)...)
	if !strings.Contains(printed, "Mend the ponds now: fits what is known, with conditions") {
		t.Errorf("%.900s", printed)
	}
	out := filepath.Join(t.TempDir(), "out")
	runs(t, call.ExitDone, append([]string{"check", "--write", "geojson", "-o", out}, files...)...)
	again, err := importer.Read([]string{filepath.Join(out, "hall.local.geojson")}, importer.Options{})
	if err != nil || len(again.Answers) != 6 || again.Structure.LoadLimit != 1400 || again.Structure.LoadLimitBy != "A. Person, PE" || again.Answers[0].Number != 1 {
		t.Errorf("read back: %v, %+v", err, again.Answers)
	}
}

// A terrace with walls all round and no overflow: no answer meets until the engineer has said what it may hold and where it may be opened; what he allows is built, and nothing urgent is left then.
func TestAnswerToNoOverflow(t *testing.T) {
	files := demoFiles(t, "terrace")
	first := func() string {
		printed, _ := runs(t, call.ExitDone, append([]string{"correct"}, files...)...)
		return printed
	}
	if text := first(); !strings.Contains(text, "how much water may it hold, as a load? An engineer has to answer first") || !strings.Contains(text, "opened for one at the place drawn? An engineer") {
		t.Errorf("%.600s", text)
	}
	answers(t, files, "Q2: no, A. Person, PE, 2026-12-02", "Q1: 1.4 kPa, A. Person, PE, 2026-12-02")
	if text := first(); strings.Contains(text, "how much water may it hold") || !strings.Contains(text, "opened for one at the place drawn? An engineer") {
		t.Errorf("a load and a no: %.600s", text)
	}
	answers(t, files, "Q2: yes, A. Person, PE, 2026-12-03")
	if text := first(); strings.Contains(text, "An engineer has to answer first") || strings.Contains(text, "something urgent is left") ||
		!strings.Contains(text, "Make the overflow that A. Person, PE allowed on 2026-12-03: a drain beside RD-1") || !strings.Contains(text, "BRING THE FAILING SECTIONS TO THE LIMIT") {
		t.Errorf("a load and a yes: %.600s", text)
	}
}

const codedRoof = `point,x,y,elev_ft,code
1,0,0,100.42,OUTLINE edge=wall name=Shed
2,40,0,100.42,OUTLINE
3,40,30,100.42,OUTLINE
4,0,30,100.42,OUTLINE
5,20,15,99.98,DRAIN D-1 d=4in
6,40,15,100.60,OVERFLOW OS-1 w=8in
7,20,16,100.02,SPOT
8,10,15,100.20,SPOT
9,30,15,100.21,`

// The outline is a point file: answers are rows added at its end, in its columns. By hand: 30 psf are 1,436.4 Pa. OS-1 stands 0.62 ft, 7-1/2 in, over the
// drain: 8 in as the engineer allows are no longer too high, and what was asked of it is asked no more.
func TestAnswerToAPointFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shed.csv")
	if err := os.WriteFile(path, []byte(codedRoof), 0o600); err != nil {
		t.Fatal(err)
	}
	asked := answers(t, []string{path})
	if !strings.Contains(asked, "Q1 An overflow stands more than 2\" over its primary outlet: how high may it stand at most?") || !strings.Contains(asked, "Q3 How much water") {
		t.Fatalf("%s", asked)
	}
	for _, wrong := range []string{"yes", "Q7: 30 psf, A, 2026-12-02", "Q3: 30, A, 2026-12-02", "Q3: 30 psf, 2026-12-02", "Q3: 30 psf, A, 2 Dec"} {
		_, said := runs(t, call.ExitUsage, "answer", path, "--said", "Q1: 8 in, A, 2026-12-02", "--said", wrong)
		if !strings.Contains(said, "--said") {
			t.Errorf("%s: %s", wrong, said)
		}
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != codedRoof {
		t.Fatalf("a wrong answer was written: %v %s", err, text)
	}
	answers(t, []string{path}, "Q1: 8 in, A. Person, PE, 2026-12-02", "Q3: 30 psf, A. Person, PE, 2026-12-02")
	text, err := os.ReadFile(path)
	if err != nil || !strings.HasPrefix(string(text), codedRoof+"\n") {
		t.Fatalf("%v %s", err, text)
	}
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(r.Structure.LoadLimit-1436.4078) <= 0.001) || r.Structure.LoadLimitBy != "A. Person, PE" || !(math.Abs(r.Criteria["overflow_height"]-0.2032) <= 1e-9) {
		t.Errorf("%+v %v", r.Structure, r.Criteria)
	}
	if asked = answers(t, []string{path}); !strings.Contains(asked, "answered: 8 in. A. Person, PE, 2026-12-02") || !strings.Contains(asked, "answered: 30 psf. A. Person") {
		t.Errorf("%s", asked)
	}
	if printed, _ := runs(t, call.ExitDone, "check", path); strings.Contains(printed, "overflow-high") {
		t.Errorf("%s", printed)
	}
}

// What others answer goes into the file as the engineer's answers do. A plumber's no keeps the outlet at its level, as --keep-outlet does; a yes takes his question away. A
// yes to the cuts holds for those that were asked about, and for no others.
func TestOthersAnswer(t *testing.T) {
	needsPdftotext(t)
	files := demoFiles(t, "library")
	asked := answers(t, files)
	for _, want := range []string{"PLUMBER Q1 Can RD-1 be set down", "ENERGY Q1 What the roof's thermal resistance", "WARRANTOR Q1 Does the warranty stay in force with these cuts? (not answered; yes or no)", "OWNER Q1 May the roof be cut where the notice to the warrantor says? (not answered; yes or no)"} {
		if !strings.Contains(asked, want) {
			t.Fatalf("no %q in %s", want, asked)
		}
	}
	const by = ", B. Person, 2026-12-03"
	scope := func() string {
		dir := filepath.Join(t.TempDir(), "papers")
		runs(t, call.ExitDone, append(append([]string{"papers"}, files...), "-o", dir)...)
		said, _ := papersIn(t, dir, "library")
		return said["scope.pdf"]
	}
	if said := scope(); !strings.Contains(said, "Set RD-1 down") || !strings.Contains(said, "Nothing is cut before the warrantor has answered.") || !strings.Contains(said, "without that name nobody cuts") {
		t.Fatalf("before any answer: %s", said)
	}
	answers(t, files, "owner Q1: yes"+by, "Warrantor 1: yes"+by, "plumber Q1: yes"+by)
	if said := scope(); !strings.Contains(said, "The cuts are authorised by B. Person, 2026-12-03. The warranty stays in force with these cuts, says B. Person, 2026-12-03.") {
		t.Errorf("after three times yes: %s", said)
	}
	if list := answers(t, files); !strings.Contains(list, "Q1 Can the outlet be set down at RD-1? (answered: yes. B. Person, 2026-12-03)") || strings.Contains(list, "PLUMBER Q1 Can RD-1 be set down") {
		t.Errorf("the plumber's yes: %s", list)
	}
	// A later no: the drain stays, so other cuts are made, of which nobody was asked.
	answers(t, files, "plumber Q1: no, B. Person, 2026-12-04")
	said, list := scope(), answers(t, files)
	if strings.Contains(said, "Set RD-1 down") || strings.Contains(said, "authorised by B. Person") || strings.Contains(said, "stays in force") {
		t.Errorf("after the plumber's no: %s", said)
	}
	if !strings.Contains(list, "What B. Person answered on 2026-12-03 was for other cuts. (not answered; yes or no)") {
		t.Errorf("the cuts are asked anew: %s", list)
	}
	answers(t, files, "owner Q1: no, B. Person, 2026-12-05")
	if said = scope(); said != "" {
		t.Errorf("bids after the owner's no: %s", said)
	}
}

// Who is asked nothing, or by no name that there is, is said.
func TestOthersAnswerWrongly(t *testing.T) {
	files := demoFiles(t, "library")
	for said, want := range map[string]string{
		"mason Q1: yes, B. Person, 2026-12-03":    "nobody is asked by the name of mason",
		"plumber Q9: yes, B. Person, 2026-12-03":  "the plumber is asked no question 9",
		"official Q1: yes, B. Person, 2026-12-03": "the building official is asked no question 1",
		"energy Q1: 25, B. Person, 2026-12-03":    "such as R-25 or 4.4 m2K/W",
		"owner Q1: perhaps, B. Person, 2026-12-3": "has no day",
	} {
		if _, note := runs(t, call.ExitUsage, append(append([]string{"answer"}, files...), "--said", said)...); !strings.Contains(note, want) {
			t.Errorf("%s: %s", said, note)
		}
	}
}

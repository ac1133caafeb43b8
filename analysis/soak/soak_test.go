package soak

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// An input is read as it was written, and as go test -fuzz writes it.
func TestCorpus(t *testing.T) {
	input := []any{"8 \"in\"\n", []byte{0, 255, '\n'}, uint8(200), uint8('\''), uint32(1 << 31), true}
	got, err := readInput(string(writeInput(input)))
	if err != nil || !reflect.DeepEqual(got, input) {
		t.Errorf("%v, %v", got, err)
	}
	got, err = readInput("go test fuzz v1\nbyte('\\x02')\nuint32(70)\nstring(\"4in\")\nbool(false)\n")
	if err != nil || !reflect.DeepEqual(got, []any{uint8(2), uint32(70), "4in", false}) {
		t.Errorf("%v, %v", got, err)
	}
	for _, text := range []string{"", "go test fuzz v1\nint64(3)\n", "go test fuzz v1\nstring(\"a)\n", "go test fuzz v1\nbyte('ab')\nx"} {
		if got, err := readInput(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

// Every kind of change is made: of 200,000 inputs from two seeds some hold what only that change can bring.
func TestMutator(t *testing.T) {
	seeds := [][]any{{[]byte("abc,12\nxyz,345\n"), uint8(1)}, {[]byte("GHIJ;678\n"), uint8(2)}}
	m := newMutator(rand.New(rand.NewPCG(1, 1)), seeds, []string{"RIDGE"})
	signs := map[string]func(b []byte) bool{
		"a span is gone":      func(b []byte) bool { return string(b) == "abc,12\n" },
		"a line is doubled":   func(b []byte) bool { return bytes.Count(b, []byte("xyz,345")) == 2 },
		"lines are exchanged": func(b []byte) bool { return string(b) == "xyz,345\nabc,12\n" },
		"head of one, tail of another": func(b []byte) bool {
			return bytes.HasPrefix(b, []byte("abc,1")) && bytes.HasSuffix(b, []byte("IJ;678\n"))
		},
		"an extreme number":        func(b []byte) bool { return bytes.Contains(b, []byte("abc,1e300\n")) },
		"a word of the target":     func(b []byte) bool { return bytes.Contains(b, []byte("RIDGE")) },
		"a bit":                    func(b []byte) bool { return string(b) == "acc,12\nxyz,345\n" },
		"a byte that is no letter": func(b []byte) bool { return bytes.IndexByte(b, 0xC3) >= 0 },
		"another digit":            func(b []byte) bool { return string(b) == "abc,17\nxyz,345\n" },
	}
	numbers := map[uint8]bool{}
	for range 200000 {
		in := m.next()
		b := in[0].([]byte)
		for name, sign := range signs {
			if sign(b) {
				delete(signs, name)
			}
		}
		numbers[in[1].(uint8)] = true
		if len(b) > 2*largest {
			t.Fatalf("%d bytes", len(b))
		}
	}
	for name := range signs {
		t.Errorf("never: %s", name)
	}
	if len(numbers) < 250 {
		t.Errorf("only %d of 256 numbers", len(numbers))
	}
	if got := string(seeds[0][0].([]byte)) + string(seeds[1][0].([]byte)); got != "abc,12\nxyz,345\nGHIJ;678\n" {
		t.Errorf("the seeds were changed: %q", got)
	}
}

// What fails is written down, in words and as a file that is read again. The failing soak runs in a process of its own.
func TestFailuresAreKept(t *testing.T) {
	for _, how := range []string{"fails", "panics"} {
		if os.Getenv("RUNNEL_SOAK_BROKEN") == how {
			g := New("FuzzBroken")
			g.Add("a1")
			g.Property = func(t *testing.T, text string) {
				t.Helper()
				switch {
				case !strings.Contains(text, "NaN"):
				case how == "fails":
					t.Fatal("a number that is none")
				default:
					panic("a number that is none")
				}
			}
			g.Soak(t)
		}
	}
	if os.Getenv("RUNNEL_SOAK_BROKEN") != "" {
		return
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for _, how := range []string{"fails", "panics"} {
		dir := t.TempDir()
		c := exec.Command(program, "-test.run=^TestFailuresAreKept$") //nolint:gosec // this test
		c.Dir, c.Env = dir, append(os.Environ(), "RUNNEL_SOAK_BROKEN="+how, "RUNNEL_SOAK=100000", "RUNNEL_SOAK_KEEP=")
		quiet := exec.Command(program, "-test.run=^TestFailuresAreKept$") //nolint:gosec // this test
		quiet.Dir, quiet.Env = c.Dir, append(slices.Clone(c.Env), "RUNNEL_SOAK_KEEP=no")
		if said, err := quiet.CombinedOutput(); err == nil || !strings.Contains(string(said), "a number that is none") {
			t.Fatalf("%s: %v\n%s", how, err, said)
		}
		if files, _ := filepath.Glob(filepath.Join(dir, "testdata/fuzz/*/*")); len(files) > 0 {
			t.Errorf("%s: kept %v", how, files)
		}
		said, err := c.CombinedOutput()
		files, _ := filepath.Glob(filepath.Join(dir, "testdata/fuzz/FuzzBroken/soak-*"))
		if err == nil || len(files) != 1 || !strings.Contains(string(said), "a number that is none") || !strings.Contains(string(said), "go test -run 'FuzzBroken/"+filepath.Base(files[0])) {
			t.Fatalf("%s: %v, %v\n%s", how, err, files, said)
		}
		text, err := os.ReadFile(files[0])
		if err != nil {
			t.Fatal(err)
		}
		if input, err := readInput(string(text)); err != nil || !strings.Contains(input[0].(string), "NaN") {
			t.Errorf("%s: %v, %v", how, input, err)
		}
	}
}

// A byte is one of 0 to 255, whole numbers of the environment are decimal, and digits are those of ASCII.
func TestReadingOfNumbers(t *testing.T) {
	for line, want := range map[string]any{
		"byte(255)": uint8(255), "byte(0)": uint8(0), "uint8(0x7f)": uint8(127), "byte('0')": uint8('0'), "byte('ÿ')": uint8(255), "uint32(4294967295)": ^uint32(0), "bool(true)": true, `string("a)")`: "a)",
	} {
		if got, err := readValue(line); err != nil || got != want {
			t.Errorf("%s: %v, %v", line, got, err)
		}
	}
	for _, line := range []string{"byte(256)", "byte('ab')", "byte('')", "byte('Ā')", "byte(-1)", "uint32(4294967296)", "bool(2)", "byte", "string(a)"} {
		if got, err := readValue(line); err == nil {
			t.Errorf("%s is read as %v", line, got)
		}
	}
	t.Setenv("RUNNEL_SOAK_OF_NUMBERS", "100")
	if n, stands := number("RUNNEL_SOAK_OF_NUMBERS", 7); n != 100 || !stands {
		t.Errorf("100 is read as %d, %v", n, stands)
	}
	for _, text := range []string{"", "a", "-1", "1.5"} {
		t.Setenv("RUNNEL_SOAK_OF_NUMBERS", text)
		if n, stands := number("RUNNEL_SOAK_OF_NUMBERS", 7); n != 7 || stands {
			t.Errorf("%q is read as %d, %v", text, n, stands)
		}
	}
	for b, want := range map[byte]bool{'0': true, '9': true, '5': true, '0' - 1: false, '9' + 1: false, 'a': false, '.': false} {
		if isDigit(b) != want {
			t.Errorf("%q is a digit: %v", b, !want)
		}
	}
}

// A number of an input changes by one bit, a truth to the other, and the seeds stay as they were; with one seed of each kind every change leaves the rest alone.
func TestOneChangeToValues(t *testing.T) {
	seed := []any{uint32(0b1010), true}
	m := newMutator(rand.New(rand.NewPCG(2, 3)), [][]any{seed}, nil)
	bits := map[uint32]int{}
	for range 5000 {
		in := m.next()
		changed := in[0].(uint32) ^ 0b1010
		bits[changed]++
	}
	for k := range 32 {
		if bits[1<<k] == 0 {
			t.Errorf("bit %d is never changed alone", k)
		}
	}
	if seed[0] != uint32(0b1010) || seed[1] != true {
		t.Errorf("the seed is %v", seed)
	}
}

// Of a folder of kept inputs those are read whose texts have 600 bytes or fewer, however long they are as written; what is no input is an error that names the file. No folder, no inputs.
func TestReadCorpus(t *testing.T) {
	if got, err := readCorpus(filepath.Join(t.TempDir(), "none")); err != nil || len(got) != 0 {
		t.Errorf("no folder: %v, %v", got, err)
	}
	dir := t.TempDir()
	write := func(name string, text []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, n := range map[string]int{"a": 3, "b": 600, "c": 601, "d": 5000} {
		write(name, writeInput([]any{strings.Repeat("x", n-2), []byte("yz"), uint8(7)}))
	}
	got, err := readCorpus(dir)
	if err != nil || len(got) != 2 || size(got[0]) != 3 || size(got[1]) != 600 {
		t.Errorf("%d inputs, %v", len(got), err)
	}
	if n := size([]any{"abc", []byte("de"), uint8(9), true, uint32(1)}); n != 5 {
		t.Errorf("texts of %d bytes, want 5", n)
	}
	write("e", []byte("no input"))
	if _, err := readCorpus(dir); err == nil || !strings.Contains(err.Error(), "e: ") {
		t.Errorf("a file that is no input: %v", err)
	}
}

package answer

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"runnel/cmd/option"
)

// flags are the options of a check as a page gives them, each as "--name=value".
type flags struct {
	set   map[string]func(text string) error
	taken map[string][]string // canonical values of those that were given, by name
}

func newFlags() *flags {
	return &flags{set: map[string]func(string) error{}, taken: map[string][]string{}}
}

// take adds a flag that one value belongs to.
func take[T any](f *flags, p *T, name string, value T, kind string, read func(string) (T, error), write func(T) string) {
	*p = value
	f.set[name] = func(text string) error {
		v, err := read(text)
		if err != nil {
			return option.Usage("--%s %q: give %s", name, text, kind)
		}
		*p = v
		f.taken[name] = []string{write(v)}
		return nil
	}
}

// BoolVar makes a flag known.
func (f *flags) BoolVar(p *bool, name string, value bool, _ string) {
	take(f, p, name, value, "true or false", strconv.ParseBool, strconv.FormatBool)
}

// Float64Var makes a flag known.
func (f *flags) Float64Var(p *float64, name string, value float64, _ string) {
	take(f, p, name, value, "a number", func(s string) (float64, error) { return strconv.ParseFloat(s, 64) },
		func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) })
}

// IntVar makes a flag known.
func (f *flags) IntVar(p *int, name string, value int, _ string) {
	take(f, p, name, value, "a whole number", strconv.Atoi, strconv.Itoa)
}

// StringVar makes a flag known.
func (f *flags) StringVar(p *string, name, value, _ string) {
	same := func(s string) string { return s }
	take(f, p, name, value, "", func(s string) (string, error) { return s, nil }, same)
}

// StringArrayVar makes a flag known that may be given several times.
func (f *flags) StringArrayVar(p *[]string, name string, value []string, _ string) {
	*p = value
	f.set[name] = func(text string) error {
		*p = append(slices.Clone(*p), text)
		f.taken[name] = append(f.taken[name], text)
		return nil
	}
}

// read takes the flags as given. The error is an *option.UsageError.
func (f *flags) read(given []string) error {
	for _, text := range given {
		name, value, stated := strings.Cut(strings.TrimPrefix(text, "--"), "=")
		set := f.set[name]
		switch {
		case set == nil || !strings.HasPrefix(text, "--"):
			return option.Usage("unknown flag: %s", text)
		case !stated:
			value = "true"
		case value == "":
			return option.Usage("--%s is empty: give it a value, or leave it out", name)
		}
		if err := set(value); err != nil {
			return err
		}
	}
	return nil
}

// written returns the flags as a run is recorded.
func (f *flags) written() (all []string) {
	for _, name := range slices.Sorted(maps.Keys(f.taken)) {
		for _, value := range f.taken[name] {
			all = append(all, "--"+name+"="+value)
		}
	}
	return all
}

package record

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
)

// Step is one thing to do next, and the ponds, outlets or findings where it is to be done.
type Step struct {
	Urgent            bool
	What, Do, Decides string // What is wrong, where no pond says so; empty where several findings differ in it
	Names             []string
}

// NoStep stands where no step does.
const NoStep = "Nothing that this survey asks for. Look again after rain: no water should stand after 48 hours."

// Say returns the step in a sentence or more, with who decides.
func (t *Step) Say() string {
	parts := []string{t.What, t.Do, Decides(t.Decides)}
	if t.Urgent {
		parts = append([]string{"URGENT."}, parts...)
	}
	text := strings.TrimSpace(strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " "))
	if len(t.Names) == 0 || len(t.Names) == 1 && strings.Contains(text, t.Names[0]) {
		return text
	}
	return Some(t.Names) + ": " + text
}

// Decides says who decides: one, or several with commas between them.
func Decides(who string) string {
	return "Decides: the " + strings.ReplaceAll(who, ", ", ", the ") + "."
}

// Some lists a few names and counts the rest.
func Some(names []string) string {
	const few = 6
	if len(names) <= few {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:few], ", "), len(names)-few)
}

// Off says whether people are to keep off the roof as it stands.
func (b *Book) Off() *inspection.KeepOff {
	if b.Found != nil {
		return &b.Found.KeepOff
	}
	return &b.Study.KeepOff
}

// KeepOff returns the step that comes before all others where people are to keep off the roof; ok is false elsewhere.
func (b *Book) KeepOff() (first Step, ok bool) {
	off := b.Off()
	if !off.Is() {
		return Step{}, false
	}
	return Step{Do: b.Units.SayText(off.First()), Decides: finding.Engineer}, true
}

// Steps returns what to do next, in order, each thing once: to keep off where that applies, then what the findings ask for, most urgent
// first; of a pond first what tells its causes apart. Every output takes its steps from here.
func (b *Book) Steps() []Step {
	var all []Step
	if first, ok := b.KeepOff(); ok {
		all = append(all, first)
	}
	s, off := b.Study, b.Off()
	listed := b.listedPonds()
	for i := range s.Findings {
		f := &s.Findings[i]
		t, name := Step{Urgent: f.Severity == finding.Urgent, Decides: f.Decides, Do: b.Units.SayText(off.After(f.Do))}, ""
		k, isListed := listed[f.Pond]
		switch {
		case isListed && len(s.Rests[k]) > 0: // what it rests on comes first
			name = s.Listed[k].ID
		case isListed && f.Kind != finding.NoWayOut:
			t.Do, name = b.Units.SayText(off.Guard(s.Causes[k].Causes[0].Measure)), s.Listed[k].ID
		case isListed:
		case f.Outlet >= 0:
			t.What, name = b.Units.SayText(f.What), s.Surface.Outlets[f.Outlet].Label
		default:
			t.What, name = b.Units.SayText(f.What), b.Names.Local(b.Names.Finding(i))
		}
		if t.Do != "" {
			all = addStep(all, t, name)
		}
	}
	return all
}

// listedPonds returns the index into Study.Listed by that into ponding.Ponds.Ponds.
func (b *Book) listedPonds() map[int]int {
	all := make(map[int]int, len(b.Study.Listed))
	for i := range b.Study.Listed {
		all[int(b.Study.Listed[i].Pond)] = i
	}
	return all
}

// addStep puts name to the step that asks for the same, which it makes where there is none.
func addStep(all []Step, t Step, name string) []Step {
	k := slices.IndexFunc(all, func(o Step) bool { return o.Do == t.Do && o.Urgent == t.Urgent && o.Decides == t.Decides })
	if k < 0 {
		k, all = len(all), append(all, t)
	}
	if all[k].What != t.What {
		all[k].What = "" // of several, each under its finding
	}
	if name != "" && !slices.Contains(all[k].Names, name) {
		all[k].Names = append(all[k].Names, name)
	}
	return all
}

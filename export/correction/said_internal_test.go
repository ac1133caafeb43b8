package correction

import (
	"strings"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/rainload"
	"runnel/export/record"
)

// TestLeftSaysTheWork: what an answer leaves is said with its pond and with what is to be done about it, on the page and in the file.
func TestLeftSaysTheWork(t *testing.T) {
	p := proposal(t, record.SI)
	p.Result.Answers[0].Left = []correction.Leftover{
		{Kind: finding.OutletSmall, What: finding.Say("4 l/s come to SC-1, and the leader takes 2."), Do: finding.Say("Check the sizes."), Decides: finding.Plumber},
		{Kind: finding.Dish, Pond: "P02", What: finding.Say("The roof is bent down."), Decides: finding.Engineer},
		{Kind: finding.Dish, Pond: "P03", What: finding.Say("The roof is bent down."), Decides: finding.Engineer},
	}
	a := &p.Result.Answers[0]
	a.Questions = append(a.Questions, mend.Question{Ask: finding.Say("Is it dry? Cut a core"), If: finding.Say("Dry"), Then: finding.Say("Go on"), Decides: finding.Roofer})
	file, page := told(t, p)
	for _, want := range []string{
		"Left: 4 l/s come to SC-1, and the leader takes 2. Check the sizes. Decides: the plumber.",
		"Left: P02, P03: The roof is bent down. Decides: the engineer.",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if ask, do := strings.Index(page, "Find out first: Is it dry?"), strings.Index(page, "P01: Set RD-1 down by 27 mm. Opens"); ask < 0 || do < ask {
		t.Errorf("what is to be found out stands at %d, the work at %d:\n%s", ask, do, page)
	}
	left := file["answers"].([]any)[0].(map[string]any)["findings_left"].([]any)
	if a, b := left[0].(map[string]any), left[1].(map[string]any); a["do"] != "Check the sizes." || b["pond"] != "P02" || b["do"] != nil || a["pond"] != nil {
		t.Errorf("findings left %v", left)
	}
}

// TestBlockedBeforeAndAfter: level, depth and load with the primary outlets blocked stand side by side, once where nothing changes; where water has no way out
// at any level, that is said. 160 mm of water weigh 1.57 kPa by hand.
func TestBlockedBeforeAndAfter(t *testing.T) {
	p := proposal(t, record.SI)
	o := &p.Result.Options[0]
	o.BlockedKnown = true
	o.Blocked = [2]correction.Blocked{{Level: 1.2, Depth: 0.16, Load: 1000 * 9.80665 * 0.16}, {Level: 1.2, Depth: 0.187, Load: 1000 * 9.80665 * 0.187}}
	file, page := told(t, p)
	a := file["answers"].([]any)[0].(map[string]any)
	for name, want := range map[string][2]float64{"blocked_level_m": {1.2, 1.2}, "blocked_depth_mm": {160, 187}} {
		if got, ok := a[name].([]any); !ok || got[0] != want[0] || got[1] != want[1] {
			t.Errorf("%s is %v, want %v", name, a[name], want)
		}
	}
	for _, want := range []string{"blocked level 1.200 m, as now", "blocked depth 160 mm now, 187 mm", "blocked load 1.57 kPa now, 1.83 kPa"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	o.BlockedKnown = false
	p.Book.Study.RainLoad = &rainload.Load{Enclosed: true}
	if _, page = told(t, p); !strings.Contains(page, "blocked level to the top of the walls") {
		t.Error("the page does not say that the water has no way out")
	}
}

// TestAnswerMeetsByItself: whether an answer meets is the answer's own word, which an engineer's question takes away from an option that meets.
func TestAnswerMeetsByItself(t *testing.T) {
	p := proposal(t, record.SI)
	p.Result.Answers[0].Meets = false
	file, page := told(t, p)
	if a := file["answers"].([]any)[0].(map[string]any); a["meets"] != false {
		t.Errorf("the answer meets %v", a["meets"])
	}
	if !strings.Contains(page, "does not meet") {
		t.Error("the page does not say that it does not meet")
	}
}

// TestWhyNotTaken: an option that was tried says what it leaves, breaks or opens, never three zeros, and two that say the same stand once.
func TestWhyNotTaken(t *testing.T) {
	p := proposal(t, record.SI)
	say := func(change func(o *correction.Option)) string {
		o := p.Result.Options[1]
		change(&o)
		return p.notTaken(&o)
	}
	for _, c := range []struct {
		want   string
		change func(o *correction.Option)
	}{
		{"no member bears it", func(o *correction.Option) { o.Possible, o.Why = false, finding.Say("no member bears it") }},
		{"2 ponds left; worse: weight; limit: flashing height", func(o *correction.Option) {
			o.PondsLeft, o.Worse = 2, []correction.Limit{{Name: "weight"}, {Name: "weight"}}
			o.Limits = []correction.Limit{{Name: "flashing height"}}
		}},
		{"3 planes or valleys too flat", func(o *correction.Option) { o.FlatLeft = 3 }},
		{"opens 20.0 m², answer 1 3.2 m²", func(o *correction.Option) { o.Opened = 20 }},
		{"lays 1.50 m³, answer 1 0.25 m³", func(o *correction.Option) { o.Opened = 3.25 }},
		{"no better than answer 1", func(o *correction.Option) { o.Opened, o.Fill = 3.25, 0.25 }},
	} {
		if got := say(c.change); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	p.Result.Options = append(p.Result.Options, p.Result.Options[1])
	if _, page := told(t, p); strings.Count(page, p.notTaken(&p.Result.Options[1])) != 1 {
		t.Error("two options that say the same are listed twice")
	}
}

// TestChannelsAreCalledSo: what cuts channels is no section that is re-tapered, in words; programs read the kind.
func TestChannelsAreCalledSo(t *testing.T) {
	o := &correction.Option{Kind: mend.Retaper, Changes: []mend.Change{{Kind: mend.Clear}, {Kind: mend.Retaper, Brief: "cut channels to the outlet"}, {Kind: mend.Retaper}}}
	if got := Said(o); got != "cut channels to the outlet, re-taper the section" {
		t.Errorf("%q", got)
	}
}

// TestLimitsSayWhoDecides: a limit of each kind is said with who decides, in the words in which every step says it.
func TestLimitsSayWhoDecides(t *testing.T) {
	p := proposal(t, record.SI)
	limit := func(name, who string) []correction.Limit { return []correction.Limit{{Name: name, Decides: who}} }
	o := &p.Result.Options[0]
	o.Worse, o.Limits, o.Flags, o.Unknown = limit("weight", "engineer"), limit("slope", "owner, roofer"), limit("height", ""), []correction.Limit{{Name: "flashing", Where: "RTU-1", Required: finding.MM("least", 0.203), Decides: "roofer"}}
	_, page := told(t, p)
	for _, want := range []string{
		"- Worse than before: weight. Decides: the engineer. ", "- Broken: slope. Decides: the owner, the roofer. ", "- To be allowed: height. - ",
		"- Not known: flashing at RTU-1: least 203 mm. Decides: the roofer.",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q:\n%s", want, page)
		}
	}
}

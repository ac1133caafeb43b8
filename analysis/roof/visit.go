package roof

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Visit is what was noted of the roof beside its measurements, when somebody was on it. The zero Visit says nothing.
type Visit struct {
	By         string // who surveyed
	Weather    string // as written
	Hours      float64
	HasHours   bool   // Hours are those since rain ended
	Instrument string // a name of standard.Instruments also says how good heights are

	Age            float64 // of the covering at the visit [years]; meaningful when HasAge
	HasAge         bool
	Coverings      int    // how many lie on each other; 0 when not given
	Leaks          string // where and when it has leaked
	Warrantor      string // who warrants the roof
	WarrantyUntil  string
	Access         string // how people get up, and who lets them
	CutsAuthorised string // who may authorise a cut
}

// Bounds of what is noted: no roof is older, none carries more coverings, and no dry spell of the temperate zones lasts longer. Own bounds, against slips.
const (
	mostHours     = 10000
	mostAge       = 300
	mostCoverings = 20
)

// Names of the numbers of a visit.
const (
	hoursName     = "hours_since_rain"
	ageName       = "age_years"
	coveringsName = "coverings"
)

// visitWords are what is noted, by the names under which files carry it, in the order in which they are written: texts where they stand, numbers without.
var visitWords = []struct {
	name string
	text func(*Visit) *string
}{
	{"surveyed_by", func(v *Visit) *string { return &v.By }},
	{"weather", func(v *Visit) *string { return &v.Weather }},
	{hoursName, nil},
	{"instrument", func(v *Visit) *string { return &v.Instrument }},
	{ageName, nil},
	{coveringsName, nil},
	{"leaks", func(v *Visit) *string { return &v.Leaks }},
	{"warrantor", func(v *Visit) *string { return &v.Warrantor }},
	{"warranty_until", func(v *Visit) *string { return &v.WarrantyUntil }},
	{"access", func(v *Visit) *string { return &v.Access }},
	{"cuts_authorised_by", func(v *Visit) *string { return &v.CutsAuthorised }},
}

// VisitNames returns the names under which files carry what was noted on a visit, in the order in which they are written.
func VisitNames() []string {
	names := make([]string, len(visitWords))
	for i := range visitWords {
		names[i] = visitWords[i].name
	}
	return names
}

// text returns where a text of the visit stands, nil where the name is that of no text.
func (v *Visit) text(name string) *string {
	for i := range visitWords {
		if w := &visitWords[i]; w.name == name && w.text != nil {
			return w.text(v)
		}
	}
	return nil
}

// Set keeps what a file says under a name; an empty text says nothing. The error is the rule that the text breaks and what to write.
func (v *Visit) Set(name, text string) (rule, mend string) {
	text = strings.TrimSpace(text)
	if text == "" {
		return "", ""
	}
	if into := v.text(name); into != nil {
		*into = text
		return "", ""
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(n >= 0) {
		n = math.Inf(1) // more than any of them may be
	}
	switch name {
	case hoursName:
		if n > mostHours {
			return fmt.Sprintf("%s: %.20q is no number of hours", name, text), "write the hours since the rain ended, such as 50"
		}
		v.Hours, v.HasHours = n, true
	case ageName:
		if n > mostAge {
			return fmt.Sprintf("%s: %.20q is no age in years", name, text), "write the years since the covering was laid, such as 15"
		}
		v.Age, v.HasAge = n, true
	case coveringsName:
		if n != math.Trunc(n) || n < 1 || n > mostCoverings {
			return fmt.Sprintf("%s: %.20q is no number of coverings", name, text), "count the coverings that lie on each other, the uppermost too: 1, 2 ..."
		}
		v.Coverings = int(n)
	default:
		return fmt.Sprintf("nothing of a visit is called %.20q", name), "use " + strings.Join(VisitNames(), ", ")
	}
	return "", ""
}

// Get returns what is noted under a name, number telling that it is one; ok is false where nothing is.
func (v *Visit) Get(name string) (text string, number, ok bool) {
	switch name {
	case hoursName:
		return strconv.FormatFloat(v.Hours, 'f', -1, 64), true, v.HasHours
	case ageName:
		return strconv.FormatFloat(v.Age, 'f', -1, 64), true, v.HasAge
	case coveringsName:
		return strconv.Itoa(v.Coverings), true, v.Coverings > 0
	}
	if from := v.text(name); from != nil {
		text = *from
	}
	return text, false, text != ""
}

// Lasting returns what outlasts a visit: what is noted of the roof and its people, not of the day.
func (v *Visit) Lasting() Visit {
	return Visit{Coverings: v.Coverings, Leaks: v.Leaks, Warrantor: v.Warrantor, WarrantyUntil: v.WarrantyUntil, Access: v.Access, CutsAuthorised: v.CutsAuthorised}
}

// Take takes over what another visit says, and returns the names of what was said otherwise before.
func (v *Visit) Take(other *Visit) (changed []string) {
	for _, name := range VisitNames() {
		text, _, ok := other.Get(name)
		if !ok {
			continue
		}
		if was, _, had := v.Get(name); had && was != text {
			changed = append(changed, name)
		}
		v.Set(name, text) // which was read under that name
	}
	return changed
}

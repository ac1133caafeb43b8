package record

import (
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Visit adds what was noted on a visit, under the names by which it is read back.
func Visit(o *Object, v *roof.Visit) {
	for _, name := range roof.VisitNames() {
		switch text, number, ok := v.Get(name); {
		case !ok:
		case number:
			n, _ := strconv.ParseFloat(text, 64)
			o.Number(name, n, 6)
		default:
			o.Text(name, text)
		}
	}
}

// SeenOn says when, by whom, with what and in which weather a roof was seen, as sentences; empty where nobody noted more than the date, which the title has.
func SeenOn(r *roof.Roof) string {
	v := &r.Visit
	var parts []string
	if v.By != "" {
		parts = append(parts, "by "+v.By)
	}
	if v.HasHours {
		parts = append(parts, SayHours(v.Hours)+" after rain")
	}
	if v.Instrument != "" {
		parts = append(parts, "instrument: "+v.Instrument)
	}
	var text string
	if len(parts) > 0 {
		text = "Seen " + strings.Join(parts, ", ") + "."
		if r.Surveyed != "" {
			text = "Seen " + r.Surveyed + " " + strings.Join(parts, ", ") + "."
		}
	}
	if v.Weather != "" {
		text += " Weather: " + v.Weather + "."
	}
	return strings.TrimSpace(text)
}

// SayHours writes a number of hours.
func SayHours(h float64) string {
	return choose.If(h == 1, "1 hour", strconv.FormatFloat(h, 'f', -1, 64)+" hours")
}

// Behind returns a sentence as it follows another; empty where there is none.
func Behind(sentence string) string { return choose.If(sentence == "", "", " "+sentence) }

// Since says what the hours since rain make of water that stood; empty where nobody noted them.
func Since(v *roof.Visit) string {
	switch {
	case !v.HasHours:
		return ""
	case v.Hours < standard.DryAfter:
		return "Water seen so soon after rain may still run off: it counts as a pond if it stands 48 hours after rain. Look again then."
	}
	return "Water that still stood then counts as a pond: 48 hours had passed."
}

// Covering says how old the covering is and on how many it lies, as one sentence; empty where nobody noted it.
func Covering(v *roof.Visit) string {
	var parts []string
	if v.HasAge {
		years := choose.If(v.Age == 1, "1 year", strconv.FormatFloat(v.Age, 'f', -1, 64)+" years")
		parts = append(parts, "the covering is "+years+" old")
	}
	switch {
	case v.Coverings == 1:
		parts = append(parts, "no older one lies under it")
	case v.Coverings > 1:
		parts = append(parts, strconv.Itoa(v.Coverings)+" coverings lie on each other")
	}
	if len(parts) == 0 {
		return ""
	}
	return Capital(strings.Join(parts, ", and ")) + "."
}

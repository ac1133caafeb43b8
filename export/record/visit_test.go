package record_test

import (
	"encoding/json"
	"reflect"
	"testing"

	"runnel/analysis/roof"
	"runnel/export/record"
)

// What was noted on a visit stands under the names by which it is read back, numbers as numbers; what nobody noted is left out, but a roof
// that is new (0 years) or wet (0 hours) says so.
func TestVisitIsReadBack(t *testing.T) {
	for _, v := range []roof.Visit{
		{},
		{By: "A. Person", Weather: "dry,\n\"45 F\"", Hours: 50.5, HasHours: true, Instrument: "level"},
		{Age: 15, HasAge: true, Coverings: 2, Leaks: "over the <store>", Warrantor: "גג", WarrantyUntil: "2031", Access: `a\b`, CutsAuthorised: "the owner"},
		{HasAge: true, HasHours: true},
	} {
		var o record.Object
		record.Visit(&o, &v)
		var read map[string]any
		if err := json.Unmarshal(o.Append(nil), &read); err != nil {
			t.Fatal(err)
		}
		var back roof.Visit
		for name, value := range read {
			text, ok := value.(string)
			if _, number, _ := v.Get(name); number == ok {
				t.Errorf("%s is %v", name, value)
			}
			if !ok {
				text, _, _ = v.Get(name)
				if n, err := json.Marshal(value); err != nil || string(n) != text {
					t.Errorf("%s is %s, want %s", name, n, text)
				}
			}
			back.Set(name, text)
		}
		if !reflect.DeepEqual(back, v) {
			t.Errorf("%+v read back as %+v", v, back)
		}
	}
}

func TestSeenOn(t *testing.T) {
	for want, r := range map[string]roof.Roof{
		"":                        {},
		"Weather: dry, 45 F.":     {Surveyed: "2026-03-14", Visit: roof.Visit{Weather: "dry, 45 F"}},
		"Seen by A. Person.":      {Visit: roof.Visit{By: "A. Person"}},
		"Seen 1 hour after rain.": {Visit: roof.Visit{HasHours: true, Hours: 1}},
		"Seen 2026-03-14 by A. Person, 48.5 hours after rain, instrument: level. Weather: dry.": {
			Surveyed: "2026-03-14", Visit: roof.Visit{By: "A. Person", HasHours: true, Hours: 48.5, Instrument: "level", Weather: "dry"},
		},
		"Seen 2026-03-14 0 hours after rain.": {Surveyed: "2026-03-14", Visit: roof.Visit{HasHours: true}},
		"Seen instrument: level.":             {Visit: roof.Visit{Instrument: "level"}},
	} {
		if got := record.SeenOn(&r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := record.Behind(want); (want == "") != (got == "") || want != "" && got != " "+want {
			t.Errorf("behind another sentence: %q", got)
		}
	}
}

// The trade counts water as a pond once 48 hours have passed since rain.
func TestSince(t *testing.T) {
	for _, c := range []struct {
		v    roof.Visit
		want string
	}{
		{roof.Visit{Hours: 60}, ""},
		{roof.Visit{HasHours: true}, "Water seen so soon after rain may still run off: it counts as a pond if it stands 48 hours after rain. Look again then."},
		{roof.Visit{HasHours: true, Hours: 47.9}, "Water seen so soon after rain may still run off: it counts as a pond if it stands 48 hours after rain. Look again then."},
		{roof.Visit{HasHours: true, Hours: 48}, "Water that still stood then counts as a pond: 48 hours had passed."},
	} {
		if got := record.Since(&c.v); got != c.want {
			t.Errorf("%+v: %q, want %q", c.v, got, c.want)
		}
	}
}

func TestCovering(t *testing.T) {
	for want, v := range map[string]roof.Visit{
		"":                               {Age: 3},
		"The covering is 1 year old.":    {HasAge: true, Age: 1},
		"The covering is 0 years old.":   {HasAge: true},
		"The covering is 2.5 years old.": {HasAge: true, Age: 2.5},
		"No older one lies under it.":    {Coverings: 1},
		"2 coverings lie on each other.": {Coverings: 2},
		"The covering is 15 years old, and no older one lies under it.":    {HasAge: true, Age: 15, Coverings: 1},
		"The covering is 15 years old, and 3 coverings lie on each other.": {HasAge: true, Age: 15, Coverings: 3},
	} {
		if got := record.Covering(&v); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

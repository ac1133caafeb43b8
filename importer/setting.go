package importer

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/surveyfile"
)

// settle gives every file its frame and its unit: what a flag says for it, else what it states, else what a
// flag says for all, else what the others agree on. It returns warnings.
func settle(sources []*source, o Options, problems *roof.Refusal) (warnings []string) {
	for _, s := range sources {
		warnings = append(warnings, s.settleFrame(o, problems)...)
	}
	settleOpenFrames(sources, o)
	for _, s := range sources {
		warnings = append(warnings, s.settleUnit(o, problems)...)
	}
	return append(warnings, settleOpenUnits(sources, problems)...)
}

// lookup returns what a flag says for one file, by its path or base name.
func lookup[T any](flags map[string]T, path string) (value T, said bool) {
	for _, key := range []string{path, filepath.Base(path)} {
		if v, ok := flags[key]; ok && key != "" {
			return v, true
		}
	}
	return value, false
}

// parseFrame reads the name of a frame.
func parseFrame(text string) (geographic bool, rule, mend string) {
	switch upper := strings.ToUpper(strings.TrimSpace(text)); {
	case upper == "LOCAL":
		return false, "", ""
	case upper == "WGS84" || upper == "EPSG:4326" || upper == "CRS84":
		return true, "", ""
	case strings.HasPrefix(upper, "EPSG:"):
		return false, fmt.Sprintf("frame %s is not known here", upper),
			"reproject the file to EPSG:4326, or say --frame local to work in the grid's own coordinates"
	}
	return false, fmt.Sprintf("unknown frame %.40q", text), "use local, wgs84 or EPSG:4326"
}

// settleFrame settles the frame of a file that states one or for which a flag does.
func (s *source) settleFrame(o Options, problems *roof.Refusal) (warnings []string) {
	flag, said := lookup(o.Frames, s.path)
	all := o.Frames[""]
	_, stated := s.file.Stated()
	name := stated
	switch {
	case said:
		name = flag
	case name == "":
		name = all
	}
	if name == "" {
		s.set.Geographic = s.format.Geographic
		return nil
	}
	geographic, rule, mend := parseFrame(name)
	if rule != "" {
		surveyfile.Refuse(problems, s.path, rule, mend)
		return nil
	}
	s.set.Geographic = geographic
	other, rule, _ := parseFrame(stated)
	switch {
	case said && stated != "" && (rule != "" || other != geographic):
		return []string{fmt.Sprintf("%s: read in frame %s as --frame says, though the file says %s.", s.path, name, stated)}
	case !said && all != "" && stated != "":
		if wanted, rule, _ := parseFrame(all); rule != "" || wanted != geographic {
			surveyfile.Refuse(problems, s.path, fmt.Sprintf("the file is in frame %s, and --frame says %s", stated, all),
				fmt.Sprintf("say --frame %s=%s if the file is wrong", filepath.Base(s.path), all))
		}
	}
	return nil
}

// settleOpenFrames gives files for which nothing says a frame, not even their format, that of the first file for which
// something does.
func settleOpenFrames(sources []*source, o Options) {
	if o.Frames[""] != "" {
		return
	}
	known := func(s *source) bool {
		_, said := lookup(o.Frames, s.path)
		_, stated := s.file.Stated()
		return said || s.format.Geographic || stated != ""
	}
	first := slices.IndexFunc(sources, known)
	if first < 0 {
		return
	}
	for _, s := range sources {
		if !known(s) {
			s.set.Geographic = sources[first].set.Geographic
		}
	}
}

// settleUnit settles the unit of a file that states one or for which a flag does.
func (s *source) settleUnit(o Options, problems *roof.Refusal) (warnings []string) {
	flag, said := lookup(o.Units, s.path)
	all := o.Units[""]
	stated, _ := s.file.Stated()
	switch {
	case said:
		s.set.Unit = flag
		if stated != quantity.Unstated && stated != flag {
			warnings = append(warnings, fmt.Sprintf("%s: read in %v as --units says, though the file says %v.", s.path, flag, stated))
		}
	case stated != quantity.Unstated:
		s.set.Unit = stated
		if all != quantity.Unstated && all != stated {
			surveyfile.Refuse(problems, s.path, fmt.Sprintf("the file is in %v, and --units says %v", stated, all),
				fmt.Sprintf("say --units %s=%v if the file is wrong", filepath.Base(s.path), all))
		}
	default:
		s.set.Unit = all
	}
	s.stated = s.set.Unit != quantity.Unstated
	return warnings
}

// settleOpenUnits gives files that state nothing the unit on which the others agree. Elevations beside
// longitude and latitude are in metres where nothing says otherwise; any other unit must be stated.
func settleOpenUnits(sources []*source, problems *roof.Refusal) (warnings []string) {
	var agreed []string
	unit := quantity.Unstated
	for _, s := range sources {
		if s.stated && !slices.Contains(agreed, s.set.Unit.String()) {
			agreed = append(agreed, s.set.Unit.String())
			unit = s.set.Unit
		}
	}
	for _, s := range sources {
		switch {
		case s.stated:
		case len(agreed) == 1:
			s.set.Unit = unit
			warnings = append(warnings, fmt.Sprintf("%s: states no unit and is taken to be in %v, as the other files.", s.path, unit))
		case len(agreed) > 1:
			surveyfile.Refuse(problems, s.path, "the file states no unit, and the others disagree: "+strings.Join(agreed, ", "),
				fmt.Sprintf("say --units %s=%s, or one of %s", filepath.Base(s.path), agreed[0], quantity.UnitNames))
			s.set.Unit = unit
		case s.set.Geographic:
			s.set.Unit = quantity.Metres
		default:
			surveyfile.Refuse(problems, s.path, "nothing states the unit of its coordinates and elevations",
				fmt.Sprintf("say --units m or --units ft (known: %s); one file alone: --units %s=ft", quantity.UnitNames, filepath.Base(s.path)))
			s.set.Unit = quantity.Metres
		}
	}
	return warnings
}

// unusedFlags says which flags for files of columns concern none of the files.
func unusedFlags(sources []*source, o Options) (warnings []string) {
	named, rod := false, false
	for _, s := range sources {
		if f, ok := s.file.(draft.Columned); ok {
			named, rod = named || f.Named(), rod || f.Rod()
		}
	}
	if len(o.Columns) > 0 && !named {
		warnings = append(warnings, "--columns was not used: it is for point files without a header, and none is given.")
	}
	if o.HI != "" && !rod {
		warnings = append(warnings, "--hi was not used: no point file has a column of rod readings.")
	}
	return warnings
}

// checkNames refuses flags that name a file which is not there.
func checkNames(paths []string, o Options, problems *roof.Refusal) {
	known := map[string]bool{"": true}
	for _, path := range paths {
		known[path], known[filepath.Base(path)] = true, true
	}
	unknown := []string{}
	for name := range o.Units {
		if !known[name] {
			unknown = append(unknown, "--units "+name)
		}
	}
	for name := range o.Sigma {
		if !known[name] {
			unknown = append(unknown, "--sigma "+name)
		}
	}
	for name := range o.Frames {
		if !known[name] {
			unknown = append(unknown, "--frame "+name)
		}
	}
	slices.Sort(unknown)
	for _, flag := range unknown {
		problems.Add(roof.Problem{Rule: flag + ": no such file is read", Mend: "name a file as it is given"})
	}
}

package option

import (
	"fmt"
	"path/filepath"

	"runnel/analysis/drainage"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/importer"
)

// Above reads the roofs of --upper and returns what they let onto r.
func (f *Input) Above(r *roof.Roof, o importer.Options, steps study.Options) ([]drainage.Above, error) {
	var all []drainage.Above
	for _, path := range f.Upper {
		upper, err := importer.Read([]string{path}, only(o, path))
		if err != nil {
			return nil, fmt.Errorf("upper roof: %w", err)
		}
		steps.Storm = nil // the storm falls on the roof itself
		s, err := study.Run(upper, steps)
		if err != nil {
			return nil, fmt.Errorf("upper roof %s: %w", path, err)
		}
		above, err := study.Discharges(s, r)
		if err != nil {
			return nil, fmt.Errorf("upper roof %s: %w", path, err)
		}
		all = append(all, above...)
	}
	return all, nil
}

// Beside returns the options of reading without what they say of the files of --upper alone.
func (f *Input) Beside(o importer.Options) importer.Options {
	for _, path := range f.Upper {
		o = without(o, path)
	}
	return o
}

// only returns the options of reading one file: what they say of it and of all files.
func only(o importer.Options, path string) importer.Options {
	out := o
	out.Drop, out.Keep = nil, nil
	out.Units, out.Frames = pick(o.Units, path, true), pick(o.Frames, path, true)
	return out
}

// without returns the options of reading without what they say of one file alone.
func without(o importer.Options, path string) importer.Options {
	o.Units, o.Frames = pick(o.Units, path, false), pick(o.Frames, path, false)
	return o
}

// pick returns what is said of all files, and of path where it is wanted, or of all but path where it is not.
func pick[T any](said map[string]T, path string, wanted bool) map[string]T {
	out := make(map[string]T, len(said))
	for name, v := range said {
		if name == "" || (name == path || name == filepath.Base(path)) == wanted {
			out[name] = v
		}
	}
	return out
}

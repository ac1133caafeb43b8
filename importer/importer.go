// Package importer reads a roof from the files that a surveyor and a drawing office hand over.
package importer

import (
	"errors"

	"runnel/analysis/roof"
)

// Read joins paths into one roof. Input that cannot be used is a *roof.Refusal.
func Read(paths []string, o Options) (*roof.Roof, error) {
	return nil, errors.New("not written yet")
}

// Campus lists the roofs of a folder (files that share a stem make one roof), or of one GeoJSON file
// with many outlines and the point files beside it. The strings are warnings, whole sentences.
func Campus(paths []string, o Options) ([]Job, []string, error) {
	return nil, nil, errors.New("not written yet")
}

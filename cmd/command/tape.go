package command

import (
	"slices"

	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/tape"
	"runnel/cmd/call"
	"runnel/export"
	"runnel/export/staged"
	"runnel/export/taped"
)

// tape checks a roof that was measured with tape, chalk and ruler, and a few heights at most. Files and page say what such a survey can say.
func (k *check) tape(r *roof.Roof, paths []string, o study.Options) error {
	if k.storm != nil {
		return study.TooFewHeights(r)
	}
	criteria, err := study.CriteriaOf(r, o)
	if err != nil {
		return err
	}
	book := &taped.Book{Survey: tape.Of(r, criteria), Units: call.UnitsOf(k.input.US(r))}
	stem := export.Stem(r)
	kinds, left := tapeKinds(k.output.Kinds)
	if err := k.output.Free(k.Err, paths, export.TapeNames(stem, kinds)); err != nil {
		return err
	}
	set := &staged.Set{}
	if k.output.Dir != "" {
		outputs, err := export.TapeOutputs(book, kinds, stem, k.output.Plan)
		if err != nil {
			return err
		}
		if set, err = staged.Stage(k.output.Target(paths), outputs); err != nil {
			return err
		}
	}
	defer set.Discard()
	if err := call.WritePage(k.Out, k.json, book, taped.Write, taped.WriteSummary); err != nil {
		return err
	}
	warnings := r.Warnings
	if k.output.Dir != "" && left {
		warnings = append(slices.Clone(warnings), "a report and a schedule need heights all over the roof, and were not written.")
	}
	if err := k.Commit(set, warnings...); err != nil {
		return err
	}
	if k.output.Fails(book.Survey.Findings) {
		return call.ErrFindings
	}
	return nil
}

// tapeKinds returns those of kinds that a roof by tape is written as, and whether some are left out.
func tapeKinds(kinds []export.Kind) (kept []export.Kind, left bool) {
	for _, kind := range kinds {
		if slices.Contains(export.TapeKinds(), kind) {
			kept = append(kept, kind)
		} else {
			left = true
		}
	}
	return kept, left
}

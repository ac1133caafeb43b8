package command

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"runnel/analysis/board"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/takeoff"
	"runnel/cmd/call"
	"runnel/export"
	proposal "runnel/export/correction"
	"runnel/export/drawing"
	"runnel/export/layout"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/staged"
	quantities "runnel/export/takeoff"
)

// order reads what the take-off is made with.
func (k *correct) order(stock board.Stock) (*takeoff.Input, error) {
	in := &takeoff.Input{Stock: stock, Waste: standard.BoardWaste, Material: k.material}
	if k.waste != "" {
		text, percent := strings.CutSuffix(strings.TrimSpace(k.waste), "%")
		v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if percent {
			v /= 100
		}
		if err != nil || !(v >= 0 && v <= 1) {
			return nil, call.Usage("--waste %q: give a share from 0 to 100%%, such as 8%%", k.waste)
		}
		in.Waste = v
	}
	if k.material != "" {
		if _, known := standard.FindMaterial(k.material); !known {
			return nil, call.Usage("--material %s: the table of materials has no such insulation", k.material)
		}
	}
	if k.prices == "" {
		return in, nil
	}
	data, err := call.ReadSide(k.prices)
	if err != nil {
		return nil, fmt.Errorf("prices: %w", err)
	}
	if in.Prices, err = takeoff.ParsePrices(data); err != nil {
		return nil, fmt.Errorf("prices: %s: %w", k.prices, err)
	}
	return in, nil
}

// endings of the names of the drawings and quantities.
const (
	sheetPDF, sheetSVG      = ".correction.pdf", ".correction.svg"
	quantitiesCSV, boardCSV = ".takeoff.csv", ".boards.csv"
)

// free refuses to begin where a file stands in the way of one that this run may write.
func (k *correct) free(r *roof.Roof, paths []string) error {
	stem := export.Stem(r)
	names := []string{stem + ".correction.json", stem + sheetPDF, stem + sheetSVG, stem + quantitiesCSV, stem + boardCSV}
	return k.output.Free(k.Err, paths, append(names, export.Names(stem+".corrected", k.output.Kinds, false, roof.Geographic)...))
}

// sheets are the drawings and quantities of the option that is drawn.
func sheets(p *proposal.Proposal, stem string, plan drawing.Options) []staged.Output {
	set := &layout.Set{Book: p.Book, Result: p.Result, Option: p.Chosen, Name: p.Said(p.Chosen), TakeOff: p.TakeOff, Plan: plan}
	u := p.Book.Units
	return []staged.Output{
		{Name: stem + sheetPDF, Write: func(w io.Writer) error { return layout.WritePDF(w, set) }},
		{Name: stem + sheetSVG, Write: func(w io.Writer) error { return layout.WriteSVG(w, set) }},
		{Name: stem + quantitiesCSV, Write: func(w io.Writer) error { return quantities.WriteQuantities(w, u, p.TakeOff) }},
		{Name: stem + boardCSV, Write: func(w io.Writer) error { return quantities.WriteBoards(w, u, p.TakeOff) }},
	}
}

// write writes the files and prints the page or the options.
func (k *correct) write(p *proposal.Proposal, steps study.Options, paths []string) error {
	set := &staged.Set{}
	if k.output.Dir != "" {
		var err error
		if set, err = k.stage(p, steps, paths); err != nil {
			return err
		}
	}
	defer set.Discard()
	if err := call.WritePage(k.Out, k.json, p, proposal.WriteText, proposal.WriteJSON); err != nil {
		return err
	}
	return k.Commit(set)
}

// stage writes the options and, of the one that is drawn, the corrected roof with its plan and set-out.
func (k *correct) stage(p *proposal.Proposal, steps study.Options, paths []string) (*staged.Set, error) {
	stem := export.Stem(p.Book.Study.Roof)
	all := []staged.Output{{Name: stem + ".correction.json", Write: func(w io.Writer) error { return proposal.WriteJSON(w, p) }}}
	if p.Chosen >= 0 {
		if err := p.Result.Options[p.Chosen].Study.Complete(steps); err != nil {
			return nil, err
		}
		corrected := record.NewBook(p.Result.Options[p.Chosen].Study, p.Book.Names.Roof, p.Book.Units)
		corrected.Proposed, corrected.Found = true, p.Book.Study
		more, err := export.Outputs(model.Of(corrected), k.output.Kinds, export.Options{
			Stem: stem + ".corrected", Plan: k.output.Plan, RoofFile: true, Facets: k.output.Facets,
		})
		if err != nil {
			return nil, err
		}
		all = append(append(all, sheets(p, stem, k.output.Plan)...), more...)
	}
	return staged.Stage(k.output.Target(paths), all)
}

package command

import (
	"strings"
	"sync"

	"runnel/analysis/study"
	"runnel/export"
	"runnel/export/campus"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/importer"
)

// checkAll checks every roof, several at a time, and returns their rows, worst first. What comes back
// does not depend on the number of workers.
func (k *campusRun) checkAll(jobs []importer.Job, stems []string, steps study.Options, set *staged.Set) []campus.Row {
	ids := roofIDs(jobs)
	rows := make([]campus.Row, len(jobs))
	next := make(chan int)
	done := make(chan struct{})
	var workers sync.WaitGroup
	for range min(k.workers, max(1, len(jobs))) {
		workers.Go(func() {
			for i := range next {
				rows[i] = k.checkOne(&jobs[i], stems[i], ids[i], steps, set)
				done <- struct{}{}
			}
		})
	}
	go func() {
		for i := range jobs {
			next <- i
		}
		close(next)
		workers.Wait()
		close(done)
	}()
	p := progress{out: k.Err, total: len(jobs), shown: k.Terminal}
	for range done {
		p.step()
	}
	p.end()
	campus.Sort(rows)
	return rows
}

// roofIDs returns the short id of each roof, no two the same, so that the maps of a campus can be laid over
// each other. They come from the jobs' names: what stands in the files is not known before they are read.
func roofIDs(jobs []importer.Job) []string {
	ids := make([]string, len(jobs))
	for i := range jobs {
		ids[i] = record.RoofID(jobs[i].Name)
	}
	return export.Number(ids)
}

// checkOne checks one roof and adds its files to the set. An error or a panic becomes the row's reason.
func (k *campusRun) checkOne(job *importer.Job, stem, id string, steps study.Options, set *staged.Set) (row campus.Row) {
	row = campus.Row{Name: job.Name, Stem: stem}
	defer func() {
		if v := recover(); v != nil {
			row = campus.Row{Name: job.Name, Stem: stem, Reason: oneLine(&panicError{v})}
		}
	}()
	r, err := job.Read()
	if err != nil {
		row.Reason = oneLine(err)
		return row
	}
	k.dropped.add(r.Dropped)
	k.kept.add(r.Kept)
	s, err := study.Run(r, k.input.StepsFor(r, steps))
	if err != nil {
		row.Reason = oneLine(err)
		return row
	}
	b := record.NewBook(s, id, unitsOf(k.input.US(r)))
	b.Run = k.call
	files, err := export.Outputs(model.Of(b), k.output.kinds, export.Options{Stem: stem, Split: k.output.split, Facets: k.output.facets, Plan: k.output.plan})
	if err == nil {
		err = set.Add(files)
	}
	if err != nil {
		row.Reason = oneLine(err)
		return row
	}
	return campus.NewRow(s, stem)
}

// oneLine writes an error for a cell of a table.
func oneLine(err error) string {
	text := err.Error()
	if exitCode(err) == exitFault {
		text = "internal fault: " + text
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(text, "\n", "; ")), " ")
}

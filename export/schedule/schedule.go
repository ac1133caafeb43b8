// Package schedule writes what a check found as tables for an estimator: outlets, ponds, planes and findings, as one workbook
// and as CSV files.
//
// The cells are the members of the summary's objects, under the same names, with the unit in the heading; so the workbook,
// the CSV files and the summary cannot differ. Numbers are numbers, to the summary's decimals, and a format shows fewer of them. In US
// units a depth stands once as a decimal number and once as text to the nearest eighth of an inch, as the report says it.
// There are no formulas, and no text from the input can become one.
//
// The workbook is the same to the byte from run to run: its dates are fixed and its parts are packed in the order of
// their names.
package schedule

import (
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"

	"runnel/analysis/gather"
	"runnel/export/model"
	"runnel/export/record"
)

// AllTables returns the names of all tables, which the CSV files carry.
func AllTables() []string {
	return []string{"outlets", "ponds", "planes", "findings", "storm", "sills", "cores"}
}

// Tables returns the names of the tables of b: storm, sills and cores are there where the roof was seen under a storm, where water
// comes to a sill, and where the roof was cut open.
func Tables(b *record.Book) []string {
	return gather.Each(tables(b), func(t table) string { return t.name })
}

// Created is the date in every workbook: it says nothing, so that the same input gives the same bytes.
const Created = "2000-01-01T00:00:00Z"

// Write writes the workbook.
func Write(w io.Writer, m *model.Model) error {
	k := &workbook{File: excelize.NewFile(), model: m, book: m.Book}
	if err := k.build(); err != nil {
		return fmt.Errorf("build the workbook: %w", err)
	}
	k.SetZipWriter(NewArchive)
	if err := k.Write(w); err != nil {
		return fmt.Errorf("pack the workbook: %w", err)
	}
	return k.Close()
}

// workbook is a workbook under construction.
type workbook struct {
	*excelize.File
	model  *model.Model
	book   *record.Book
	styles styles
}

func (k *workbook) build() error {
	err := k.SetDocProps(&excelize.DocProperties{Created: Created, Modified: Created, Creator: "runnel", LastModifiedBy: "runnel"})
	if err != nil {
		return err
	}
	if err := k.SetSheetName("Sheet1", "roof"); err != nil {
		return err
	}
	if err := k.makeStyles(); err != nil {
		return err
	}
	if err := k.roof(); err != nil {
		return err
	}
	for _, t := range tables(k.book) {
		if err := k.table(&t); err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
	}
	return nil
}

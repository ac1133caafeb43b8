// Command runnel-geoparquet writes the tables of a GeoPackage that runnel wrote as GeoParquet, for analysts. It is a program of its own:
// what it needs would add a fifth to the size of runnel.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"runnel/analysis/choose"
	"runnel/export/geoparquet"
	"runnel/export/staged"
)

// Exit codes, as runnel has them.
const (
	exitUsage   = 2
	exitRefused = 3
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run runs the program and returns the exit code.
func run(args []string, out, errs io.Writer) int {
	flags := flag.NewFlagSet("runnel-geoparquet", flag.ContinueOnError)
	flags.SetOutput(errs)
	folder := flags.String("o", "", "write into this `FOLDER` (default: that of the GeoPackage)")
	overwrite := flags.Bool("overwrite", false, "replace files that exist")
	flags.Usage = func() {
		_, _ = fmt.Fprint(errs, "Usage: runnel-geoparquet [-o FOLDER] [--overwrite] FILE.gpkg\n\nWrites campus.parquet, or a file for each layer of one roof, beside or into FOLDER.\n")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		return choose.If(errors.Is(err, flag.ErrHelp), 0, exitUsage)
	}
	if flags.NArg() != 1 {
		flags.Usage()
		return exitUsage
	}
	path := flags.Arg(0)
	if *folder == "" {
		*folder = filepath.Dir(path)
	}
	err := convert(path, staged.Target{Dir: *folder, Overwrite: *overwrite, Inputs: []string{path}}, out)
	var input *staged.InputError
	switch {
	case err == nil:
		return 0
	case errors.Is(err, staged.ErrExists):
		_, _ = fmt.Fprintln(errs, "runnel-geoparquet: "+err.Error()+"\nGive --overwrite to replace it, or another folder.")
		return exitUsage
	case errors.As(err, &input):
		_, _ = fmt.Fprintln(errs, "runnel-geoparquet: "+err.Error())
		return exitUsage
	}
	_, _ = fmt.Fprintln(errs, "runnel-geoparquet: "+err.Error())
	return exitRefused
}

// convert writes all tables of a GeoPackage, or none.
func convert(path string, to staged.Target, out io.Writer) error {
	if _, err := os.Stat(path); err != nil {
		return err
	}
	ctx := context.Background()
	p, err := geoparquet.Open(ctx, path)
	if err != nil {
		return err
	}
	defer func() { _ = p.Close() }()
	var outputs []staged.Output
	var names []string
	for i := range p.Tables {
		name := nameOf(path, p.Tables[i].Name)
		names = append(names, name)
		outputs = append(outputs, staged.Output{Name: name, Write: func(w io.Writer) error { return p.Write(ctx, w, &p.Tables[i]) }})
	}
	if err := staged.Free(to, names); err != nil {
		return err
	}
	set, err := staged.Begin(to)
	if err != nil {
		return err
	}
	defer set.Discard()
	if err := set.Add(outputs); err != nil {
		return err
	}
	if _, err := set.Commit(); err != nil {
		return err
	}
	for _, name := range names {
		if _, err := fmt.Fprintln(out, "wrote "+filepath.Join(to.Dir, name)); err != nil {
			return err
		}
	}
	return nil
}

// nameOf names the file of a table: campus.parquet and campus.local.parquet for those of roofs.
func nameOf(path, table string) string {
	stem := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	switch table {
	case "roof":
		return stem + ".parquet"
	case "roof_local":
		return stem + ".local.parquet"
	}
	plain := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' {
			return r
		}
		return '-'
	}, table)
	return stem + "." + plain + ".parquet"
}

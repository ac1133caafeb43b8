package command

import (
	"errors"
	"fmt"

	"runnel/analysis/fault"
	"runnel/analysis/study"
	"runnel/cmd/option"
	"runnel/export/drawing/sheet"
	"runnel/export/setout"
	"runnel/export/staged"
)

// Exit codes.
const (
	exitDone     = 0
	exitFindings = 1 // done, with findings at or above --fail-on
	exitUsage    = 2 // wrong command line, or output exists
	exitRefused  = 3 // input refused, or output not writable
	exitPartial  = 4 // campus done, some roofs failed
	exitFault    = 5 // an invariant broke: nothing was written

	exitInterrupted = 130 // ended from outside, as shells count it
)

// errFindings and errPartial end a run that is done and whose exit code says something.
var (
	errFindings = errors.New("findings at or above the severity of --fail-on")
	errPartial  = errors.New("some roofs could not be checked")
)

// usage is the error of a wrong command line.
func usage(format string, args ...any) error { return option.Usage(format, args...) }

// panicError is a panic that was caught.
type panicError struct{ value any }

func (e *panicError) Error() string { return fmt.Sprintf("unexpected: %v", e.value) }

// exitCode returns the code for how a run ended.
func exitCode(err error) int {
	var wrong *option.UsageError
	var broken *fault.Error
	var caught *panicError
	var mark *setout.UnknownMarkError
	var unfit *sheet.FitError
	var unknown *study.OutletError
	var input *staged.InputError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errPartial):
		return exitPartial
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.As(err, &wrong), errors.As(err, &unfit), errors.As(err, &mark), errors.As(err, &unknown), errors.As(err, &input), errors.Is(err, staged.ErrExists):
		return exitUsage
	case errors.As(err, &broken), errors.As(err, &caught):
		return exitFault
	}
	return exitRefused
}

// explain returns what is printed of an error, empty when the run has already said all.
func explain(err error) string {
	switch exitCode(err) {
	case exitDone, exitFindings, exitPartial:
		return ""
	case exitUsage:
		if errors.Is(err, staged.ErrExists) {
			return err.Error() + "\nGive --overwrite to replace it, or another folder."
		}
		return err.Error()
	case exitFault:
		return "internal fault, nothing was written: " + err.Error() + "\nPlease report this with the input files."
	}
	return err.Error()
}

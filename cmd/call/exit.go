package call

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
	ExitDone     = 0
	ExitFindings = 1 // done, with findings at or above --fail-on
	ExitUsage    = 2 // wrong command line, or output exists
	ExitRefused  = 3 // input refused, or output not writable
	ExitPartial  = 4 // campus done, some roofs failed
	ExitFault    = 5 // an invariant broke: nothing was written

	ExitInterrupted = 130 // ended from outside, as shells count it
)

// ErrFindings and errPartial end a run that is done and whose exit code says something.
var (
	ErrFindings = errors.New("findings at or above the severity of --fail-on")
	ErrPartial  = errors.New("some roofs could not be checked")
)

// Usage is the error of a wrong command line.
func Usage(format string, args ...any) error { return option.Usage(format, args...) }

// PanicError is a panic that was caught.
type PanicError struct{ Value any }

func (e *PanicError) Error() string { return fmt.Sprintf("unexpected: %v", e.Value) }

// Caught makes an error of a panic, where it is deferred.
func Caught(err *error) {
	if v := recover(); v != nil {
		*err = &PanicError{Value: v}
	}
}

// ExitCode returns the code for how a run ended.
func ExitCode(err error) int {
	var wrong *option.UsageError
	var broken *fault.Error
	var caught *PanicError
	var mark *setout.UnknownMarkError
	var unfit *sheet.FitError
	var unknown *study.OutletError
	var input *staged.InputError
	switch {
	case err == nil:
		return ExitDone
	case errors.Is(err, ErrPartial):
		return ExitPartial
	case errors.Is(err, ErrFindings):
		return ExitFindings
	case errors.As(err, &wrong), errors.As(err, &unfit), errors.As(err, &mark), errors.As(err, &unknown), errors.As(err, &input), errors.Is(err, staged.ErrExists):
		return ExitUsage
	case errors.As(err, &broken), errors.As(err, &caught):
		return ExitFault
	}
	return ExitRefused
}

// Explain returns what is printed of an error, empty when the run has already said all.
func Explain(err error) string {
	switch ExitCode(err) {
	case ExitDone, ExitFindings, ExitPartial:
		return ""
	case ExitUsage:
		if errors.Is(err, staged.ErrExists) {
			return err.Error() + "\nGive --overwrite to replace it, or another folder."
		}
		return err.Error()
	case ExitFault:
		return "internal fault, nothing was written: " + err.Error() + "\nPlease report this with the input files."
	}
	return err.Error()
}

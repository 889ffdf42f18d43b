package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"slices"
	"syscall"

	"github.com/spf13/pflag"

	"wayhouse/api"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/store"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
)

// Exit codes of every command. An answer that was given exits 0 whatever it says,
// unless --must-be asks for more.
const (
	exitFailed = 1 // it was stopped, the tables do not answer, somebody else was first, a mistake of the program
	exitInput  = 2 // flags, fields or files cannot be used
	exitWorse  = 3 // the answer is worse than --must-be
)

// mustBe is what an answer is asked to be at the least; "" asks nothing.
type mustBe string

func (m *mustBe) flag(set *pflag.FlagSet) {
	set.StringVar((*string)(m), "must-be", "", "")
}

// check refuses what is no bar, before the work.
func (m mustBe) check() error {
	if m == "" || slices.Contains(finding.Bars(), finding.Outcome(m)) {
		return nil
	}
	return &measure.FieldError{
		Field: "--must-be", Value: string(m), Problem: "is nothing that an answer can be asked to be",
		Fix: "use clear, conditional or review",
	}
}

// met compares what was answered; the answer was printed before.
func (m mustBe) met(answers ...finding.RollUp) error {
	for _, a := range answers {
		if m != "" && !a.Meets(finding.Outcome(m)) {
			return &worseError{m, a}
		}
	}
	return nil
}

// worseError says that an answer is worse than it must be.
type worseError struct {
	bar mustBe
	is  finding.RollUp
}

func (e *worseError) Error() string {
	return fmt.Sprintf("the answer is %s with %d unknown, and must be %s or better with nothing unknown",
		e.is.Outcome(), e.is.Unknowns, e.bar)
}

// tell prints an error and returns the exit code that belongs to it.
func tell(errs io.Writer, err error) int {
	var worse *worseError
	var trouble *store.TroubleError
	switch {
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(errs, "wayhouse: stopped before it was done; nothing was written")
		return exitFailed
	case errors.As(err, &worse):
		fmt.Fprintln(errs, "wayhouse:", err)
		return exitWorse
	case errors.As(err, &trouble): // with its cause, which the service keeps to itself
		fmt.Fprintln(errs, "wayhouse:", err)
		return exitFailed
	}
	problem, known := api.AsProblem(err)
	if !known {
		fmt.Fprintln(errs, "wayhouse:", err)
		if unusableFile(err) {
			return exitInput
		}
		return exitFailed
	}
	var files *fileError
	if errors.As(err, &files) && files.file != "" {
		problem.Detail += " in " + files.file
	}
	fmt.Fprintln(errs, "wayhouse:", problem.Detail)
	for _, e := range problem.Errors {
		fmt.Fprintln(errs, "  "+e.String())
		if e.Confirm != "" {
			fmt.Fprintf(errs, "    to go on with it: --confirm %s, or confirm: [%s] in the trip file\n", e.Confirm, e.Confirm)
		}
	}
	if problem.Status >= http.StatusInternalServerError || problem.Status == http.StatusPreconditionFailed {
		return exitFailed
	}
	return exitInput
}

// unusableFile reports whether an error is about a file that was named: what is in
// it, or that it is not there to be read.
func unusableFile(err error) bool {
	var extract *osm.InputError
	var file *network.FileError
	return errors.As(err, &extract) || errors.As(err, &file) ||
		errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EISDIR) ||
		errors.Is(err, syscall.ENOTDIR)
}

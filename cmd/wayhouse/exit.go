package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"slices"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"wayhouse/api"
	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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
		Field: "--must-be", Value: string(m), Problem: say.That("error.nothing_that_an_answer"),
		Fix: say.That("fix.use_clear_conditional_or"),
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

func (e *worseError) Error() string { return e.Remark().String() }

// Remark says what the answer is, and what it must be.
func (e *worseError) Remark() say.Remark {
	return say.That("error.worse", "is", e.is.Outcome(), "unknown", e.is.Unknowns, "bar", finding.Outcome(e.bar))
}

// tell prints an error in a language and returns the exit code that belongs to it.
func tell(errs io.Writer, in *phrase.Language, err error) int {
	var worse *worseError
	var trouble *store.TroubleError
	line := func(text string) { fmt.Fprintln(errs, "wayhouse:", text) }
	switch {
	case errors.Is(err, context.Canceled):
		line(in.Say(say.That("error.stopped")))
		return exitFailed
	case errors.As(err, &worse):
		line(in.Say(worse.Remark()))
		return exitWorse
	case errors.As(err, &trouble): // with its cause, which the service keeps to itself
		line(in.Say(trouble.Remark()))
		fmt.Fprintln(errs, "  "+err.Error())
		return exitFailed
	}
	problem, known := api.AsProblem(err)
	if !known {
		line(worded(in, err))
		if unusableFile(err) {
			return exitInput
		}
		return exitFailed
	}
	problem = problem.In(in)
	var files *fileError
	if errors.As(err, &files) && files.file != "" {
		problem.Detail = in.Say(say.That("error.in_file", "detail", problem.Detail, "file", files.file))
	}
	line(problem.Detail)
	for _, e := range problem.Errors {
		fmt.Fprintln(errs, "  "+e.String())
		if e.Confirm != "" {
			fmt.Fprintln(errs, "    "+in.Say(say.That("error.confirm", "word", e.Confirm)))
		}
	}
	if problem.Status >= http.StatusInternalServerError || problem.Status == http.StatusPreconditionFailed {
		return exitFailed
	}
	return exitInput
}

// worded is an error that nobody expects in a language: what is ours of it in a
// sentence, with what stands before it, such as the file.
func worded(in *phrase.Language, err error) string {
	var ours say.Error
	if errors.As(err, &ours) {
		return strings.Replace(err.Error(), ours.Error(), in.Say(ours.Remark()), 1)
	}
	return in.Say(say.Of(err))
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

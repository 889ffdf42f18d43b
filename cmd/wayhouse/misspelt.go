package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/export"
	"wayhouse/regs/measure"
)

// flagError says what is wrong with a flag, and which one may be meant.
func flagError(cmd *cobra.Command, err error) error {
	var strange *pflag.NotExistError
	var value *pflag.InvalidValueError
	var none *pflag.ValueRequiredError
	switch {
	case errors.As(err, &strange) && strange.GetSpecifiedShortnames() == "":
		return &measure.FieldError{
			Field: "--" + strange.GetSpecifiedName(), Problem: "is an unknown flag of " + cmd.CommandPath(),
			Fix: meant(cmd, strange.GetSpecifiedName()),
		}
	case errors.As(err, &value):
		return &measure.FieldError{
			Field: "--" + value.GetFlag().Name, Value: value.GetValue(), Problem: "is no " + kindOf(value.GetFlag()),
			Fix: "write it like " + likeOf(value.GetFlag()),
		}
	case errors.As(err, &none):
		return &measure.FieldError{
			Field: "--" + none.GetSpecifiedName(), Problem: "has no value", Fix: "write one behind it",
		}
	}
	return err
}

// kindOf names what a flag takes.
func kindOf(f *pflag.Flag) string {
	switch f.Value.Type() {
	case "int":
		return "whole number"
	case "float64":
		return "number"
	case "bool":
		return "yes or no"
	}
	return f.Value.Type()
}

// likeOf is an example of what a flag takes.
func likeOf(f *pflag.Flag) string {
	return map[string]string{
		"int": "2", "float64": "0.3", "bool": "--" + f.Name + " alone, or --" + f.Name + "=false", "duration": "30s",
		"stringToString": "status=memory",
	}[f.Value.Type()]
}

// meant names the flag that a misspelt one is most like, where it is like any.
func meant(cmd *cobra.Command, name string) string {
	best, far := "", 1+len(name)/3
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if d := levenshtein.ComputeDistance(f.Name, name); d < far && !f.Hidden {
			best, far = f.Name, d
		}
	})
	if best != "" {
		return "write --" + best
	}
	return "see " + cmd.CommandPath() + " --help"
}

// noArguments refuses arguments of a command that takes flags alone, or a command below it.
func noArguments(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case cmd.HasSubCommands():
		e := &measure.FieldError{
			Field: cmd.CommandPath(), Value: args[0], Problem: "is an unknown command", Fix: "see " + cmd.CommandPath() + " --help",
		}
		cmd.SuggestionsMinimumDistance = 2 // letters
		if like := cmd.SuggestionsFor(args[0]); len(like) > 0 {
			e.Fix = "write " + cmd.CommandPath() + " " + export.List(like)
		}
		return e
	}
	e := &measure.FieldError{
		Field: cmd.CommandPath(), Value: args[0], Problem: "takes flags alone", Fix: "see " + cmd.CommandPath() + " --help",
	}
	if f := cmd.Flags().Lookup("table"); f != nil {
		e.Fix = "name a table with --table, such as --table " + f.DefValue
	}
	return e
}

// writable refuses a file that a flag names in a folder that is not there, or that is a
// folder itself; name is what a file of its kind may be called.
func writable(flag, path, name string) error {
	e := &measure.FieldError{Field: "--" + flag, Value: path}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		e.Problem, e.Fix = "is a folder", "name a file in it, such as "+filepath.Join(path, name)
		return e
	}
	dir := filepath.Dir(path)
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	e.Problem, e.Fix = fmt.Sprintf("lies in a folder that is not there: %s", dir), "make the folder first, or name another"
	return e
}

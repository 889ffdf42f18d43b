package main

import (
	"errors"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/word"
)

// flagError says what is wrong with a flag, and which one may be meant.
func flagError(cmd *cobra.Command, err error) error {
	var strange *pflag.NotExistError
	var value *pflag.InvalidValueError
	var none *pflag.ValueRequiredError
	switch {
	case errors.As(err, &strange) && strange.GetSpecifiedShortnames() == "":
		return &measure.FieldError{
			Field: "--" + strange.GetSpecifiedName(), Problem: say.That("error.unknown_flag", "command", cmd.CommandPath()),
			Fix: meant(cmd, strange.GetSpecifiedName()),
		}
	case errors.As(err, &value):
		return &measure.FieldError{
			Field: "--" + value.GetFlag().Name, Value: value.GetValue(), Problem: kindOf(value.GetFlag()),
			Fix: say.That("fix.like", "text", likeOf(value.GetFlag())),
		}
	case errors.As(err, &none):
		return &measure.FieldError{
			Field: "--" + none.GetSpecifiedName(), Problem: say.That("error.no_value"), Fix: say.That("fix.write_one_behind_it"),
		}
	}
	var form *pflag.InvalidSyntaxError
	switch {
	case errors.As(err, &strange):
		return &measure.FieldError{
			Field: "-" + strange.GetSpecifiedShortnames(), Problem: say.That("error.unknown_flag", "command", cmd.CommandPath()),
			Fix: say.That("fix.help", "command", cmd.CommandPath()),
		}
	case errors.As(err, &form):
		return &measure.FieldError{
			Field: form.GetSpecifiedFlag(), Problem: say.That("error.no_flag"),
			Fix: say.That("fix.help", "command", cmd.CommandPath()),
		}
	}
	return err
}

// kindOf says of what kind the value of a flag is not.
func kindOf(f *pflag.Flag) say.Remark {
	switch f.Value.Type() {
	case "int":
		return say.That("error.no_whole_number")
	case "float64":
		return say.That("error.no_number")
	case "bool":
		return say.That("error.no_yes")
	}
	return say.That("error.no_value_of", "kind", f.Value.Type())
}

// likeOf is an example of what a flag takes.
func likeOf(f *pflag.Flag) string {
	return map[string]string{
		"int": "2", "float64": "0.3", "bool": "--" + f.Name + "=false", "duration": "30s", "stringToString": "status=memory",
	}[f.Value.Type()]
}

// meant names the flag that a misspelt one is most like, where it is like any.
func meant(cmd *cobra.Command, name string) say.Remark {
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near, like := word.Nearest(name, names); like {
		return say.That("fix.write", "text", "--"+near)
	}
	return say.That("fix.help", "command", cmd.CommandPath())
}

// arguments refuses less or more arguments than a command takes; most is -1 for any
// number.
func arguments(least, most int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		e := &measure.FieldError{Field: cmd.CommandPath(), Fix: say.That("fix.use", "form", cmd.UseLine())}
		switch {
		case len(args) < least:
			e.Problem = say.That("error.few_arguments", "n", len(args), "least", least)
		case most >= 0 && len(args) > most:
			e.Value, e.Problem = args[most], say.That("error.many_arguments", "n", len(args), "bound", most)
		default:
			return nil
		}
		return e
	}
}

// noArguments refuses arguments of a command that takes flags alone, or a command below it.
func noArguments(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case cmd.HasSubCommands():
		e := &measure.FieldError{
			Field: cmd.CommandPath(), Value: args[0], Problem: say.That("error.unknown_command"),
			Fix: say.That("fix.help", "command", cmd.CommandPath()),
		}
		cmd.SuggestionsMinimumDistance = 2 // letters
		if like := cmd.SuggestionsFor(args[0]); len(like) > 0 {
			e.Fix = say.That("fix.write_command", "command", cmd.CommandPath(), "words", like)
		}
		return e
	}
	e := &measure.FieldError{
		Field: cmd.CommandPath(), Value: args[0], Problem: say.That("error.takes_flags_alone"), Fix: say.That("fix.help",
			"command", cmd.CommandPath()),
	}
	if f := cmd.Flags().Lookup("table"); f != nil {
		e.Fix = say.That("fix.table", "table", f.DefValue)
	}
	return e
}

// writable refuses a file that a flag names in a folder that is not there, or that is a
// folder itself; name is what a file of its kind may be called.
func writable(flag, path, name string) error {
	e := &measure.FieldError{Field: "--" + flag, Value: path}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		e.Problem, e.Fix = say.That("error.folder"), say.That("fix.in_folder", "path", filepath.Join(path, name))
		return e
	}
	dir := filepath.Dir(path)
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	e.Problem, e.Fix = say.That("error.no_folder", "path", dir), say.That("fix.make_folder")
	return e
}

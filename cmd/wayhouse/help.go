package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// explain says in a language what every command and every flag is for. The words stand
// in the catalogue: those of a command under help and its name, such as
// help.rules.import and help.rules.import.long, those of a flag under flag.network, or
// flag.rig.network where it means another thing at one command.
func explain(in *phrase.Language, root *cobra.Command) {
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	root.SetUsageTemplate(usageOf(in, root.UsageTemplate()))
	root.SetUsageFunc(withoutDefaults(root.UsageFunc()))
	var each func(*cobra.Command)
	each = func(c *cobra.Command) {
		c.Short = in.Say(say.Remark{Code: helpCode(c)})
		if long := helpCode(c) + ".long"; in.Has(long) {
			c.Long = folded(in.Say(say.Remark{Code: long}))
		}
		c.InitDefaultHelpFlag()
		c.InitDefaultVersionFlag()
		c.DisableFlagsInUseLine = true // the library's word for them is English
		c.Use += " " + in.Say(say.That("usage.some_flags"))
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { explainFlag(in, c, f) })
		for _, sub := range c.Commands() {
			each(sub)
		}
	}
	each(root)
}

// pathOf is the name of a command after that of the program, such as .rules.import.
func pathOf(c *cobra.Command) string {
	return strings.ReplaceAll(strings.TrimPrefix(c.CommandPath(), c.Root().Name()), " ", ".")
}

func helpCode(c *cobra.Command) say.Code { return say.Code("help" + pathOf(c)) }

// flagCode is the code of what a flag is for.
func flagCode(in *phrase.Language, c *cobra.Command, f *pflag.Flag) say.Code {
	if here := say.Code("flag" + pathOf(c) + "." + f.Name); in.Has(here) {
		return here
	}
	return say.Code("flag." + f.Name)
}

// valuesOf is the annotation of a flag with the words that it takes, the default first.
const valuesOf = "values"

// explainFlag writes the usage of a flag, with its default in the words of the language.
func explainFlag(in *phrase.Language, c *cobra.Command, f *pflag.Flag) {
	f.Usage = in.Say(
		say.Remark{Code: flagCode(in, c, f), Args: []say.Arg{{Name: "values", Value: f.Annotations[valuesOf]}}},
	)
	if !slices.Contains([]string{"", "false", "0", "[]"}, f.DefValue) {
		f.Usage += in.Say(say.That("flag.default", "value", f.DefValue))
	}
}

// withoutDefaults keeps the library from writing the default of a flag beside ours.
func withoutDefaults(usage func(*cobra.Command) error) func(*cobra.Command) error {
	none := map[string]string{"int": "0", "float64": "0", "intSlice": "[]", "stringSlice": "[]", "stringArray": "[]"}
	return func(c *cobra.Command) error {
		meant := map[*pflag.Flag]string{}
		for _, set := range []*pflag.FlagSet{c.LocalFlags(), c.InheritedFlags()} {
			set.VisitAll(func(f *pflag.Flag) { meant[f], f.DefValue = f.DefValue, none[f.Value.Type()] })
		}
		err := usage(c)
		for f, value := range meant {
			f.DefValue = value
		}
		return err
	}
}

// usageOf puts the words of a language into the template of the library.
func usageOf(in *phrase.Language, template string) string {
	label := func(code say.Code) string { return in.Say(say.Remark{Code: code}) }
	return strings.NewReplacer(
		"Usage:",
		label("usage.usage"),
		"Aliases:",
		label("usage.aliases"),
		"Examples:",
		label("usage.examples"),
		"Available Commands:",
		label("usage.commands"),
		"Global Flags:",
		label("usage.global"),
		"Flags:",
		label("usage.flags"),
		`Use "`,
		label("usage.use")+` "`,
		"[command]",
		label("usage.some_command"),
		"for more information about a command.",
		label("usage.more"),
	).Replace(template)
}

// folded breaks a text into lines that a terminal has room for.
func folded(text string) string {
	const width = 90
	var b strings.Builder
	column := 0
	for i, word := range strings.Split(text, " ") {
		n := len([]rune(word))
		switch {
		case i == 0:
		case column+1+n > width:
			b.WriteString("\n")
			column = -1
		default:
			b.WriteString(" ")
		}
		b.WriteString(word)
		column += 1 + n
	}
	return b.String()
}

// unspoken refuses a language that has no words, before a command works.
func unspoken(cmd *cobra.Command) error {
	lang, _ := cmd.Flags().GetString("lang") // every command has it
	_, err := phrase.Choose(lang, "", "")
	if wrong := (*measure.FieldError)(nil); errors.As(err, &wrong) {
		wrong.Field = "--" + wrong.Field
	}
	return err
}

// speaks is the language in which a command answers.
func speaks(cmd *cobra.Command) *phrase.Language {
	lang, _ := cmd.Flags().GetString("lang") // every command has it
	in, err := phrase.Choose(lang, "", "")
	if err != nil {
		return phrase.English()
	}
	return in
}

// says writes a line of what is said.
func says(cmd *cobra.Command, r say.Remark) error {
	_, err := fmt.Fprintln(cmd.OutOrStdout(), report.Printable(speaks(cmd).Say(r)))
	return err
}

// spoken is the language of help and of what cannot be understood: that of --lang, or
// else of the settings.
func spoken(args []string, otherwise string) *phrase.Language {
	lang := ""
	for i, arg := range args {
		if word, ok := strings.CutPrefix(arg, "--lang="); ok {
			lang = word
		} else if arg == "--lang" && i+1 < len(args) {
			lang = args[i+1]
		}
	}
	in, err := phrase.Choose(cmp.Or(lang, otherwise), "", "")
	if err != nil { // the command says so
		return phrase.English()
	}
	return in
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// manCommand writes a page of the manual for each command.
func manCommand(clock func() time.Time) *cobra.Command {
	return &cobra.Command{
		Use: "man FOLDER", Args: arguments(1, 1),
		Example: "  wayhouse man man1\n  man ./man1/wayhouse-plan.1",
		RunE: func(cmd *cobra.Command, args []string) error {
			lang, err := cmd.Flags().GetString("lang")
			if err != nil {
				return err
			}
			in, err := phrase.Choose(lang, "", "")
			if err != nil {
				return err
			}
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return &measure.FieldError{
					Field: "FOLDER", Value: args[0], Problem: say.Of(err), Fix: say.That("fix.writable_folder"),
				}
			}
			return manPages(in, cmd.Root(), args[0], clock())
		},
	}
}

// manPages writes the page of a command and of those below it, with headings in a
// language; SYNOPSIS, DESCRIPTION and OPTIONS are the same in all there are.
func manPages(in *phrase.Language, c *cobra.Command, dir string, on time.Time) error {
	for _, sub := range c.Commands() {
		if !sub.IsAvailableCommand() {
			continue
		}
		if err := manPages(in, sub, dir, on); err != nil {
			return err
		}
	}
	c.DisableAutoGenTag = true
	name := strings.ReplaceAll(c.CommandPath(), " ", "-")
	var page bytes.Buffer
	head := doc.GenManHeader{Title: strings.ToUpper(name), Section: "1", Date: &on, Source: version()}
	if err := doc.GenMan(c, &head, &page); err != nil {
		return err
	}
	heading := func(code say.Code) string { return ".SH " + in.Say(say.Remark{Code: code}) + "\n" }
	text := strings.NewReplacer(
		".SH NAME\n", heading("usage.man_name"),
		".SH OPTIONS INHERITED FROM PARENT COMMANDS\n", heading("usage.man_inherited"),
		".SH EXAMPLE\n", heading("usage.man_example"), ".SH SEE ALSO\n", heading("usage.man_see"),
	).Replace(page.String())
	return os.WriteFile(filepath.Join(dir, name+".1"), []byte(text), 0o644)
}

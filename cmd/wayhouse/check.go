package main

import (
	"cmp"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/finding"
)

func checkCommand(clock func() time.Time) *cobra.Command {
	var from sources
	var tow string
	form := formOf[*regs.Design]()
	var must mustBe
	c := &cobra.Command{
		Use:  "check [unit.yaml] --in CA-ON,CA-QC",
		Args: cobra.MaximumNArgs(1),
		Example: "  wayhouse check --in CA-ON,CA-QC,CA-MB,CA-BC\n" +
			"  wayhouse check --height 4.05m --width 2.5m --in CA-ON,CA-QC\n" +
			"  wayhouse check data/example/unit.yaml --everywhere --quantity height,width",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := cmp.Or(must.check(), form.choose()); err != nil {
				return err
			}
			a, err := rigOf(args, tow)
			if err != nil {
				return err
			}
			a.lay(cmd.Flags())
			return check(cmd, from, a, form, must, clock)
		},
	}
	from.flags(c.Flags())
	f := c.Flags()
	must.flag(f)
	f.StringVar(&tow, "tow", "", "")
	inFlag(f)
	f.StringSlice("quantity", nil, "")
	over(f, "quantity", "quantities")
	sizeFlags(f, "")
	boolFlags(f, [2]string{"everywhere", "everywhere"})
	textFlags(f, [2]string{"tow-form", "tow.form"})
	moveFlags(f)
	form.flags(f)
	return c
}

func check(cmd *cobra.Command, from sources, a *asked, form *form, must mustBe,
	clock func() time.Time) error {
	known, tables, err := load(cmd.Context(), from, clock, rulesAlone)
	if err != nil {
		return err
	}
	defer tables.Close()
	d, err := known.Check(cmd.Context(), wire.DecodeValue[wire.CheckRequest](a.fields))
	if err != nil {
		return a.named(err)
	}
	err = form.write(cmd.OutOrStdout(), d)
	var found []finding.Finding
	for _, a := range d.Answers {
		found = append(found, a.Findings...)
	}
	return cmp.Or(err, must.met(finding.Roll(found)))
}

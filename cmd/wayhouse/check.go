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
		Use: "check [unit.yaml] --in CA-ON,CA-QC", Short: "Check a design against jurisdictions, without a route",
		Args: cobra.MaximumNArgs(1),
		Long: "Checks a unit, before it is built, against the limits of jurisdictions: what each says of\n" +
			"each quantity, how much is left, and the largest unit for all of them without a permit:\n" +
			"what is proven apart from what is not, and what would prove it. Without any size it\n" +
			"answers how high, wide, long and heavy a unit may be.",
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
	f.StringVar(&tow, "tow", "", "file that describes the tow vehicle")
	inFlag(f, "jurisdictions by code or name, such as CA-ON,Québec")
	f.StringSlice("quantity", nil, "only these, such as height,width")
	over(f, "quantity", "quantities")
	sizeFlags(f, "")
	boolFlags(f, [3]string{"everywhere", "everywhere", "all jurisdictions with an area or a row"})
	textFlags(f, [3]string{"tow-form", "tow.form", "what the law takes the tow vehicle for: truck_tractor, " +
		"truck, pickup or car"})
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

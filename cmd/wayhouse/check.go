package main

import (
	"cmp"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/finding"
)

func checkCommand(clock func() time.Time) *cobra.Command {
	var from sources
	var tow string
	form := formOf[*regs.Design]()
	var must mustBe
	var other against
	c := &cobra.Command{
		Use:  "check [unit.yaml] --in CA-ON,CA-QC",
		Args: arguments(0, 1),
		Example: "  wayhouse check --in CA-ON,CA-QC,CA-MB,CA-BC\n" +
			"  wayhouse check --height 4.05m --width 2.5m --in CA-ON,CA-QC\n" +
			"  wayhouse check data/example/unit.yaml --everywhere --quantity height,width\n" +
			"  wayhouse check data/example/unit.yaml --tow data/example/tow.yaml --in CA-QC --permits",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := cmp.Or(must.check(), other.choose(form)); err != nil {
				return err
			}
			a, err := rigOf(args, tow)
			if err != nil {
				return err
			}
			a.lay(cmd.Flags())
			known, done, err := loadToAsk(cmd.Context(), from, clock, rulesAlone)
			if err != nil {
				return err
			}
			defer done()
			ask := func(a *asked) (*regs.Design, error) {
				return known.Check(cmd.Context(), wire.DecodeValue[wire.CheckRequest](a.fields))
			}
			d, err := ask(a)
			if err != nil {
				return a.named(err)
			}
			err = write(cmd, other, form, d, func(file string) (*asked, error) { return rigOf([]string{file}, tow) },
				ask, service.Checks)
			return cmp.Or(err, must.met(rolled(d)))
		},
	}
	from.flags(c.Flags())
	f := c.Flags()
	must.flag(f)
	other.flag(f)
	f.StringVar(&tow, "tow", "", "")
	inFlag(f)
	f.StringSlice("quantity", nil, "")
	over(f, "quantity", "quantities")
	sizeFlags(f, "")
	boolFlags(f, [2]string{"everywhere", "everywhere"}, [2]string{"permits", "permits"})
	textFlags(f, [2]string{"tow-form", "tow.form"})
	moveFlags(f)
	form.flags(f)
	return c
}

func rolled(d *regs.Design) finding.RollUp {
	var found []finding.Finding
	for _, a := range d.Answers {
		found = append(found, a.Findings...)
	}
	return finding.Roll(found)
}

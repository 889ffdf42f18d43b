package main

import (
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/service"
	"wayhouse/routing/trip"
)

func quoteCommand(clock func() time.Time) *cobra.Command {
	f := planFlags{form: formOf[*trip.Priced]()}
	c := &cobra.Command{
		Use: "quote [trip.yaml]", Args: arguments(0, 1),
		Example: "  wayhouse quote data/example/trip.yaml --rates data/example/rates.csv\n" +
			"  wayhouse quote data/example/trip.yaml --rates data/example/rates.csv --customer",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.against.choose(f.form); err != nil {
				return err
			}
			_, err := answer(f, cmd, args, clock, (*service.Service).Quote, service.Quotes)
			return err
		},
	}
	f.ofQuote(c.Flags())
	f.form.flags(c.Flags())
	f.against.flag(c.Flags())
	return c
}

// ofQuote adds the flags of a trip and of what its quote rests on.
func (f *planFlags) ofQuote(flags *pflag.FlagSet) {
	f.ofTrip(flags)
	flags.StringVar(&f.rates, "rates", "", "")
	textFlags(
		flags,
		[2]string{"card", "quote.card"},
		[2]string{"number", "quote.number"},
		[2]string{"client", "quote.for"},
		[2]string{"currency", "quote.currency"},
		[2]string{"deadhead", "quote.deadhead"},
		[2]string{"empty-return", "quote.empty_return"},
		[2]string{"declared-value", "quote.declared_value"},
	)
	boolFlags(flags, [2]string{"customer", "quote.customer_copy"}, [2]string{"final", "quote.final"})
}

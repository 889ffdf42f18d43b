package main

import (
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
	"wayhouse/regs/clearance"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func rulesBridges(clock func() time.Time) *cobra.Command {
	var from sources
	var dry bool
	var about clearance.Inventory
	var readOn string
	c := &cobra.Command{
		Use: "import-bridges FILE.txt --year YEAR --why TEXT", Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			_, r, err := reasonOf(cmd)
			if err != nil && !dry {
				return err
			}
			if err := described(&about, readOn, clock()); err != nil {
				return err
			}
			taken, err := readInventory(cmd, args[0], about)
			if err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				p, err := t.Propose(cmd.Context(), "clearances", taken.Records, false)
				if err != nil {
					return err
				}
				return makeProposal(cmd, t, p, r, dry)
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	c.Flags().BoolVar(&dry, "dry-run", false, "")
	c.Flags().StringVar(&about.Year, "year", "", "")
	c.Flags().StringVar(&readOn, "read-on", "", "")
	return c
}

// described completes what is known of an inventory, or says what is missing.
func described(about *clearance.Inventory, readOn string, today time.Time) error {
	about.ReadOn = today
	if readOn != "" {
		day, err := time.Parse(time.DateOnly, readOn)
		if err != nil {
			return &measure.FieldError{
				Field:   "--read-on",
				Value:   readOn,
				Problem: say.That("error.no_day"),
				Fix:     say.That("fix.like", "text", "2027-03-01"),
			}
		}
		about.ReadOn = day
	}
	year, err := strconv.Atoi(about.Year)
	// the first that the Federal Highway Administration publishes is of 1992
	if err != nil || year < 1992 || year > today.Year() {
		return &measure.FieldError{
			Field: "--year", Value: about.Year, Problem: say.That("error.no_year_of_an"),
			Fix: say.That("fix.give_the_year_that"),
		}
	}
	return nil
}

func readInventory(cmd *cobra.Command, path string, about clearance.Inventory) (clearance.Taken, error) {
	raw, err := readFile(path)
	if err != nil {
		return clearance.Taken{}, err
	}
	taken, err := clearance.ReadInventory(raw, about)
	if err != nil {
		return taken, &measure.FieldError{
			Field: path, Problem: say.Of(err), Fix: say.That("fix.give_the_fixed_width"),
		}
	}
	return taken, says(cmd, say.That("command.bridges", "records", taken.Bridges, "rows", len(taken.Records),
		"measured", taken.Measured, "silent", taken.Silent, "nowhere", taken.Nowhere, "lost", taken.Lost))
}

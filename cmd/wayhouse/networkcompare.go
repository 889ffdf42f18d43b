package main

import (
	"context"
	"fmt"
	"os"
	"time"

	"github.com/paulmach/orb"
	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/change"
	"wayhouse/routing/network"
)

// comparing is how two network files are compared.
type comparing struct {
	trips  []string // files; none: everywhere
	within string
	full   bool
	json   *bool
}

// listedChanges is how many changes are listed where not all are asked for, firstChanges
// where none are, and alongWay how far
// from the way of a trip they may lie where nothing else is said: the next streets too.
const (
	listedChanges = 30
	firstChanges  = 10
	alongWay      = "500 m"
)

func networkCompare(clock func() time.Time) *cobra.Command {
	var f comparing
	c := &cobra.Command{
		Use: "compare OLD NEW", Args: cobra.ExactArgs(2),
		Example: "  wayhouse network compare east-2026.wayroads east.wayroads --along trip.yaml",
		RunE: func(cmd *cobra.Command, args []string) error {
			return compareNetworks(cmd, args[0], args[1], f, clock)
		},
	}
	c.Flags().StringArrayVar(&f.trips, "along", nil, "")
	c.Flags().StringVar(&f.within, "within", alongWay, "")
	c.Flags().BoolVar(&f.full, "full", false, "")
	f.json = jsonFlag(c)
	return c
}

func compareNetworks(cmd *cobra.Command, older, newer string, f comparing, clock func() time.Time) error {
	before, err := openNetwork(cmd.Context(), older, nil)
	if err != nil {
		return err
	}
	defer before.Close()
	after, err := openNetwork(cmd.Context(), newer, nil)
	if err != nil {
		return err
	}
	defer after.Close()
	for i, n := range []*network.Network{before, after} {
		if !change.Comparable(n) {
			return &measure.FieldError{
				Field: "network compare", Value: []string{older, newer}[i], Problem: say.That("error.no_elements"),
				Fix: say.That("fix.give_one_that_wayhouse_network"),
			}
		}
	}
	of := report.Changed{
		Before: before.About, After: after.About, Changes: change.Between(before, after), Most: listedChanges,
	}
	if len(f.trips) > 0 {
		if err := f.along(cmd.Context(), older, &of, clock); err != nil {
			return err
		}
	}
	if f.full {
		of.Most = len(of.Changes)
	}
	if *f.json {
		return export.JSON(cmd.OutOrStdout(), wire.NewNetworkChanges(speaks(cmd), of.Before, of.After, of.Changes))
	}
	return report.Changes(cmd.OutOrStdout(), speaks(cmd), of)
}

// along keeps the changes along the ways of trips, as they are planned on the old network.
func (f comparing) along(ctx context.Context, old string, of *report.Changed, clock func() time.Time) error {
	within, err := measure.ParseLength(f.within)
	if err != nil {
		return &measure.FieldError{
			Field: "--within", Value: f.within, Problem: say.Of(err), Fix: say.That("fix.like", "text", alongWay),
		}
	}
	known, done, err := loadToAsk(ctx, sources{network: old}, clock, withRoads)
	if err != nil {
		return err
	}
	defer done()
	var ways []orb.LineString
	for _, file := range f.trips {
		a, err := tripOf(file)
		if err != nil {
			return err
		}
		plan, err := known.Plan(ctx, wire.DecodeValue[wire.TripRequest](a.fields))
		if err != nil {
			return a.named(err)
		}
		for _, leg := range plan.Legs {
			ways = append(ways, leg.Line)
		}
	}
	reach := measure.Distance(within.Metres())
	of.Changes = change.Along(of.Changes, ways, reach)
	of.Along = say.That("change.trips", "count", len(f.trips), "within", reach)
	return nil
}

// sinceEarlier works out what a network changes of the file that it is to take the place of,
// before that is replaced, and returns what says so in counts: nothing where there was none.
func sinceEarlier(cmd *cobra.Command, path string, after *network.Network) func() error {
	nothing := func() error { return nil }
	if _, err := os.Stat(path); err != nil {
		return nothing
	}
	before, err := openNetwork(cmd.Context(), path, nil)
	if err != nil {
		why := say.Of(err)
		return func() error { return says(cmd, say.That("change.not_compared", "why", why)) }
	}
	defer before.Close()
	of := report.Changed{
		Before: before.About, After: after.About, Changes: change.Between(before, after), Most: firstChanges,
	}
	return func() error {
		fmt.Fprintln(cmd.OutOrStdout())
		return report.Changes(cmd.OutOrStdout(), speaks(cmd), of)
	}
}

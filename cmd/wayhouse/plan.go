package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/compare"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// planFlags are the flags of plan. What is not given is unknown.
type planFlags struct {
	sources
	from, to, tow, structures string
	rates                     string // of a quote
	via                       []string
	form                      *form
	mustBe                    mustBe
	against                   against
}

func planCommand(clock func() time.Time) *cobra.Command {
	f := planFlags{form: formOf[*trip.Plan]()}
	c := &cobra.Command{
		Use: "plan [trip.yaml]", Args: arguments(0, 1),
		Example: "  wayhouse plan data/example/trip.yaml\n" +
			"  wayhouse plan --from \"Ottawa, ON\" --to \"Montréal, QC\" --unit-height 13'2\" --unit-width 2.5m " +
			"--tow data/example/tow.yaml",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := cmp.Or(f.mustBe.check(), f.against.choose(f.form)); err != nil {
				return err
			}
			return f.plan(cmd, args, clock)
		},
	}
	f.flags(c.Flags())
	f.form.sheetFlag(c.Flags())
	f.mustBe.flag(c.Flags())
	f.against.flag(c.Flags())
	return c
}

// flags adds the flags of a trip and of its answer.
func (f *planFlags) flags(flags *pflag.FlagSet) {
	f.ofTrip(flags)
	f.form.flags(flags)
}

// ofTrip adds the flags of a trip, which every command that plans one has.
func (f *planFlags) ofTrip(flags *pflag.FlagSet) {
	f.sources.flags(flags)
	flags.Int("tables-revision", 0, "")
	over(flags, "tables-revision", "tables_revision")
	flags.StringVar(&f.network, "network", "", "")
	flags.StringVar(&f.from, "from", "", "")
	flags.StringVar(&f.to, "to", "", "")
	flags.StringArrayVar(&f.via, "via", nil, "")
	flags.StringVar(&f.tow, "tow", "", "")
	flags.StringVar(&f.structures, "structures", "", "")
	sizeFlags(flags, "unit-")
	textFlags(flags,
		[2]string{"use", "use"},
		[2]string{"fuel", "tow.fuel"},
		[2]string{"depart", "depart"},
		[2]string{"afterwards", "afterwards.to"},
		[2]string{"hazmat", "wishes.hazmat"},
		[2]string{"top-speed", "wishes.top_speed"},
		[2]string{"permit-cost", "wishes.permit_cost"},
	)
	boolFlags(flags,
		[2]string{"any-order", "any_order"},
		[2]string{"avoid-unmeasured", "avoid_unmeasured"},
		[2]string{"no-ferries", "wishes.no_ferries"},
		[2]string{"no-tolls", "wishes.no_tolls"},
		[2]string{"no-unpaved", "wishes.no_unpaved"},
		[2]string{"no-unmeasured", "wishes.no_unmeasured"},
		[2]string{"no-u-turns", "wishes.no_u_turns"},
	)
	flags.Float64("truck-roads", 0, "")
	over(flags, "truck-roads", "wishes.truck_roads")
	flags.StringSlice("not-in", nil, "")
	over(flags, "not-in", "wishes.not_in")
	listFlags(flags,
		[2]string{"not-by", "wishes.not_by"},
		[2]string{"by", "wishes.by"},
	)
	confirmFlag(flags)
}

func (f planFlags) plan(cmd *cobra.Command, args []string, clock func() time.Time) error {
	plan, err := answer(f, cmd, args, clock, (*service.Service).Plan, service.Plans)
	if err != nil {
		return err
	}
	return f.mustBe.met(plan.Verdict)
}

// answer asks a service what a trip file and the flags say, and writes what it answers,
// or in what that differs from the answer to another file.
func answer[Q, A any](f planFlags, cmd *cobra.Command, args []string, clock func() time.Time,
	ask func(*service.Service, context.Context, wire.Asked[Q]) (A, error),
	of func(a, b A) *compare.Comparison) (out A, err error) {
	a, err := f.request(cmd, args)
	if err != nil {
		return out, err
	}
	known, done, err := loadToAsk(cmd.Context(), f.sources, clock, withRoads)
	if err != nil {
		return out, err
	}
	defer done()
	f.form.view.Called, f.form.view.Printed = known.Planner.Areas.Called, clock()
	answered := func(a *asked) (A, error) { return ask(known, cmd.Context(), wire.DecodeValue[Q](a.fields)) }
	if out, err = answered(a); err != nil {
		return out, a.named(err)
	}
	return out, write(cmd, f.against, f.form, out, f.other, answered, of)
}

// other reads a trip file to compare with. Flags that name files, and stops, count where
// it says nothing of the same.
func (f planFlags) other(file string) (*asked, error) {
	a, err := tripOf(file)
	if err != nil {
		return nil, err
	}
	if a.says("stops") {
		f.from, f.to, f.via = "", "", nil
	}
	if a.says("tow") {
		f.tow = ""
	}
	if a.says("structures_csv") {
		f.structures = ""
	}
	if a.says("quote.rates_csv") {
		f.rates = ""
	}
	return a, f.beside(a)
}

// request reads the trip file, if there is one, and lays the flags over it.
func (f planFlags) request(cmd *cobra.Command, args []string) (*asked, error) {
	a := newAsked()
	if len(args) == 1 {
		var err error
		if a, err = tripOf(args[0]); err != nil {
			return nil, err
		}
	} else if f.from == "" || f.to == "" {
		return nil, &measure.FieldError{
			Field: "trip", Problem: say.That("error.nothing_to_plan"), Fix: say.That("fix.give_a_trip_file"),
		}
	}
	err := f.beside(a)
	a.lay(cmd.Flags())
	return a, err
}

// beside puts the files that flags name, and stops, over what a trip file says.
func (f planFlags) beside(a *asked) error {
	if err := a.add("tow", f.tow); err != nil {
		return err
	}
	for field, path := range map[string]string{"structures_csv": f.structures, "quote.rates_csv": f.rates} {
		if path == "" {
			continue
		}
		raw, err := readFile(path)
		if err != nil {
			return err
		}
		a.put(field, "", string(raw))
		delete(a.flags, field)
		a.files[field] = path
	}
	f.stops(a)
	return nil
}

// stops lays --from, --via and --to over the stops of a file: each replaces the
// start, what lies between, or the end.
func (f planFlags) stops(a *asked) {
	if f.from == "" && f.to == "" && len(f.via) == 0 {
		return
	}
	file, _ := a.fields["stops"].([]any)
	var start, between, end []any
	switch n := len(file); n {
	case 0:
	case 1:
		start = file
	default:
		start, between, end = file[:1], file[1:n-1], file[n-1:]
	}
	stop := func(place string) any { return map[string]any{"place": place} }
	if f.from != "" {
		start = []any{stop(f.from)}
		a.flags["stops[0]"] = "from"
	}
	if len(f.via) > 0 {
		between = nil
		for i, place := range f.via {
			between = append(between, stop(place))
			a.flags[fmt.Sprintf("stops[%d]", len(start)+i)] = "via"
		}
	}
	if f.to != "" {
		end = []any{stop(f.to)}
		a.flags[fmt.Sprintf("stops[%d]", len(start)+len(between))] = "to"
	}
	a.fields["stops"] = slices.Concat(start, between, end)
}

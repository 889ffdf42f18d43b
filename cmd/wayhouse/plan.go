package main

import (
	"cmp"
	"encoding/json"
	"log/slog"
	"os"
	"slices"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// planFlags are the flags of plan. What is not given is unknown.
type planFlags struct {
	sources
	tow, depart, from, to, structures string
	via, confirm                      []string
	unit                              struct{ height, width, length, mass, kind, coupling string }
	rig                               struct{ height, width, length, mass string }
	json, avoid                       bool
	revision                          int
	wishes                            wishFlags
	mustBe                            mustBe
}

func planCommand(clock func() time.Time) *cobra.Command {
	var f planFlags
	c := &cobra.Command{
		Use: "plan [trip.yaml]", Short: "Plan a trip, or check a given route", Args: cobra.MaximumNArgs(1),
		Example: "  wayhouse plan data/example/trip.yaml\n" +
			"  wayhouse plan --from \"Ottawa, ON\" --to \"Montréal, QC\" --unit-height 13'2\" --unit-width 2.5m --tow data/example/tow.yaml",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.mustBe.check(); err != nil {
				return err
			}
			request, err := f.request(cmd, args)
			if err != nil {
				return err
			}
			return f.plan(cmd, request, clock)
		},
	}
	f.flags(c.Flags())
	f.mustBe.flag(c.Flags())
	return c
}

// flags adds the flags of a trip, which every command that plans one has.
func (f *planFlags) flags(flags *pflag.FlagSet) {
	f.sources.flags(flags)
	f.wishes.flags(flags)
	flags.IntVar(&f.revision, "tables-revision", 0, "plan with the tables as they were at this revision (default: the newest)")
	flags.StringVar(&f.network, "network", "", "network file to plan on (default: the bundled roads)")
	flags.BoolVar(&f.avoid, "avoid-unmeasured", false, "go round what hangs over the road without a usable clear height")
	flags.StringVar(&f.from, "from", "", "where the trip starts, such as \"Ottawa, ON\"")
	flags.StringVar(&f.to, "to", "", "where it ends")
	flags.StringArrayVar(&f.via, "via", nil, "a stop on the way; may be repeated")
	flags.StringVar(&f.depart, "depart", "", "such as 2027-05-11T08:00, on the clock of the first stop (default: now)")
	flags.StringVar(&f.unit.height, "unit-height", "", "height of the unit as it travels, such as 13'2\" or 4.02m")
	flags.StringVar(&f.unit.width, "unit-width", "", "greatest width of the unit, eaves included")
	flags.StringVar(&f.unit.length, "unit-length", "", "length of the unit, coupling included")
	flags.StringVar(&f.unit.mass, "unit-mass", "", "gross mass of the unit, such as 6.4t or 14,000lb")
	flags.StringVar(&f.unit.kind, "kind", "", "what the law takes the unit for, such as recreational_trailer")
	flags.StringVar(&f.unit.coupling, "coupling", "", "ball, pintle, fifth_wheel or gooseneck")
	flags.StringVar(&f.tow, "tow", "", "file that describes the tow vehicle")
	flags.StringVar(&f.rig.height, "rig-height", "", "height of the whole rig")
	flags.StringVar(&f.rig.width, "rig-width", "", "width of the whole rig")
	flags.StringVar(&f.rig.length, "rig-length", "", "length of the whole rig, coupled")
	flags.StringVar(&f.rig.mass, "rig-mass", "", "mass of the whole rig")
	flags.StringVar(&f.structures, "structures", "", "CSV file of structures with their clear heights")
	flags.StringArrayVar(&f.confirm, "confirm", nil, "answer a question with yes; may be repeated")
	flags.BoolVar(&f.json, "json", false, "print what the API returns")
}

func (f planFlags) plan(cmd *cobra.Command, request wire.TripRequest, clock func() time.Time) error {
	service, done, err := f.service(cmd, clock)
	if err != nil {
		return err
	}
	defer done()
	plan, err := service.Plan(cmd.Context(), request)
	if err != nil {
		return err
	}
	if f.json {
		err = printJSON(cmd, wire.NewTrip(plan))
	} else {
		err = report.Text(cmd.OutOrStdout(), plan, credits(plan.About))
	}
	return cmp.Or(err, f.mustBe.met(plan.Verdict))
}

// service opens what the flags name; done closes it.
func (f planFlags) service(cmd *cobra.Command, clock func() time.Time) (service *api.Service, done func(), err error) {
	service, tables, err := load(cmd.Context(), f.sources, clock, slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil)))
	if err != nil {
		return nil, nil, err
	}
	return service, func() { tables.Close() }, nil
}

// printJSON prints an answer as the API returns it.
func printJSON(cmd *cobra.Command, answer any) error {
	e := json.NewEncoder(cmd.OutOrStdout())
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(answer)
}

// credits are what an answer on a network must carry, a line each.
func credits(about network.About) (lines []string) {
	for _, a := range wire.Credits(about, false) {
		lines = append(lines, a.String())
	}
	return lines
}

// request reads the trip file, if there is one, and lays the flags over it.
func (f planFlags) request(cmd *cobra.Command, args []string) (wire.TripRequest, error) {
	var q wire.TripRequest
	if len(args) == 1 {
		var err error
		if q, err = readTrip(args[0]); err != nil {
			return q, err
		}
	} else if f.from == "" || f.to == "" {
		return q, &measure.FieldError{Field: "trip", Problem: "nothing to plan", Fix: "give a trip file, or --from and --to"}
	}
	if f.tow != "" {
		tow, err := readTow(f.tow)
		if err != nil {
			return q, err
		}
		q.Tow = tow
	}
	if f.structures != "" {
		raw, err := os.ReadFile(f.structures)
		if err != nil {
			return q, err
		}
		q.StructuresCSV = string(raw)
	}
	f.overlay(&q)
	return q, nil
}

// overlay replaces what a flag was given for.
func (f planFlags) overlay(q *wire.TripRequest) {
	set := func(flag string, text **string, number **float64) {
		if flag != "" {
			*text, *number = &flag, nil
		}
	}
	u := &q.Unit
	set(f.unit.height, &u.Height, &u.HeightM)
	set(f.unit.width, &u.Width, &u.WidthM)
	set(f.unit.length, &u.Length, &u.LengthM)
	set(f.unit.mass, &u.Mass, &u.MassKG)
	if f.unit.kind != "" {
		u.Kind = f.unit.kind
	}
	if f.unit.coupling != "" {
		u.Coupling = f.unit.coupling
	}
	if f.rig != (struct{ height, width, length, mass string }{}) {
		if q.Rig == nil {
			q.Rig = &wire.RigRequest{}
		}
		set(f.rig.height, &q.Rig.Height, &q.Rig.HeightM)
		set(f.rig.width, &q.Rig.Width, &q.Rig.WidthM)
		set(f.rig.length, &q.Rig.Length, &q.Rig.LengthM)
		set(f.rig.mass, &q.Rig.Mass, &q.Rig.MassKG)
	}
	if f.depart != "" {
		q.Depart = f.depart
	}
	q.AvoidUnmeasured = q.AvoidUnmeasured || f.avoid
	if f.revision != 0 {
		q.TablesRevision = f.revision
	}
	q.Confirm = append(q.Confirm, f.confirm...)
	q.Stops = f.stops(q.Stops)
	f.wishes.overlay(q)
}

// stops lays --from, --via and --to over the stops of a file: each replaces the
// start, what lies between, or the end.
func (f planFlags) stops(file []wire.StopRequest) []wire.StopRequest {
	var start, between, end []wire.StopRequest
	switch n := len(file); n {
	case 0:
	case 1:
		start = file
	default:
		start, between, end = file[:1], file[1:n-1], file[n-1:]
	}
	if f.from != "" {
		start = []wire.StopRequest{{Place: f.from}}
	}
	if len(f.via) > 0 {
		between = nil
		for _, v := range f.via {
			between = append(between, wire.StopRequest{Place: v})
		}
	}
	if f.to != "" {
		end = []wire.StopRequest{{Place: f.to}}
	}
	return slices.Concat(start, between, end)
}

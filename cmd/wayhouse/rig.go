package main

import (
	"bytes"
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/export"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// rigFlags are what wayhouse rig is asked beside the files.
type rigFlags struct {
	tow, along, draw string
	form             *form
	mustBe           mustBe
	against          against
}

func rigCommand(clock func() time.Time) *cobra.Command {
	var from sources
	f := rigFlags{form: formOf[*wire.RigAnswer]()}
	c := &cobra.Command{
		Use:  "rig [unit.yaml] [--tow tow.yaml]",
		Args: arguments(0, 1),
		Example: "  wayhouse rig data/example/unit.yaml --tow data/example/tow.yaml --in CA-ON,CA-QC\n" +
			"  wayhouse rig data/example/unit.yaml --tow data/example/tow.yaml --along data/example/trip.yaml --draw rig.svg\n" +
			"  wayhouse rig data/example/unit.yaml --tow data/example/tow.yaml --corner 8m --into 6m --turn right",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := cmp.Or(f.mustBe.check(), f.against.choose(f.form), f.drawnToFile()); err != nil {
				return err
			}
			a, err := f.read(args)
			if err != nil {
				return err
			}
			a.lay(cmd.Flags())
			return showRig(cmd, from, a, f, clock)
		},
	}
	from.flags(c.Flags())
	set := c.Flags()
	f.mustBe.flag(set)
	f.against.flag(set)
	set.StringVar(&from.network, "network", "", "")
	set.StringVar(&f.tow, "tow", "", "")
	set.StringVar(&f.along, "along", "", "")
	set.StringVar(&f.draw, "draw", "", "")
	set.Float64("windward-share", 0, "")
	over(set, "windward-share", "conditions.windward_share")
	set.Float64("temperature", 0, "")
	over(set, "temperature", "conditions.temperature_c")
	inFlag(set)
	textFlags(set, [2]string{"fuel", "tow.fuel"}, [2]string{"top-speed", "wishes.top_speed"})
	cornerFlags(set)
	moveFlags(set)
	sizeFlags(set, "")
	f.form.flags(set)
	c.AddCommand(partsCommand())
	return c
}

// cornerFlags adds the flags that tell of a corner, a driveway or a gate to try.
func cornerFlags(set *pflag.FlagSet) {
	textFlags(set, [2]string{"corner", "corner.from"}, [2]string{"into", "corner.into"}, [2]string{"turn", "corner.turn"},
		[2]string{"kerb-radius", "corner.kerb_radius"}, [2]string{"gate", "corner.gate.width"},
		[2]string{"gate-behind", "corner.gate.behind"}, [2]string{"gate-offset", "corner.gate.offset"})
	boolFlags(set, [2]string{"goes-on", "corner.goes_on"})
	set.Float64("angle", 0, "")
	over(set, "angle", "corner.angle_deg")
}

// drawnToFile refuses to put a drawing where the answer goes, or where no file can be.
func (f rigFlags) drawnToFile() error {
	if f.draw == "" {
		return nil
	}
	if f.draw == "-" {
		return &measure.FieldError{
			Field: "--draw", Value: f.draw, Problem: say.That("error.where_the_answer_is"),
			Fix: say.That("fix.use_format_svg_which"),
		}
	}
	if _, err := f.picture(); err != nil {
		return err
	}
	return writable("draw", f.draw, "rig.svg")
}

// picture is the format that the end of the file's name tells.
func (f rigFlags) picture() (export.Format, error) {
	among := export.Pictures[*wire.RigAnswer]()
	i := slices.IndexFunc(among, func(p export.Format) bool { return filepath.Ext(f.draw) == "."+p.Name })
	if i < 0 {
		return export.Format{}, &measure.FieldError{Field: "--draw", Value: f.draw, Problem: say.That("error.no_picture"),
			Fix: say.That("fix.end_the_name_of", "ends", export.Names(among))}
	}
	return among[i], nil
}

// besideWay are the fields of a trip file that say nothing of its way.
var besideWay = []string{"name", "unit", "tow", "rig", "tables_revision", "confirm"}

// read reads the files that a question about a rig names. Of the trip file all counts
// but the rig and what is asked about it.
func (f rigFlags) read(unit []string) (*asked, error) {
	a, err := rigOf(unit, f.tow)
	if err != nil || f.along == "" {
		return a, err
	}
	way, err := tripOf(f.along)
	if err != nil {
		return nil, err
	}
	for name, said := range way.fields {
		if !slices.Contains(besideWay, name) {
			a.fields[name] = said
		}
	}
	for path, file := range way.files {
		if !slices.Contains(besideWay, path) {
			a.files[path] = file
		}
	}
	return a, nil
}

func showRig(cmd *cobra.Command, from sources, a *asked, f rigFlags, clock func() time.Time) error {
	of := rulesAlone
	if f.along != "" {
		of = withRoads
	}
	known, done, err := loadToAsk(cmd.Context(), from, clock, of)
	if err != nil {
		return err
	}
	defer done()
	f.form.view.Printed = clock()
	ask := func(a *asked) (*wire.RigAnswer, error) {
		return known.Rig(cmd.Context(), wire.DecodeValue[wire.RigQuestion](a.fields))
	}
	answer, err := ask(a)
	if err != nil {
		return a.named(err)
	}
	if f.draw != "" {
		if err := f.drawInto(answer); err != nil {
			return err
		}
	}
	err = write(cmd, f.against, f.form, answer, func(file string) (*asked, error) { return f.read([]string{file}) }, ask,
		service.Rigs)
	answers := []finding.RollUp{finding.Roll(answer.Findings)}
	if answer.Plan != nil {
		answers = append(answers, answer.Plan.Verdict)
	}
	return cmp.Or(err, f.mustBe.met(answers...))
}

// drawInto writes the drawing beside its place first, so that a picture is whole
// or not there.
func (f rigFlags) drawInto(a *wire.RigAnswer) error {
	form, err := f.picture()
	if err != nil {
		return err
	}
	var picture bytes.Buffer
	if err := form.Write(&picture, f.form.view, a); err != nil {
		return err
	}
	part, err := os.CreateTemp(filepath.Dir(f.draw), ".rig-*")
	if err != nil {
		return &measure.FieldError{
			Field: "--draw", Value: f.draw, Problem: say.Of(err),
			Fix: say.That("fix.give_a_file_in"),
		}
	}
	defer os.Remove(part.Name())
	if _, err := picture.WriteTo(part); err != nil {
		part.Close()
		return err
	}
	if err := part.Close(); err != nil {
		return err
	}
	return os.Rename(part.Name(), f.draw)
}

func partsCommand() *cobra.Command {
	form := formOf[*wire.PartList]()
	c := &cobra.Command{
		Use: "parts", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			list, err := service.Parts(form.view.In)
			if err != nil {
				return err
			}
			return form.write(cmd.OutOrStdout(), list)
		},
	}
	form.ofList(c.Flags())
	return c
}

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	papers "wayhouse/api/paper"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// papersFlags are those of a plan, and which papers of it go where.
type papersFlags struct {
	planFlags
	folder string
	only   []string
}

func papersCommand(clock func() time.Time) *cobra.Command {
	f := papersFlags{planFlags: planFlags{form: &form{among: export.Papers()}}}
	c := &cobra.Command{
		Use: "papers [trip.yaml] --folder DIR", Args: arguments(0, 1),
		Example: "  wayhouse papers data/example/trip.yaml --folder papers\n" +
			"  wayhouse papers data/example/trip.yaml --folder papers --only route-sheet,checklist --format html",
		RunE: func(cmd *cobra.Command, args []string) error {
			kinds, err := f.kinds()
			if err != nil {
				return err
			}
			if err := f.form.choose(); err != nil {
				return err
			}
			return f.print(cmd, args, kinds, clock)
		},
	}
	f.flags(c.Flags())
	c.Flags().StringVar(&f.folder, "folder", "", "")
	c.Flags().StringSliceVar(&f.only, "only", nil, "")
	_ = c.Flags().SetAnnotation("only", valuesOf, kindNames()) // the flag is there
	return c
}

func kindNames() (out []string) {
	for _, k := range papers.Kinds() {
		out = append(out, string(k))
	}
	return out
}

// kinds are the papers that are asked for, none for all; a folder is refused before the
// work where none is named.
func (f papersFlags) kinds() (out []papers.Kind, err error) {
	if f.folder == "" {
		return nil, &measure.FieldError{Field: "--folder", Problem: say.That("error.missing"),
			Fix: say.That("fix.like", "text", "--folder papers")}
	}
	for _, name := range f.only {
		if !slices.Contains(kindNames(), name) {
			return nil, &measure.FieldError{Field: "--only", Value: name, Problem: say.That("error.no_such_paper"),
				Fix: say.That("fix.one_of", "words", kindNames())}
		}
		out = append(out, papers.Kind(name))
	}
	return out, nil
}

// print plans the trip, writes a file for each of its papers and lists them.
func (f papersFlags) print(cmd *cobra.Command, args []string, kinds []papers.Kind, clock func() time.Time) error {
	a, err := f.request(cmd, args)
	if err != nil {
		return err
	}
	known, done, err := loadToAsk(cmd.Context(), f.sources, clock, withRoads)
	if err != nil {
		return err
	}
	defer done()
	plan, err := known.Plan(cmd.Context(), wire.DecodeValue[wire.TripRequest](a.fields))
	if err != nil {
		return a.named(err)
	}
	f.form.view.Printed = clock()
	on, err := export.Print(f.form.view)
	if err != nil {
		return asFlag(err)
	}
	if err := os.MkdirAll(f.folder, 0o755); err != nil {
		return &measure.FieldError{Field: "--folder", Value: f.folder, Problem: say.Of(err), Fix: say.That("fix.make_folder")}
	}
	for _, d := range papers.Of(papers.OfTrip(on, plan), kinds) {
		path := filepath.Join(f.folder, d.Name()+"."+f.form.chosen.Name)
		var text bytes.Buffer
		if err := f.form.chosen.Write(&text, f.form.view, []papers.Doc{d}); err != nil {
			return err
		}
		if err := replaceFile(path, text.Bytes()); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(cmd.OutOrStdout(), path); err != nil {
			return err
		}
	}
	return nil
}

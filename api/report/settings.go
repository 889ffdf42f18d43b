package report

import (
	"cmp"
	"fmt"
	"io"
	"text/tabwriter"

	"wayhouse/api/wire"
	"wayhouse/regs/say"
)

// Settings writes what each flag says where it is not given, and by what.
func Settings(w io.Writer, v View, s wire.Settings) error {
	columns := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, one := range s.Settings {
		value := cmp.Or(one.Value, v.In.Say(say.That("config.unset")))
		line := fmt.Sprintf("%s\t%s\t%s", one.Flag, one.Variable, Printable(value))
		if one.By != "" {
			line += "\t" + Printable(one.By)
		}
		fmt.Fprintln(columns, line)
	}
	if err := columns.Flush(); err != nil {
		return err
	}
	file := say.That("config.no_file", "file", s.File)
	if s.There {
		file = say.That("config.file", "file", s.File)
	}
	_, err := fmt.Fprintf(w, "%s\n%s\n", Printable(v.In.Say(file)), v.In.Say(say.That("config.order")))
	return err
}

package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/phrase"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
)

func answerCommand(clock func() time.Time) *cobra.Command {
	var from sources
	a := &answering{now: clock}
	var lang string
	c := &cobra.Command{
		Use: "answer FILE NAME=VALUE...", Args: arguments(2, -1),
		Example: "  wayhouse answer unit.yaml kind=recreational_trailer use=private\n" +
			"  wayhouse answer trip.yaml unit.combination=semitrailer rig.front_overhang=\"0 m\"\n" +
			"  wayhouse answer unit.yaml ca-on-width-01=yes --who \"permit office, by phone\" --on 2026-11-20\n" +
			"  wayhouse answer trip.yaml office:CA-QC=clear --who \"permit office, J. Doe\" --until 2027-06-30\n" +
			"  wayhouse answer trip.yaml meet=done --ask 1,2 --who \"the driver\"",
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			if a.in, err = phrase.Choose(lang, "", ""); err != nil {
				return err
			}
			if a.on == "" {
				a.on = clock().Format(time.DateOnly)
			}
			if err := a.open(args[0]); err != nil {
				return err
			}
			of := rulesAlone
			if a.trip && slices.ContainsFunc(args[1:], namesTask) {
				of = withRoads
			}
			known, done, err := loadToAsk(cmd.Context(), from, clock, of)
			if err != nil {
				return err
			}
			defer done()
			a.known = known
			for _, arg := range args[1:] {
				if err := a.answer(cmd.Context(), arg); err != nil {
					return err
				}
			}
			return a.keep(cmd.OutOrStdout())
		},
	}
	from.flags(c.Flags())
	c.Flags().StringVar(&from.network, "network", "", "")
	c.Flags().StringVar(&lang, "lang", "", "")
	a.flags(c.Flags())
	return c
}

func (a *answering) flags(f *pflag.FlagSet) {
	f.StringVar(&a.who, "who", "", "")
	f.StringVar(&a.on, "on", "", "")
	f.StringVar(&a.until, "until", "", "")
	f.StringVar(&a.condition, "condition", "", "")
	f.IntSliceVar(&a.asks, "ask", nil, "")
	f.StringVar(&a.towFile, "tow", "", "")
	f.StringSliceVar(&a.within, "in", nil, "")
}

// answering is answers on their way into files.
type answering struct {
	in    *phrase.Language
	known *service.Service
	now   func() time.Time

	who, on, until, condition string
	asks                      []int // of a task; none: all
	towFile                   string
	within                    []string

	trip  bool // it is that of a trip
	tow   bool // it is that of a tow vehicle
	parts map[string]*paper
	lists []task.List // of the file as it was, once a task is answered
	told  []say.Remark
}

// paper is the file of a unit, a tow vehicle or a trip.
type paper struct {
	path    string
	text    []byte
	fields  map[string]any
	changed bool
}

// ofTrip are fields that only a trip has.
var ofTrip = []string{"stops", "unit", "tow", "rig", "depart", "route"}

// open reads the file that was named, and those that a trip names.
func (a *answering) open(path string) error {
	p, err := openPart(path)
	if err != nil {
		return err
	}
	a.parts = map[string]*paper{}
	for _, field := range ofTrip {
		_, has := p.fields[field]
		a.trip = a.trip || has
	}
	if !a.trip {
		a.parts[""] = p
		return nil
	}
	a.parts["trip"] = p
	for _, name := range []string{"unit", "tow"} {
		if file, named := p.fields[name].(string); named {
			if a.parts[name], err = openPart(besideFile(path, file)); err != nil {
				return err
			}
		}
	}
	return nil
}

func openPart(path string) (*paper, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	p := &paper{path: path, text: text}
	return p, p.read()
}

// read takes the fields of the text.
func (p *paper) read() (err error) {
	p.fields, err = fieldsIn(p.path, p.text)
	return err
}

// answer puts one answer into the text of its file.
func (a *answering) answer(ctx context.Context, arg string) error {
	name, value, ok := strings.Cut(arg, "=")
	if !ok || name == "" || value == "" {
		return &measure.FieldError{
			Field:   arg,
			Problem: say.That("error.no_answer"),
			Fix:     say.That("fix.like", "text", "unit.kind=tiny_home"),
		}
	}
	switch {
	case a.known.Planner.Tables.HasLimit(name):
		return a.row(name, value)
	case namesTask(arg):
		return a.task(ctx, name, value)
	}
	p, path, err := a.place(name)
	if err != nil {
		return err
	}
	if p.text, err = setField(p.text, path, scalar(value)); err != nil {
		return unwritten(p, name, value, err)
	}
	a.told = append(a.told, say.That("answer.kept", "file", p.path, "field", name, "value", value))
	p.changed = true
	return p.read()
}

// place is the file that takes a field, and the field there.
func (a *answering) place(name string) (*paper, string, error) {
	of, field, inside := strings.Cut(name, ".")
	switch {
	case !a.trip && inside && of == "rig":
		return nil, "", &measure.FieldError{Field: name, Problem: say.That("error.a_field_of_a"),
			Fix: say.That("fix.name_the_file_of")}
	case !a.trip && inside && (of == "unit" || of == "tow"):
		a.tow = a.tow || of == "tow"
		return a.parts[""], field, nil
	case !a.trip:
		return a.parts[""], name, nil
	case inside && a.parts[of] != nil:
		return a.parts[of], field, nil
	}
	return a.parts["trip"], name, nil
}

// row puts what somebody said of a row into the file of the unit.
func (a *answering) row(id, value string) error {
	holds, known := map[string]bool{"yes": true, "true": true, "no": false, "false": false}[value]
	switch {
	case !known:
		return &measure.FieldError{Field: id, Value: value, Problem: say.That("error.neither_yes_nor_no"),
			Fix: say.That("fix.say_whether_the_row")}
	case a.who == "":
		return &measure.FieldError{
			Field:   "--who",
			Problem: say.That("error.missing"),
			Fix:     say.That("fix.say_who_said_whether"),
		}
	}
	p, path, err := a.place("unit.answers")
	if err != nil {
		return err
	}
	item := fmt.Sprintf("{row: %s, holds: %t, who: %s, said_on: %s}", id, holds, quoted(a.who), quoted(a.on))
	if p.text, err = appendItem(p.text, path, item); err != nil {
		return unwritten(p, path, item, err)
	}
	t := regs.Told{Row: id, Holds: holds, Who: a.who}
	a.told = append(a.told, say.That("answer.kept", "file", p.path, "field", id, "value", t.Answers()))
	p.changed = true
	return p.read()
}

// unwritten says of a form that this command does not write into what to write there.
func unwritten(p *paper, field, value string, err error) error {
	return &measure.FieldError{
		Field:   p.path,
		Problem: say.Of(err),
		Fix:     say.That("fix.write_there", "text", field+": "+value),
	}
}

// keep writes the files, unless what they say now is refused.
func (a *answering) keep(w io.Writer) error {
	asked := newAsked()
	asked.fields["in"] = []any{"CA-ON"}
	for name, p := range a.parts {
		switch name {
		case "trip":
			asked.files[""] = p.path
			for _, field := range []string{"unit", "tow", "rig", "use", "confirm", "done"} {
				if _, named := p.fields[field].(string); !named && p.fields[field] != nil || field == "use" {
					asked.fields[field] = p.fields[field]
				}
			}
		case "":
			part := map[bool]string{true: "tow", false: "unit"}[a.tow]
			asked.fields[part], asked.files[part] = p.fields, p.path
		default:
			asked.fields[name], asked.files[name] = p.fields, p.path
		}
	}
	q := wire.DecodeValue[wire.CheckRequest](asked.fields)
	known := wire.Known{Areas: a.known.Planner.Areas, Tables: a.known.Planner.Tables, Now: a.now(), Refused: q.Refused}
	if _, err := q.Said.Read(known); err != nil {
		return asked.named(err)
	}
	for _, p := range a.parts {
		if p.changed {
			if err := replaceFile(p.path, p.text); err != nil {
				return err
			}
			p.changed = false
		}
	}
	for _, r := range a.told {
		fmt.Fprintln(w, a.in.Sentences([]say.Remark{r}))
	}
	return nil
}

// replaceFile writes a file whole or not at all.
func replaceFile(path string, text []byte) error {
	mode := os.FileMode(0o644)
	if is, err := os.Stat(path); err == nil {
		mode = is.Mode().Perm()
	}
	next := path + ".new"
	if err := os.WriteFile(next, text, mode); err != nil {
		return err
	}
	return os.Rename(next, path)
}

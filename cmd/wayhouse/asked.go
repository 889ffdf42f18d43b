package main

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/wire"
	"wayhouse/regs/say"
)

// asked is what a command is asked: the fields that its files say, with those of
// flags laid over. It is read as a body of the service is.
type asked struct {
	fields map[string]any
	files  map[string]string // by the field that each says; "" for the whole
	flags  map[string]string // by the field that each gave
	beside map[string]string // by the field that each could have given
}

func newAsked() *asked {
	return &asked{fields: map[string]any{}, files: map[string]string{}, flags: map[string]string{}}
}

// flagsOf is what flags alone ask.
func flagsOf(cmd *cobra.Command) *asked {
	a := newAsked()
	a.lay(cmd.Flags())
	return a
}

// over lays a flag that is in the set over a field of the request.
func over(set *pflag.FlagSet, flag, field string) {
	_ = set.SetAnnotation(flag, fieldOf, []string{field}) // it fails for a flag that there is not
}

// fieldOf is the annotation of a flag that names its field.
const fieldOf = "field"

// textFlags adds flags that each take a text for a field.
func textFlags(set *pflag.FlagSet, flags ...[2]string) {
	for _, f := range flags {
		set.String(f[0], "", "")
		over(set, f[0], f[1])
	}
}

// sizeFlags adds the flags that describe a unit and a rig without a file: those of the
// unit's sizes under a prefix.
func sizeFlags(set *pflag.FlagSet, unit string) {
	textFlags(set,
		[2]string{unit + "height", "unit.height"},
		[2]string{unit + "width", "unit.width"},
		[2]string{unit + "length", "unit.length"},
		[2]string{unit + "mass", "unit.mass"},
		[2]string{"kind", "unit.kind"},
		[2]string{"coupling", "unit.coupling"},
		[2]string{"combination", "unit.combination"},
		[2]string{"rig-height", "rig.height"},
		[2]string{"rig-width", "rig.width"},
		[2]string{"rig-length", "rig.length"},
		[2]string{"rig-mass", "rig.mass"},
		[2]string{"rated-mass", "rig.rated_mass"},
		[2]string{"front-overhang", "rig.front_overhang"},
		[2]string{"rear-overhang", "rig.rear_overhang"},
	)
}

// boolFlags adds flags that each set a field to true.
func boolFlags(set *pflag.FlagSet, flags ...[2]string) {
	for _, f := range flags {
		set.Bool(f[0], false, "")
		over(set, f[0], f[1])
	}
}

// listFlags adds flags that may be repeated and replace a list.
func listFlags(set *pflag.FlagSet, flags ...[2]string) {
	for _, f := range flags {
		set.StringArray(f[0], nil, "")
		over(set, f[0], f[1])
	}
}

// inFlag adds the flag that names jurisdictions.
func inFlag(set *pflag.FlagSet) {
	set.StringSlice("in", nil, "")
	over(set, "in", "in")
}

// moveFlags adds the flags of a move without a way.
func moveFlags(set *pflag.FlagSet) {
	textFlags(set, [2]string{"use", "use"},
		[2]string{"day", "day"})
	set.Int("tables-revision", 0, "")
	over(set, "tables-revision", "tables_revision")
	confirmFlag(set)
}

func confirmFlag(set *pflag.FlagSet) {
	listFlags(set, [2]string{"confirm", "confirm"})
}

// lay lays the flags that were given over the fields of files, and the defaults of
// flags under them.
func (a *asked) lay(set *pflag.FlagSet) { a.take(set, func(string) bool { return true }) }

// fill lays flags under the fields of files, but for those that describe a rig.
func (a *asked) fill(set *pflag.FlagSet) {
	a.take(set, func(path string) bool {
		part, _, _ := strings.Cut(path, ".")
		return !slices.Contains([]string{"unit", "tow", "rig"}, part) && !a.says(path)
	})
}

// take puts what flags say, those that were given only where they may.
func (a *asked) take(set *pflag.FlagSet, may func(path string) bool) {
	a.beside = map[string]string{}
	set.VisitAll(func(f *pflag.Flag) {
		path := f.Annotations[fieldOf]
		if len(path) == 0 {
			return
		}
		a.beside[path[0]] = f.Name
		if f.Changed && !may(path[0]) {
			return
		}
		if f.Changed && f.Name == "confirm" { // beside what the file answers
			answered, _ := a.at("confirm").([]any)
			a.put("confirm", f.Name, append(answered, saidBy(f).([]any)...))
		} else if f.Changed {
			a.put(path[0], f.Name, saidBy(f))
		} else if !slices.Contains([]string{"", "0", "false", "[]"}, f.DefValue) && a.at(path[0]) == nil {
			a.put(path[0], f.Name, saidBy(f))
		}
	})
}

// saidBy is the value of a flag as JSON has it.
func saidBy(f *pflag.Flag) any {
	text := f.Value.String()
	if many, ok := f.Value.(pflag.SliceValue); ok {
		return list(many.GetSlice())
	}
	switch f.Value.Type() {
	case "bool":
		return text == "true"
	case "int", "float64":
		if n, err := strconv.ParseFloat(text, 64); err == nil {
			return n
		}
	}
	return text
}

func list(in []string) []any {
	out := []any{}
	for _, text := range in {
		out = append(out, text)
	}
	return out
}

// at is what a field says; nil for nothing.
func (a *asked) at(path string) any {
	in := a.fields
	names := strings.Split(path, ".")
	for _, name := range names[:len(names)-1] {
		in, _ = in[name].(map[string]any)
	}
	return in[names[len(names)-1]]
}

// says reports whether a field was given, under either of its names.
func (a *asked) says(path string) bool {
	return a.at(path) != nil || slices.ContainsFunc(wire.Suffixes(), func(suffix string) bool {
		return a.at(path+suffix) != nil
	})
}

// put sets a field, also instead of a number under its other name.
func (a *asked) put(path, flag string, value any) {
	in := a.fields
	names := strings.Split(path, ".")
	for _, name := range names[:len(names)-1] {
		within, ok := in[name].(map[string]any)
		if !ok {
			within = map[string]any{}
			in[name] = within
		}
		in = within
	}
	name := names[len(names)-1]
	for _, suffix := range wire.Suffixes() {
		delete(in, name+suffix)
	}
	in[name] = value
	a.flags[path] = flag
}

// named says of a refusal which flags and files it is about, and calls the fields of a
// file as they stand there.
func (a *asked) named(err error) error {
	refusal, ok := wire.AsRefusal(err)
	if !ok {
		return err
	}
	out := &fileError{refusal: &wire.Refusal{}}
	*out.refusal = *refusal
	out.refusal.Errors = slices.Clone(refusal.Errors)
	var in []string
	for i := range out.refusal.Errors {
		e := &out.refusal.Errors[i]
		if e.Field == "unit" && e.Fix.Code == "fix.other_kind" {
			e.Fix = say.That("fix.unit_and_tow", "kind", e.Fix.Get("kind"))
		}
		if flag := a.flagOf(e.Field); flag != e.Field {
			e.Field = flag
			in = append(in, "")
			continue
		}
		file, field := a.fileOf(e.Field)
		in = append(in, file)
		e.Field = field
	}
	if one := slices.Compact(slices.Clone(in)); len(one) == 1 && !slices.ContainsFunc(out.refusal.Errors, unnamed) {
		out.file = one[0]
		return out
	}
	for i, file := range in {
		e := &out.refusal.Errors[i]
		e.Field = strings.Trim(file+", "+e.Field, ", ")
	}
	return out
}

func unnamed(e wire.FieldError) bool { return e.Field == "" && e.At.None() }

// fileOf is the file that says a field, and the field as it stands there; "" where none
// does.
func (a *asked) fileOf(field string) (file, own string) {
	if field == "body" {
		return a.files[""], ""
	}
	path, found := "", false
	for p := range a.files {
		if rest, ok := strings.CutPrefix(field, p); ok && (p == "" || rest == "" || strings.ContainsAny(rest[:1], ".,[")) {
			if !found || len(p) > len(path) {
				path, found = p, true
			}
		}
	}
	if !found {
		return "", field
	}
	return a.files[path], strings.TrimLeft(field[len(path):], "., ")
}

// flagOf is the flag that gave a field, or could have given what is missing; else the
// field.
func (a *asked) flagOf(field string) string {
	for _, path := range slices.Sorted(maps.Keys(a.flags)) {
		rest, found := strings.CutPrefix(field, path)
		if found && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return "--" + a.flags[path]
		}
	}
	if flag := a.beside[field]; flag != "" && !a.says(field) {
		return "--" + flag
	}
	return field
}

// fileError is a refusal of what a file says, "" for several.
type fileError struct {
	file    string
	refusal *wire.Refusal
}

func (e *fileError) Error() string { return strings.TrimPrefix(e.file+": "+e.refusal.Error(), ": ") }
func (e *fileError) Unwrap() error { return e.refusal }

package main

import (
	"cmp"
	"errors"
	"io/fs"
	"maps"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/word"
)

// What a flag says where it is not given: its variable, such as WAYHOUSE_STORE, or else
// the configuration file. That is YAML with the names of the flags as keys, and paths in
// it are relative to it.

// settable are the flags that have a variable and a key. The first two say one thing.
var settable = []string{"store", "database", "network", "units", "lang", "paper"}

// configVariable names another configuration file.
const configVariable = "WAYHOUSE_CONFIG"

func variableOf(flag string) string { return "WAYHOUSE_" + strings.ToUpper(flag) }

// A setting is a value of a flag, and where it was said: "" for nowhere.
type setting struct{ value, by string }

// settings are what variables and the configuration file say.
type settings struct {
	file string // "" where the system has no place for one
	said map[string]setting
}

// readSettings reads the variables and the configuration file. Errors are of the file:
// it cannot be read, or has a key that is none.
func readSettings(getenv func(string) string) (settings, error) {
	s := settings{file: getenv(configVariable), said: map[string]setting{}}
	named := s.file != ""
	if dir, err := os.UserConfigDir(); !named && err == nil {
		s.file = filepath.Join(dir, "wayhouse", "config.yaml")
	}
	keys, err := readKeys(s.file)
	if errors.Is(err, fs.ErrNotExist) && !named {
		err = nil
	}
	variables := map[string]setting{}
	for _, flag := range settable {
		if value := getenv(variableOf(flag)); value != "" {
			variables[flag] = setting{value, variableOf(flag)}
		}
		if value := keys[flag]; value != "" {
			if flag == "store" || flag == "network" {
				value = besideFile(s.file, value)
			}
			s.said[flag] = setting{value, s.file}
		}
	}
	if variables["store"].value != "" || variables["database"].value != "" {
		delete(s.said, "store")
		delete(s.said, "database")
	}
	maps.Copy(s.said, variables)
	return s, err
}

// besideFile is a path that a file names, which is relative to the file.
func besideFile(file, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(filepath.Dir(file), path)
}

// readKeys reads a configuration file.
func readKeys(path string) (map[string]string, error) {
	if raw, err := os.ReadFile(path); err != nil || strings.TrimSpace(string(raw)) == "" {
		return nil, err
	}
	fields, err := readFields(path)
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, key := range slices.Sorted(maps.Keys(fields)) {
		text, isText := fields[key].(string)
		near, like := word.Nearest(key, settable)
		switch {
		case slices.Contains(settable, key) && isText:
			out[key] = text
		case slices.Contains(settable, key):
			return nil, &measure.FieldError{
				Field:   path + ", " + key,
				Problem: say.That("error.no_text"),
				Fix:     say.That("fix.one_text"),
			}
		case like:
			return nil, &measure.FieldError{
				Field:   path + ", " + key,
				Problem: say.That("error.no_key"),
				Fix:     say.That("fix.write", "text", near),
			}
		default:
			return nil, &measure.FieldError{Field: path + ", " + key, Problem: say.That("error.no_key"),
				Fix: say.That("fix.one_of", "words", settable)}
		}
	}
	return out, nil
}

// apply gives the flags of a command that were not given what the settings say. Where
// one of --store and --database was given, nothing is said of the other.
func (s settings) apply(cmd *cobra.Command) (err error) {
	set := cmd.Flags()
	if err := withoutPassword(set.Lookup("database")); err != nil {
		return err
	}
	tables := set.Changed("store") || set.Changed("database")
	for _, flag := range settable {
		f, said := set.Lookup(flag), s.said[flag]
		if f == nil || f.Changed || said.value == "" || tables && slices.Contains(settable[:2], flag) {
			continue
		}
		words := f.Annotations[valuesOf]
		if len(words) > 0 && !slices.Contains(words, said.value) {
			err = cmp.Or(err, error(&measure.FieldError{Field: said.by + ", " + flag, Value: said.value,
				Problem: say.That("error.no_value_here"), Fix: say.That("fix.one_of", "words", words)}))
			continue
		}
		if wrong := f.Value.Set(said.value); wrong != nil {
			return wrong
		}
	}
	return err
}

// withoutPassword refuses a password on the command line, where everybody on the machine
// can read it. A variable, a configuration file and what PostgreSQL's own programs read
// are for it.
func withoutPassword(database *pflag.Flag) error {
	if database == nil || !database.Changed {
		return nil
	}
	shown, secret := redacted(database.Value.String())
	if !secret {
		return nil
	}
	return &measure.FieldError{
		Field: "--database", Value: shown,
		Problem: say.That("error.password"), Fix: say.That("fix.password"),
	}
}

// redacted is the address of a database without its password, and whether it had one.
func redacted(address string) (shown string, secret bool) {
	u, err := url.Parse(address)
	if err != nil {
		return "", false // nobody can open it either
	}
	q := u.Query()
	if _, secret = u.User.Password(); q.Has("password") {
		secret = true
		q.Set("password", "xxxxx")
		u.RawQuery = q.Encode()
	}
	if !secret {
		return address, false
	}
	return u.Redacted(), true
}

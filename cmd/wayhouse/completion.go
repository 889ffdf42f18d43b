package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/wire"
	"wayhouse/regs/area"
	"wayhouse/regs/finding"
	"wayhouse/regs/word"
	"wayhouse/routing/place"
)

// A finisher lists what a word that a shell has the start of can become.
type finisher = func(cmd *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective)

// Files that commands and flags take, by the end of their names.
var (
	descriptions = []string{"yaml", "yml", "json"}
	filesOf      = map[string][]string{
		".plan": descriptions, ".route": descriptions, ".ladder": descriptions, ".check": descriptions, ".rig": descriptions,
		".answer": descriptions, ".rules.import": {"csv"}, ".rules.import-bridges": {"txt"},
		".network.build": {"pbf", "bz2", "osm"}, ".network.show": {"wayroads"}, ".network.verify": {"wayroads"},
		"tow": descriptions, "along": descriptions, "structures": {"csv"}, "rates": {"csv"},
		"network": {"wayroads"}, "draw": {"svg", "png"},
	}
)

// finish lets a shell finish words and files for every command.
func finish(root *cobra.Command) {
	var each func(*cobra.Command)
	each = func(c *cobra.Command) {
		path := pathOf(c)
		switch ends := filesOf[path]; {
		case path == ".guide":
			c.ValidArgsFunction = topics
		case path == ".places":
			c.ValidArgsFunction = places
		case ends != nil:
			c.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
				return ends, cobra.ShellCompDirectiveFilterFileExt
			}
		case c.ValidArgs == nil && c.ValidArgsFunction == nil:
			c.ValidArgsFunction = cobra.NoFileCompletions
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { finishFlag(c, path, f) })
		for _, sub := range c.Commands() {
			each(sub)
		}
	}
	each(root)
}

// finishFlag lets a shell finish the value of a flag. The library refuses a flag that
// has such a func already, and one that is not there.
func finishFlag(c *cobra.Command, path string, f *pflag.Flag) {
	switch words := wordsOf(path, f); {
	case filesOf[f.Name] != nil:
		_ = c.MarkFlagFilename(f.Name, filesOf[f.Name]...)
	case f.Name == "terrain":
		_ = c.MarkFlagDirname(f.Name)
	case f.Name == "in" || f.Name == "not-in":
		_ = c.RegisterFlagCompletionFunc(f.Name, ofCommas(jurisdictions))
	case f.Name == "from" || f.Name == "to" || f.Name == "via":
		_ = c.RegisterFlagCompletionFunc(f.Name, places)
	case words != nil && f.Value.Type() == "stringSlice":
		_ = c.RegisterFlagCompletionFunc(f.Name, ofCommas(func(string) []string { return words }))
	case words != nil:
		_ = c.RegisterFlagCompletionFunc(f.Name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	case !slices.Contains([]string{"store", "out", "report"}, f.Name): // which are files of any name
		_ = c.RegisterFlagCompletionFunc(f.Name, cobra.NoFileCompletions)
	}
}

// wordsOf are the words that a flag takes, nil where it takes others.
func wordsOf(path string, f *pflag.Flag) []string {
	if words := f.Annotations[valuesOf]; words != nil {
		return words
	}
	var s *huma.Schema
	switch f.Name {
	case "must-be":
		var bars []string
		for _, bar := range finding.Bars() {
			bars = append(bars, string(bar))
		}
		return bars
	case "kind":
		s = wire.UnitKind("").Schema(nil)
	case "coupling":
		s = wire.Coupling("").Schema(nil)
	case "combination":
		s = wire.Combination("").Schema(nil)
	case "use":
		s = wire.Use("").Schema(nil)
	case "fuel":
		s = wire.FuelKind("").Schema(nil)
	case "tow-form":
		s = wire.TowForm("").Schema(nil)
	case "hazmat":
		s = wire.Hazmat("").Schema(nil)
	case "quantity":
		if s = wire.LegalQuantity("").Schema(nil); path == ".ladder" {
			s = wire.LadderQuantity("").Schema(nil)
		}
	default:
		return nil
	}
	var out []string
	for _, w := range s.Enum {
		out = append(out, fmt.Sprint(w))
	}
	return out
}

// ofCommas finishes the last entry of a list with commas.
func ofCommas(words func(start string) []string) finisher {
	return func(_ *cobra.Command, _ []string, start string) (out []string, _ cobra.ShellCompDirective) {
		before, last := "", start
		if i := strings.LastIndexByte(start, ','); i >= 0 {
			before, last = start[:i+1], start[i+1:]
		}
		for _, w := range words(last) {
			out = append(out, before+w)
		}
		return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
}

// jurisdictions are the codes that begin so, each with its name, and the names that do.
func jurisdictions(start string) (out []string) {
	areas, err := shipped("areas/jurisdictions.bin", area.Read)
	if err != nil {
		return nil
	}
	for _, j := range areas.All() {
		if code, ok := finished(start, j.Code); ok {
			out = append(out, cobra.CompletionWithDesc(code, j.Name))
		}
		for _, name := range []string{j.Name, j.French} {
			if text, ok := finished(start, name); ok && start != "" {
				out = append(out, cobra.CompletionWithDesc(text, j.Code))
			}
		}
	}
	return out
}

// finished is a name that goes on from a start: as it is written, or without capitals
// and accents where the start is. Shells drop what does not begin with the start.
func finished(start, name string) (string, bool) {
	plain := word.Fold(name)
	switch {
	case name == "":
		return "", false
	case strings.HasPrefix(name, start):
		return name, true
	case strings.HasPrefix(plain, strings.ToLower(start)):
		return start + plain[len(strings.ToLower(start)):], true
	default:
		return "", false
	}
}

// places are the towns whose name begins so, once two letters are there.
func places(_ *cobra.Command, _ []string, start string) (out []string, _ cobra.ShellCompDirective) {
	const few, most = 2, 50
	areas, err := shipped("areas/jurisdictions.bin", area.Read)
	if err != nil || len(start) < few {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	towns, err := shipped("places/places.csv", func(raw []byte) (*place.Gazetteer, error) {
		return place.Read(raw, areas.Called)
	})
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	for _, town := range towns.Search(start, most) {
		if name, ok := finished(start, town.Name); ok {
			out = append(out, strings.Replace(town.String(), town.Name, name, 1))
		} else if text, ok := finished(start, town.String()); ok { // beyond the comma
			out = append(out, text)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func topics(cmd *cobra.Command, args []string, _ string) (out []string, _ cobra.ShellCompDirective) {
	for _, topic := range topicsOf(cmd) {
		if len(args) == 0 {
			out = append(out, cobra.CompletionWithDesc(topic.Name, topic.Title))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"wayhouse/api/report"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/routing/terrain"
)

func networkCommand(clock func() time.Time) *cobra.Command {
	c := &cobra.Command{
		Use: "network", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	c.AddCommand(networkBuild(clock), networkCompare(clock), networkShow(), networkVerify())
	return c
}

func networkBuild(clock func() time.Time) *cobra.Command {
	var f buildFlags
	c := &cobra.Command{
		Use:     "build A.osm.pbf [B.osm.pbf ...] --out FILE",
		Args:    cobra.ArbitraryArgs,
		Example: "  wayhouse network build ontario.osm.pbf quebec.osm.pbf --terrain srtm/ --out east.wayroads",
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return &measure.FieldError{
					Field: "network build", Problem: say.That("error.no_extract_is_given"),
					Fix: say.That("fix.name_one_or_more"),
				}
			case f.out == "":
				return &measure.FieldError{
					Field:   "--out",
					Problem: say.That("error.no_file_to_write"),
					Fix:     say.That("fix.add_out_file"),
				}
			}
			return buildNetwork(cmd, args, f, clock)
		},
	}
	c.Flags().StringVar(&f.out, "out", "", "")
	c.Flags().StringVar(&f.name, "name", "", "")
	c.Flags().StringVar(&f.heights, "terrain", "", "")
	c.Flags().StringVar(&f.report, "report", "", "")
	f.saved.flags(c.Flags())
	return c
}

type buildFlags struct {
	out, name, heights, report string
	saved                      sources // of saved trips
}

func buildNetwork(cmd *cobra.Command, extracts []string, f buildFlags, clock func() time.Time) error {
	if err := checkOut(f.out, extracts); err != nil {
		return err
	}
	areas, err := shipped("areas/jurisdictions.bin", area.Read)
	if err != nil {
		return err
	}
	o := osm.Options{Name: f.name, Areas: areas, Progress: progress(cmd.ErrOrStderr())}
	damage := func() error { return nil }
	if f.heights != "" {
		tiles, err := terrain.Open(f.heights)
		if err != nil {
			return &measure.FieldError{
				Field: "--terrain", Value: f.heights, Problem: say.Of(err),
				Fix: say.That("fix.give_a_folder_with"),
			}
		}
		o.Terrain, damage = tiles, tiles.Err
	}
	n, made, err := osm.Build(cmd.Context(), extracts, o)
	if err != nil {
		return err
	}
	if err := damage(); err != nil {
		return say.Err(say.That("error.tile_damaged", "why", say.Of(err)))
	}
	if err := n.Prepare(cmd.Context(), part(o.Progress, "preparing searches")); err != nil {
		return err
	}
	if err := n.Verify(cmd.Context(), nil); err != nil {
		return fmt.Errorf("the network that was built is not sound, which is a mistake of this program: %w", err)
	}
	earlier := sinceEarlier(cmd, f.out, n, f.saved, clock)
	if err := n.Save(cmd.Context(), f.out); err != nil {
		return err
	}
	if err := stamp(cmd.Context(), f.out); err != nil {
		return err
	}
	if f.report != "" {
		if err := os.WriteFile(f.report, append(n.Report(), '\n'), 0o644); err != nil {
			return err
		}
	}
	if err := report.Import(cmd.OutOrStdout(), speaks(cmd), made); err != nil {
		return err
	}
	if err := earlier(); err != nil {
		return err
	}
	return says(cmd, say.That("command.network_written", "file", f.out, "revision", n.About.Revision))
}

// checkOut refuses a file that cannot be written, before the long work, and one
// that is an extract itself.
func checkOut(out string, extracts []string) error {
	if out == "-" {
		return &measure.FieldError{
			Field: "--out", Value: out, Problem: say.That("error.no_stream_of_a_network"), Fix: say.That("fix.name_a_file"),
		}
	}
	if info, err := os.Stat(filepath.Dir(out)); err != nil || !info.IsDir() {
		return &measure.FieldError{
			Field: "--out", Value: out, Problem: say.That("error.its_folder_is_not"),
			Fix: say.That("fix.make_the_folder_or"),
		}
	}
	is, err := os.Stat(out)
	if err != nil {
		return nil // it is to be made
	}
	for _, path := range extracts {
		if other, err := os.Stat(path); err == nil && os.SameFile(is, other) {
			return &measure.FieldError{
				Field:   "--out",
				Value:   out,
				Problem: say.That("error.one_of_the_extracts"),
				Fix:     say.That("fix.name_another_file"),
			}
		}
	}
	return nil
}

// terminal is the terminal that something is written to, nil for anything else.
func terminal(w io.Writer) *os.File {
	f, ok := w.(*os.File)
	if !ok {
		return nil
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	return f
}

// progress draws a bar for each stage on a terminal, and nothing elsewhere.
func progress(w io.Writer) osm.Progress {
	f := terminal(w)
	if f == nil {
		return nil
	}
	var bar *progressbar.ProgressBar
	stage := ""
	return func(now string, done, total int64) {
		if now != stage {
			stage = now
			bar = progressbar.NewOptions64(total, progressbar.OptionSetWriter(f), progressbar.OptionSetDescription(now),
				progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish())
		}
		_ = bar.Set64(done) // a bar that cannot be drawn stops nothing
	}
}

func networkShow() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "show FILE", Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			n, err := network.Open(args[0])
			if err != nil {
				return err
			}
			defer n.Close()
			if asJSON {
				return showJSON(cmd.OutOrStdout(), n)
			}
			return showText(cmd, n)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "")
	return c
}

func showJSON(w io.Writer, n *network.Network) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	report := json.RawMessage(n.Report())
	if len(report) == 0 {
		report = json.RawMessage("null")
	}
	return e.Encode(map[string]any{
		"name": n.About.Name, "vintage": n.About.Vintage, "revision": n.About.Revision,
		"attribution": n.About.Attribution, "licence": n.About.Licence, "carries": n.About.Carries,
		"lacks": n.About.Lacks, "nodes": len(n.Node), "edges": n.Edges(), "bans": n.Bans(),
		"sections": n.Sections(), "report": report,
	})
}

func showText(cmd *cobra.Command, n *network.Network) error {
	in, w := speaks(cmd), cmd.OutOrStdout()
	p := func(label say.Remark, text string) { fmt.Fprintf(w, "%-13s %s\n", in.Say(label), text) }
	facts := func(list []network.Fact) string {
		var out []string
		for _, f := range list {
			out = append(out, in.Term(f))
		}
		return strings.Join(out, ", ")
	}
	p(say.That("command.network_name"), in.Ours(n.About.Name))
	p(say.That("command.network_of"), in.Ours(n.About.Vintage))
	p(say.That("command.network_revision"), n.About.Revision)
	p(say.That("command.network_credit"), n.About.Attribution+"; "+n.About.Licence)
	p(
		say.That("command.network"),
		in.Say(say.That("command.network_size", "nodes", len(n.Node), "edges", n.Edges(), "bans", n.Bans())),
	)
	p(say.That("command.network_carries"), facts(n.About.Carries))
	p(say.That("command.network_lacks"), facts(n.About.Lacks))
	total := 0
	for _, s := range n.Sections() {
		total += int(s.Bytes)
		p(say.That("command.network_section"), in.Say(say.That("command.network_section_size",
			"name", fmt.Sprintf("%-14s", s.Name), "bytes", fmt.Sprintf("%12d", s.Bytes))))
	}
	p(say.That("command.network_total"), in.Say(say.That("command.network_bytes", "bytes", total)))
	if len(n.Report()) == 0 {
		return nil
	}
	var made osm.Report
	if err := json.Unmarshal(n.Report(), &made); err != nil {
		return err
	}
	fmt.Fprintln(w)
	return report.Import(w, in, &made)
}

func networkVerify() *cobra.Command {
	return &cobra.Command{
		Use: "verify FILE", Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			n, err := checkedNetwork(args[0], func(n *network.Network) error {
				return n.Verify(cmd.Context(), part(progress(cmd.ErrOrStderr()), "checking"))
			})
			if err != nil {
				return err
			}
			defer n.Close()
			_ = n.Stamp() // where it cannot be kept, whoever opens the file reads its checksums again
			return says(cmd, say.That("command.network_whole", "file", args[0], "nodes", len(n.Node), "edges", n.Edges(),
				"revision", n.About.Revision))
		},
	}
}

// stamp notes beside a file that was written that it is whole.
func stamp(ctx context.Context, path string) error {
	n, err := openNetwork(ctx, path, nil)
	if err != nil {
		return err
	}
	return errors.Join(n.Stamp(), n.Close())
}

// part reports the progress of one stage; nil where nothing listens.
func part(report osm.Progress, stage string) func(done, total int64) {
	if report == nil {
		return nil
	}
	return func(done, total int64) { report(stage, done, total) }
}

// openNetwork opens a network file that can be answered from: a flipped bit in a clear
// height must not reach a plan.
func openNetwork(ctx context.Context, path string, report osm.Progress) (*network.Network, error) {
	return checkedNetwork(path, func(n *network.Network) error { return n.Ready(ctx, part(report, "checking")) })
}

// checkedNetwork opens a network file and checks it.
func checkedNetwork(path string, check func(*network.Network) error) (*network.Network, error) {
	n, err := network.Open(path)
	if err != nil {
		return nil, err
	}
	if err := check(n); err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", path, err), n.Close())
	}
	return n, nil
}

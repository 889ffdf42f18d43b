// Command wayhouse plans the road transport of a tiny house on wheels.
package main

import (
	"cmp"
	"context"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // a machine may have no time zones of its own

	"github.com/spf13/cobra"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/data"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr, time.Now))
}

// run is main without the process around it.
func run(ctx context.Context, args []string, out, errs io.Writer, clock func() time.Time) int {
	root, printed := rootCommand(clock), &output{Writer: out, colours: colours(out, os.Getenv)}
	root.SetOut(printed) // before the library makes its command of completion, which keeps it
	root.SetErr(errs)
	known, faulty := readSettings(os.Getenv)
	in := spoken(args, known.said["lang"].value)
	explain(in, root)
	if len(args) > 0 && strings.HasPrefix(args[0], cobra.ShellCompRequestCmd) {
		finish(root)
	}
	root.SetArgs(args)
	understood := false // once flags and arguments were read
	root.PersistentPreRunE = func(cmd *cobra.Command, _ []string) error {
		understood = true
		return cmp.Or(faulty, known.apply(cmd), unspoken(cmd))
	}
	err := root.ExecuteContext(ctx)
	if err == nil {
		err = printed.err
	}
	switch {
	case err == nil:
		return 0
	case !understood:
		tell(errs, in, err)
		return exitInput
	default:
		return tell(errs, in, err)
	}
}

// output keeps the first error of what is written to it: an answer that a full
// disk cut off is none.
type output struct {
	io.Writer
	err     error
	colours bool // whether it shows them
}

// colours reports whether an output shows colours: a terminal whose user has not said
// that none are wanted (NO_COLOR set to anything; no-color.org, 2024).
func colours(out io.Writer, getenv func(string) string) bool {
	return terminal(out) != nil && getenv("NO_COLOR") == "" && getenv("TERM") != "dumb"
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.Writer.Write(p)
	if o.err == nil {
		o.err = err
	}
	return n, err
}

// rootCommand is the program with all of its commands.
func rootCommand(clock func() time.Time) *cobra.Command {
	root := &cobra.Command{
		Use: "wayhouse", Args: noArguments, RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
		Version: version(), SilenceErrors: true, SilenceUsage: true,
	}
	root.SetFlagErrorFunc(flagError)
	root.PersistentFlags().String("lang", "", "")
	_ = root.PersistentFlags().SetAnnotation("lang", valuesOf, phrase.Words()) // the flag is there
	root.AddCommand(
		planCommand(clock), papersCommand(clock), routeCommand(clock), ladderCommand(clock), checkCommand(clock),
		rigCommand(clock), answerCommand(clock), serveCommand(clock), networkCommand(clock), rulesCommand(clock),
		tripsCommand(clock), jurisdictionsCommand(clock), placesCommand(clock), quoteCommand(clock), seasonCommand(clock),
		movesCommand(clock),
		configCommand(), sourcesCommand(), guideCommand(), manCommand(clock), versionCommand(), schemaCommand(),
	)
	return root
}

func sourcesCommand() *cobra.Command {
	var licences bool
	form := formOf[wire.Sources]()
	c := &cobra.Command{
		Use: "sources", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			out := wire.Sources{Sources: wire.Attributions(form.view.In, licences)}
			if licences {
				out.Notices = data.Notices
			}
			return form.write(cmd.OutOrStdout(), out)
		},
	}
	c.Flags().BoolVar(&licences, "licences", false, "")
	form.ofList(c.Flags())
	return c
}

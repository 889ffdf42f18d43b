package main

import (
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/export"
	"wayhouse/regs/compare"
)

// against is the file that an answer is compared with, "" for none. Flags that describe
// a rig are not about it, and others give only what it leaves out.
type against string

func (a *against) flag(set *pflag.FlagSet) { set.StringVar((*string)(a), "compare", "", "") }

// choose reads the form of an answer, or of a comparison where there is one.
func (a against) choose(f *form) error {
	if a != "" {
		f.among = export.For[*compare.Comparison]()
	}
	return f.choose()
}

// write prints an answer, or in what it differs from that of the other file. read reads
// what that file asks, and ask answers it.
func write[A any](cmd *cobra.Command, a against, f *form, answer A, read func(file string) (*asked, error),
	ask func(*asked) (A, error), of func(a, b A) *compare.Comparison) error {
	if a == "" {
		return f.write(cmd.OutOrStdout(), answer)
	}
	other, err := read(string(a))
	if err != nil {
		return err
	}
	other.fill(cmd.Flags())
	first, err := ask(other)
	if err != nil {
		return other.named(err)
	}
	return f.write(cmd.OutOrStdout(), of(first, answer))
}

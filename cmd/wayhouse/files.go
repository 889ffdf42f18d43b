package main

import (
	"io"
	"os"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// openFile opens a file that was named on the command line; "-" is standard input.
func openFile(path string) (*os.File, error) {
	if path == "-" {
		return os.Stdin, nil
	}
	return os.Open(path)
}

// readFile reads one whole. Standard input can be read once, so that nothing is left of
// it for a second file.
func readFile(path string) ([]byte, error) {
	if path != "-" {
		return os.ReadFile(path)
	}
	raw, err := io.ReadAll(os.Stdin)
	if err == nil && len(raw) == 0 {
		err = &measure.FieldError{
			Field: path, Problem: say.That("error.standard_input_has_nothing"), Fix: say.That("fix.pipe_one_file_into"),
		}
	}
	return raw, err
}

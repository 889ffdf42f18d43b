package main

import (
	"io"
	"os"

	"wayhouse/regs/measure"
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
			Field: path, Problem: "standard input has nothing", Fix: "pipe one file into it, and name it once",
		}
	}
	return raw, err
}

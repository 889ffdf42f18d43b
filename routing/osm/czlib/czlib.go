// Package czlib stands in for the binding of this name to the C library zlib,
// which the reader of PBF extracts imports wherever there is a C compiler: with a
// compiler and without the headers of zlib nothing would build. It reads the same
// format (RFC 1950) with the standard library. go.mod of the project puts it in
// the binding's place.
package czlib

import (
	"compress/zlib"
	"io"
)

// NewReader returns a reader of what r holds unpacked.
func NewReader(r io.Reader) (io.ReadCloser, error) { return zlib.NewReader(r) }

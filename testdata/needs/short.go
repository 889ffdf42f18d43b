//go:build !long

package needs

// Long reports whether the long forms of tests run: go test -tags long ./...
const Long = false

package trip

import (
	"testing"

	"wayhouse/testdata/needs"
)

// This is the last package of the suite, so it has the closing line printed.
func TestMain(m *testing.M) { needs.Main(m) }

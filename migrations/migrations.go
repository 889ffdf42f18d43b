// Package migrations embeds the numbered SQL of the store, one folder a
// dialect.
package migrations

import "embed"

// Files holds sqlite/ and postgres/.
//
//go:embed sqlite postgres
var Files embed.FS

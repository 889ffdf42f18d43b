package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"wayhouse/regs"
)

// Shipped returns the tables that come with the program, as a new store answers them,
// without one.
func Shipped() (*regs.Tables, error) {
	entries, err := shippedRows()
	if err != nil {
		return nil, fmt.Errorf("shipped rows: %w", err)
	}
	slices.SortFunc(entries, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.table, b.table), cmp.Compare(a.id, b.id))
	})
	first := &state{all: contents()}
	st, err := first.with(1, func(visit func(entry) bool) error {
		for _, e := range entries {
			if !visit(e) {
				break
			}
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("shipped rows: %w", err)
	}
	return st.tables, nil
}

// NoPast is [Store.SnapshotAt] of the shipped tables, which never changed.
func NoPast(_ context.Context, revision int) (*regs.Tables, error) {
	return nil, &NoRevisionError{Number: revision, Newest: 1}
}

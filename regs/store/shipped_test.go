package store

import (
	"errors"
	"reflect"
	"testing"

	"wayhouse/data"
)

// What is answered without a store is what a new store answers: the same rows, under
// the same revision.
func TestShippedIsANewStore(t *testing.T) {
	got, err := Shipped()
	if err != nil {
		t.Fatal(err)
	}
	want := snapshot(t, memory(t))
	if got.Revision != want.Revision || got.Number != want.Number {
		t.Errorf("revision %s, number %d; a store has %s, %d", got.Revision, got.Number, want.Revision, want.Number)
	}
	if len(got.Rows("")) != shippedLimits || !reflect.DeepEqual(got.Rows(""), want.Rows("")) {
		t.Errorf("%d limits, not those of a store", len(got.Rows("")))
	}
	var none *NoRevisionError
	if _, err := memory(t).SnapshotAt(t.Context(), 2); !errors.As(err, &none) {
		t.Fatal(err)
	}
	if _, err := NoPast(t.Context(), 2); !reflect.DeepEqual(err, error(none)) {
		t.Errorf("%v, a store says %v", err, none)
	}
}

func TestShippedRowsAreGood(t *testing.T) {
	entries, err := shippedRows()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, table := range Tables() {
		raw, err := data.Files.ReadFile("tables/" + table.TableName() + ".csv")
		if err != nil {
			continue
		}
		records, err := table.Records(raw)
		if err != nil {
			t.Error(err)
		}
		n += len(records)
	}
	if n != len(entries) {
		t.Errorf("%d rows, %d were read", n, len(entries))
	}
}

package store

import (
	"errors"
	"reflect"
	"testing"
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

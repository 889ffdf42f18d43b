package wire

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/danielgtaylor/huma/v2"
)

// What a field of an answer may say is published with it.
func TestWordsOfAnswers(t *testing.T) {
	r := huma.NewMapRegistry("#/", huma.DefaultSchemaNamer)
	Words(r)
	for _, tc := range []struct {
		of          reflect.Type
		field, want string
	}{
		{reflect.TypeFor[Verdict](), "outcome", "[clear conditional review forbidden unknown]"},
		{reflect.TypeFor[Verdict](), "worst_known", "[clear conditional review forbidden unknown]"},
		{reflect.TypeFor[Structure](), "outcome", "[clear conditional review forbidden unknown]"},
		{reflect.TypeFor[Citation](), "status", "[published verified secondary memory invented]"},
		{reflect.TypeFor[PartEntry](), "per", "[m2 m each L m3]"},
		{reflect.TypeFor[Barrier](), "kind", "[structure sign wish]"},
		{reflect.TypeFor[NearestSize](), "quantity", "[height width length mass]"},
		{reflect.TypeFor[Ladders](), "quantity", "[height width mass]"},
		{reflect.TypeFor[NoseSaving](), "nose", "[rounded raked]"},
		{reflect.TypeFor[AxleMass](), "of", "[tow unit]"},
		{reflect.TypeFor[RigState](), "state", "[travelling standing]"},
	} {
		if got := fmt.Sprint(r.Schema(tc.of, false, "").Properties[tc.field].Enum); got != tc.want {
			t.Errorf("%s of a %s: %s, want %s", tc.field, tc.of.Name(), got, tc.want)
		}
	}
}

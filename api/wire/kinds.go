package wire

import (
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/regs/say"
)

// kinds are the descriptions that are written in files of their own, any of which is
// easily given for another.
var kinds = []fileKind{
	{"trip", reflect.TypeFor[TripRequest]()}, {"unit", reflect.TypeFor[UnitRequest]()},
	{"tow", reflect.TypeFor[TowRequest]()},
}

// fileKind is a kind of description.
type fileKind struct {
	name string
	of   reflect.Type
}

// Term is the code of its name.
func (k fileKind) Term() say.Code { return say.Word("described", k.name) }

// otherThan names the kind of description that a whole file seems to be, where it is
// another than the one asked for: most of two fields or more that are strange there
// are fields of it. It has no name for none.
func (c *checker) otherThan(field string, s *huma.Schema, in map[string]any) fileKind {
	if strings.ContainsAny(field, ".[") {
		return fileKind{} // no file of its own
	}
	var strange []string
	for name := range in {
		if of, _ := propertyOf(s, name); of == nil {
			strange = append(strange, name)
		}
	}
	for _, k := range kinds {
		own := 0
		for _, name := range strange {
			if of, _ := propertyOf(formOf(k.of).object(), name); of != nil {
				own++
			}
		}
		if own > 1 && 2*own > len(strange) {
			return k
		}
	}
	return fileKind{}
}

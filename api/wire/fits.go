package wire

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
	"github.com/danielgtaylor/huma/v2"

	"wayhouse/regs/say"
)

// checker holds a JSON value against a schema, collects what does not fit, and
// returns the rest as the types of this package decode it.
type checker struct {
	schemas huma.Registry
	errs    []FieldError
}

func (c *checker) fail(field string, value any, problem, fix say.Remark) {
	c.errs = append(c.errs, FieldError{Field: field, Value: Short(value), Problem: problem, Fix: fix})
}

func (c *checker) value(field string, s *huma.Schema, said any) any {
	if s.Ref != "" {
		s = c.schemas.SchemaFromRef(s.Ref)
	}
	if w, ok := writingOf(s); ok && s.Items == nil {
		return c.quantity(field, s, w, said, false)
	}
	switch s.Type {
	case huma.TypeObject:
		return c.object(field, s, said)
	case huma.TypeArray:
		return c.list(field, s, said)
	}
	before := len(c.errs)
	switch s.Type {
	case huma.TypeString:
		c.text(field, s, said)
	case huma.TypeNumber, huma.TypeInteger:
		c.number(field, s, said)
	case huma.TypeBoolean:
		if _, ok := said.(bool); !ok {
			c.fail(field, said, say.That("error.neither_true_nor_false"), say.That("fix.write_true_or_false"))
		}
	}
	if len(c.errs) > before {
		return nil
	}
	return said
}

func (c *checker) object(field string, s *huma.Schema, said any) any {
	in, ok := said.(map[string]any)
	if !ok {
		c.fail(cmp.Or(field, "body"), said, NotFields(said), say.That("fix.fields", "fields", fieldsLike("", s)))
		return nil
	}
	if like := c.otherThan(field, s, in); like.name != "" {
		c.fail(
			cmp.Or(field, "body"),
			nil,
			say.That("error.other_kind", "kind", like),
			say.That("fix.other_kind", "kind", like),
		)
		return nil
	}
	out := map[string]any{}
	for _, name := range slices.Sorted(maps.Keys(in)) {
		at := within(field, name)
		of, known := propertyOf(s, name)
		switch {
		case of == nil:
			c.unknown(at, s, name)
		case in[name] == nil: // not given
		case known == name:
			out[name] = c.value(at, of, in[name])
		case in[known] != nil:
			c.fail(within(field, known), in[known], say.That("error.two_names", "one", known, "other", name),
				say.That("fix.one_of_them"))
		default:
			out[known] = c.numbers(at, of, in[name])
		}
	}
	for _, name := range s.Required {
		if in[name] == nil {
			c.fail(within(field, name), nil, say.That("error.missing"), say.That("fix.add_it"))
		}
	}
	return out
}

// NotFields says what stands where fields belong.
func NotFields(said any) say.Remark {
	if _, isList := said.([]any); isList {
		return say.That("error.list_for_fields")
	}
	return say.That("error.value_for_fields")
}

// within is the path of a field of an object.
func within(object, name string) string {
	return strings.TrimPrefix(object+"."+cmp.Or(name, `""`), ".")
}

// propertyOf finds the field of an object that a name stands for: of a measured one,
// the text's; nil where there is none.
func propertyOf(s *huma.Schema, name string) (of *huma.Schema, known string) {
	if of, ok := s.AdditionalProperties.(*huma.Schema); ok {
		return of, name
	}
	if of := s.Properties[name]; of != nil {
		return of, name
	}
	for known, of := range s.Properties {
		if suffix := suffixOf(of); suffix != "" && known+suffix == name {
			return of, known
		}
	}
	return nil, name
}

// unknown refuses a name that an object does not have: a misspelt height would read
// as not given.
func (c *checker) unknown(field string, s *huma.Schema, name string) {
	for known := range s.Properties {
		for _, is := range []string{known, known + suffixOf(s.Properties[known])} {
			if Folded(is) == Folded(name) {
				c.fail(field, name, say.That("error.letters", "field", is), say.That("fix.write", "text", is))
				return
			}
		}
	}
	c.fail(field, name, say.That("error.no_field"), say.That("fix.spelling", "fields", fieldsLike(name, s)))
}

func suffixOf(s *huma.Schema) string {
	w, _ := writingOf(s)
	return w.suffix
}

// fieldsLike lists the fields of an object: where they are many, those that are spelt
// most like a name; for "" the shortest.
func fieldsLike(name string, s *huma.Schema) say.Remark {
	const few = 10
	names := slices.Sorted(maps.Keys(s.Properties))
	more := len(names) > few
	if more {
		far := func(known string) int { return levenshtein.ComputeDistance(Folded(known), Folded(name)) }
		slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(far(a), far(b)) })
		names = names[:few]
	}
	return say.That("error.fields", "fields", names, "more", more)
}

func (c *checker) list(field string, s *huma.Schema, said any) any {
	return c.each(field, s, said, func(at string, one any) any { return c.value(at, s.Items, one) })
}

// each reads the entries of a list.
func (c *checker) each(field string, s *huma.Schema, said any, read func(field string, one any) any) any {
	in, ok := said.([]any)
	if !ok {
		c.fail(field, said, say.That("error.no_list"), say.That("fix.write_it_as_a"))
		return nil
	}
	if !c.many(field, s, len(in)) {
		return nil
	}
	out := make([]any, len(in))
	for i, one := range in {
		out[i] = read(fmt.Sprintf("%s[%d]", field, i), one)
	}
	return out
}

// many reports whether a list has as many entries as it may.
func (c *checker) many(field string, s *huma.Schema, n int) bool {
	if s.MaxItems == nil || n <= *s.MaxItems {
		return true
	}
	c.fail(
		field,
		nil,
		say.That("error.entries", "n", n, "bound", *s.MaxItems),
		say.That("fix.at_most", "bound", *s.MaxItems),
	)
	return false
}

// numbers reads a quantity, or a list of them, that was given in the unit of its
// suffix.
func (c *checker) numbers(field string, s *huma.Schema, said any) any {
	w, _ := writingOf(s)
	if s.Items == nil {
		return c.quantity(field, s, w, said, true)
	}
	return c.each(field, s, said, func(at string, one any) any { return c.quantity(at, s.Items, w, one, true) })
}

// quantity reads one, as a text with a unit.
func (c *checker) quantity(field string, s *huma.Schema, w writing, said any, asNumber bool) any {
	text, isText := said.(string)
	number, isNumber := said.(float64)
	switch {
	case asNumber && !isNumber:
		c.fail(field, said, say.That("error.no_number"), say.That("fix.number_in", "unit", strings.TrimSpace(w.unit)))
		return nil
	case asNumber:
		if text, isText = w.fromNumber(number); !isText {
			c.fail(
				field,
				said,
				say.That("error.absurdly_large_or_no"),
				say.That("fix.number_in", "unit", strings.TrimSpace(w.unit)),
			)
			return nil
		}
	case isNumber:
		c.fail(field, said, say.That("error.a_number_without_a"), w.bare(last(field), number))
		return nil
	case !isText:
		c.fail(field, said, say.That("error.no_text"), w.fix())
		return nil
	}
	if problem, fix := w.fault(s, text); !problem.None() {
		c.fail(field, said, problem, fix)
		return nil
	}
	return text
}

func (c *checker) text(field string, s *huma.Schema, said any) {
	text, ok := said.(string)
	if !ok {
		c.fail(field, said, say.That("error.no_text"), say.That("fix.write_it_in_quotes"))
		return
	}
	length := utf8.RuneCountInString(text)
	switch {
	case len(s.Enum) > 0 && text != "" && !slices.Contains(s.Enum, any(text)):
		c.fail(field, text, say.That("error.not_known"), say.That("fix.one_of_or_none", "words", words(s.Enum)))
	case s.MaxLength != nil && length > *s.MaxLength:
		c.fail(field, text, say.That("error.characters", "n", length, "bound", *s.MaxLength), say.That("fix.say_it_in_fewer"))
	case s.MinLength != nil && length < *s.MinLength:
		c.fail(field, text, say.That("error.empty"), say.That("fix.fill_it_in"))
	case s.Format == "date" && text != "":
		if _, err := time.Parse(time.DateOnly, text); err != nil {
			c.fail(field, text, say.That("error.no_day"), say.That("fix.like", "text", "2027-05-01"))
		}
	}
}

func words(in []any) (out []string) {
	for _, w := range in {
		out = append(out, fmt.Sprint(w))
	}
	return out
}

func (c *checker) number(field string, s *huma.Schema, said any) {
	number, ok := said.(float64)
	switch {
	case !ok && s.Type == huma.TypeInteger:
		c.fail(field, said, say.That("error.no_whole_number"), say.That("fix.digits", "text", "2"))
	case !ok:
		c.fail(field, said, say.That("error.no_number"), say.That("fix.digits", "text", "0.5"))
	case s.Type == huma.TypeInteger && (number != math.Trunc(number) || math.Abs(number) > math.MaxInt32):
		c.fail(field, said, say.That("error.no_whole_number"), say.That("fix.digits", "text", "2"))
	case s.Minimum != nil && number < *s.Minimum, s.Maximum != nil && number > *s.Maximum:
		c.fail(field, said, outside(s, ""), say.That("fix.check_the_figure"))
	}
}

// outside says that a number lies beyond its bounds, which are in a unit.
func outside(s *huma.Schema, unit string) say.Remark {
	in := func(bound float64) string { return fmt.Sprintf("%g%s", bound, unit) }
	switch {
	case s.Maximum == nil:
		return say.That("error.less_than", "least", in(*s.Minimum))
	case s.Minimum == nil:
		return say.That("error.more_than", "bound", in(*s.Maximum))
	default:
		return say.That("error.outside", "least", fmt.Sprintf("%g", *s.Minimum), "bound", in(*s.Maximum))
	}
}

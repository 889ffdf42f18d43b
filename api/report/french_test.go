package report_test

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/regs/say"
)

// english are words that no English sentence of some length does without, and that are
// no French ones.
var english = regexp.MustCompile(`(?i)\b(the|is|are|of|not|which|with|without|and|that|for|from)\b`)

// Every remark of real answers has a French sentence, in which nothing stands in
// English but words of the data.
func TestAnswersAreSaidInFrench(t *testing.T) {
	said := map[say.Code]bool{}
	for _, answer := range []any{
		examplePlan(t, true), longPlan(t), forbiddenPlan(t), nothingGiven(t), exampleCheck(t, "CA-ON", "CA-QC", "US-NY"),
	} {
		remarks(reflect.ValueOf(answer), map[uintptr]bool{}, func(r say.Remark) {
			said[r.Code] = true
			if !phrase.French().Has(r.Code) {
				t.Errorf("%s has no French sentence", r.Code)
				return
			}
			if text := phrase.French().Say(withoutData(r)); english.MatchString(text) {
				t.Errorf("%s: %q", r.Code, text)
			}
		})
	}
	if len(said) < 100 {
		t.Errorf("%d kinds of remarks", len(said))
	}
}

// withoutData puts a sign in the place of words of rows, maps and users.
func withoutData(r say.Remark) say.Remark {
	out := say.Remark{Code: r.Code}
	for _, a := range r.Args {
		switch v := a.Value.(type) {
		case string:
			a.Value = strings.Repeat("X", min(len(v), 1))
		case []string:
			a.Value = []string{"X"}[:min(len(v), 1)]
		case say.Remark:
			a.Value = withoutData(v)
		case []say.Remark:
			var inner []say.Remark
			for _, one := range v {
				inner = append(inner, withoutData(one))
			}
			a.Value = inner
		}
		out.Args = append(out.Args, a)
	}
	return out
}

// remarks finds the remarks in a value.
func remarks(v reflect.Value, seen map[uintptr]bool, do func(say.Remark)) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.Kind() == reflect.Pointer {
			if v.IsNil() || seen[v.Pointer()] {
				return
			}
			seen[v.Pointer()] = true
		}
		remarks(v.Elem(), seen, do)
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			remarks(v.Index(i), seen, do)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[say.Remark]() && v.CanInterface() {
			if r := v.Interface().(say.Remark); !r.None() {
				do(r)
			}
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				remarks(v.Field(i), seen, do)
			}
		}
	}
}

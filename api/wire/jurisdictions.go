package wire

import (
	"errors"
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/say"
	names "wayhouse/regs/word"
)

// Codes reads a list of jurisdictions, by code or by name; none is all that have an
// area or a row. Municipalities are written behind a stroke, as in Ontario/Dufferin
// County. The error is a [*Refusal] about the field.
func Codes(field string, areas *area.Index, t *regs.Tables, in []string) ([]string, error) {
	known := t.Jurisdictions()
	for _, j := range areas.All() {
		known = append(known, j.Code)
	}
	slices.Sort(known)
	known = slices.Compact(known)
	if len(in) == 0 {
		return known, nil
	}
	var out []string
	for _, text := range in {
		code, err := codeAmong(known, areas, text)
		if err != nil {
			return nil, Refuse(unnamed(field, text, say.That("error.no_jurisdiction"), err))
		}
		if !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out, nil
}

// codeAmong is the code among those that are known which a text names. What is a code
// as it stands is no name of another.
func codeAmong(known []string, areas *area.Index, text string) (string, error) {
	region, town, _ := strings.Cut(text, "/")
	code := strings.ToUpper(strings.TrimSpace(region))
	if !slices.Contains(known, code) {
		if code = area.Country(region); code == "" {
			j, err := areas.Find(region)
			if err != nil {
				return "", err
			}
			code = j.Code
		}
	}
	i := slices.IndexFunc(known, func(k string) bool {
		of, name, _ := strings.Cut(k, "/")
		return of == code && names.Town(name) == names.Town(town)
	})
	if i < 0 {
		return "", &area.NameError{Text: text}
	}
	return known[i], nil
}

// within reads jurisdictions in which a rig is asked about. Nothing is settled for a
// whole country.
func (r *reader) within(field string, in []string, k Known) []string {
	codes, err := Codes(field, k.Areas, k.Tables, in)
	r.note(err)
	return slices.DeleteFunc(codes, func(code string) bool {
		whole := !strings.Contains(code, "-")
		if whole && len(in) > 0 {
			r.fail(field, code, say.That("error.a_whole_country_and"), say.That("fix.name_provinces_territories_or"))
		}
		return whole
	})
}

// area reads a jurisdiction whose borders are known: a road can be told to lie in no
// other.
func (r *reader) area(field, text string, areas *area.Index) (code string, ok bool) {
	j, err := areas.Find(text)
	if err != nil {
		r.note(Refuse(unnamed(field, text, say.That("error.no_borders"), err)))
	}
	return j.Code, err == nil
}

// unnamed is the error of a text that names no jurisdiction, with those that it may be
// meant for.
func unnamed(field, text string, problem say.Remark, err error) FieldError {
	e := FieldError{Field: field, Value: text, Problem: problem, Fix: say.That("fix.jurisdiction")}
	var unknown *area.NameError
	if errors.As(err, &unknown) && len(unknown.Like) > 0 {
		var like []string
		for _, j := range unknown.Like {
			like = append(like, j.Name+" ("+j.Code+")")
		}
		e.Fix = say.That("fix.jurisdiction_like", "like", like)
	}
	return e
}

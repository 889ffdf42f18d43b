package wire

import (
	"fmt"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Remark is one thing that is said, as data. A quantity among its values is an object
// with its unit, a moment or a day a text of RFC 3339, a word of ours its code.
type Remark struct {
	Mark   string         `json:"mark,omitempty"`
	Code   say.Code       `json:"code"`
	Values map[string]any `json:"values,omitempty" doc:"By name; with mark where they rest on invented data"`
}

// Step is one thing that helps to settle a finding.
type Step struct {
	Mark string      `json:"mark,omitempty"`
	By   finding.Way `json:"by"`
	Whom string      `json:"whom,omitempty" doc:"Who is asked; left out for what the user does alone"`
	Of   string      `json:"of,omitempty" doc:"The field, the row or the office that it is about; the whole finding when left out"`
	In   string      `json:"in,omitempty" doc:"The table of a row"`
	Asks string      `json:"asks,omitempty" doc:"What is asked, measured, read or seen to; left out where the finding itself says it"`
}

func (tell teller) newWays(in [][]finding.Step, mark string) [][]Step {
	return each(in, func(way []finding.Step) []Step {
		return each(way, func(s finding.Step) Step {
			return Step{mark, s.By, tell.Say(s.Whom), s.Of, s.In, tell.Say(s.Asks)}
		})
	})
}

func newRemarks(in []say.Remark, mark string) []Remark {
	out := []Remark{}
	for _, r := range in {
		if !r.None() {
			out = append(out, newRemark(r, mark))
		}
	}
	return out
}

func newRemark(r say.Remark, mark string) Remark {
	out := Remark{Mark: mark, Code: r.Code, Values: map[string]any{}}
	for _, a := range r.Args {
		out.Values[a.Name] = newValue(a.Value, mark)
	}
	if mark != "" && len(r.Args) > 0 {
		out.Values["mark"] = mark
	}
	return out
}

// newValue is a value of a remark as JSON has it.
func newValue(v any, mark string) any {
	switch v := v.(type) {
	case say.Remark:
		return newRemark(v, mark)
	case []say.Remark:
		return newRemarks(v, mark)
	case say.Term:
		return v.Term()
	case []say.Term:
		var out []say.Code
		for _, t := range v {
			out = append(out, t.Term())
		}
		return out
	case string, []string, say.Jurisdiction, int, float64, bool:
		return v
	case time.Time:
		return v.Format(time.RFC3339)
	default:
		return newQuantity(v)
	}
}

// newQuantity is a quantity with its unit; what is none is printed.
func newQuantity(v any) any {
	of := func(value float64, unit string) any { return map[string]any{"value": value, "unit": unit} }
	switch v := v.(type) {
	case measure.Length:
		return of(v.Metres(), "m")
	case measure.Mass:
		return of(v.Kilograms(), "kg")
	case measure.Distance:
		return of(float64(v), "m")
	case measure.Rise:
		return of(float64(v), "m")
	case measure.Speed:
		return of(float64(v/measure.KilometrePerHour), "km/h")
	case measure.Volume:
		return of(float64(v/measure.Litre), "L")
	case measure.Area:
		return of(float64(v), "m2")
	case measure.Power:
		return of(float64(v)/1000, "kW")
	case measure.Pressure:
		return of(float64(v/measure.Kilopascal), "kPa")
	case measure.Force:
		return of(float64(v), "N")
	case time.Duration:
		return of(v.Seconds(), "s")
	case finding.Quantity:
		return ofFinding(v)
	default:
		return fmt.Sprint(v)
	}
}

func ofFinding(q finding.Quantity) any {
	var out any
	if l, ok := q.Length(); ok {
		out = newQuantity(l)
	} else if m, ok := q.Mass(); ok {
		out = newQuantity(m)
	}
	if object, known := out.(map[string]any); known && q.AtLeast {
		object["at_least"] = true
	}
	return out
}

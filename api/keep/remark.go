package keep

import (
	"fmt"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Remark is one thing that is said, as it is stored: its code, and values of which the type is
// kept, so that every language still has words for it.
type Remark struct {
	Code   say.Code `json:"code"`
	Values []Value  `json:"values,omitempty"`
}

// Value is one value of a remark. Exactly one field beside the name is there, or none for
// nothing.
type Value struct {
	Name         string            `json:"name,omitempty"`
	Text         *string           `json:"text,omitempty"`
	Texts        []string          `json:"texts,omitempty"`
	Count        *int              `json:"count,omitempty"`
	Is           *bool             `json:"is,omitempty"`
	Term         *say.Code         `json:"term,omitempty"`
	Terms        []say.Code        `json:"terms,omitempty"`
	Jurisdiction *say.Jurisdiction `json:"jurisdiction,omitempty"`
	Remark       *Remark           `json:"remark,omitempty"`
	Remarks      []Remark          `json:"remarks,omitempty"`
	Day          string            `json:"day,omitempty"`
	Moment       *time.Time        `json:"moment,omitempty"`
	Seconds      *float64          `json:"seconds,omitempty"`
	Metres       *float64          `json:"metres,omitempty"` // of a way
}

// word is a word of ours of which the code alone was kept.
type word say.Code

// Term is its code.
func (w word) Term() say.Code { return say.Code(w) }

// newRemark takes down what is said, nil for nothing.
func newRemark(r say.Remark) *Remark {
	if r.None() {
		return nil
	}
	out := Remark{Code: r.Code}
	for _, a := range r.Args {
		v := newValue(a.Value)
		v.Name = a.Name
		out.Values = append(out.Values, v)
	}
	return &out
}

func newRemarks(all []say.Remark) (out []Remark) {
	for _, r := range all {
		if kept := newRemark(r); kept != nil {
			out = append(out, *kept)
		}
	}
	return out
}

// newValue takes a value down; one of a type that no remark of a quote has is kept as words.
func newValue(v any) (out Value) {
	switch v := v.(type) {
	case nil:
	case string:
		out.Text = &v
	case []string:
		out.Texts = v
	case int:
		out.Count = &v
	case bool:
		out.Is = &v
	case say.Jurisdiction:
		out.Jurisdiction = &v
	case say.Remark:
		out.Remark = newRemark(v)
	case []say.Remark:
		out.Remarks = newRemarks(v)
	case say.Term:
		code := v.Term()
		out.Term = &code
	case []say.Term:
		for _, t := range v {
			out.Terms = append(out.Terms, t.Term())
		}
	case say.Day:
		out.Day = v.String()
	case time.Time:
		out.Moment = &v
	case time.Duration:
		seconds := v.Seconds()
		out.Seconds = &seconds
	case measure.Distance:
		metres := float64(v)
		out.Metres = &metres
	default:
		words := fmt.Sprint(v)
		out.Text = &words
	}
	return out
}

// says is what was said.
func (r *Remark) says() say.Remark {
	if r == nil {
		return say.Remark{}
	}
	out := say.Remark{Code: r.Code}
	for _, v := range r.Values {
		out.Args = append(out.Args, say.Arg{Name: v.Name, Value: v.value()})
	}
	return out
}

// saying is what remarks said.
func saying(all []Remark) (out []say.Remark) {
	for _, r := range all {
		out = append(out, r.says())
	}
	return out
}

func (v Value) value() any {
	switch {
	case v.Text != nil:
		return *v.Text
	case v.Texts != nil:
		return v.Texts
	case v.Count != nil:
		return *v.Count
	case v.Is != nil:
		return *v.Is
	case v.Term != nil:
		return word(*v.Term)
	case v.Terms != nil:
		var out []say.Term
		for _, code := range v.Terms {
			out = append(out, word(code))
		}
		return out
	case v.Jurisdiction != nil:
		return *v.Jurisdiction
	case v.Remark != nil:
		return v.Remark.says()
	case v.Remarks != nil:
		return saying(v.Remarks)
	case v.Day != "":
		day, _ := time.Parse(time.DateOnly, v.Day) // as it was written
		return say.Day(day)
	case v.Moment != nil:
		return *v.Moment
	case v.Seconds != nil:
		return time.Duration(*v.Seconds * float64(time.Second))
	case v.Metres != nil:
		return measure.Distance(*v.Metres)
	default:
		return nil
	}
}

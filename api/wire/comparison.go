package wire

import (
	"slices"

	"wayhouse/api/phrase"
	"wayhouse/regs/compare"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// ComparisonRequest asks in what the answers to two requests differ. Exactly one kind is
// given.
type ComparisonRequest struct {
	Checks *Opposed[CheckRequest] `json:"checks,omitempty" doc:"Two bodies of /v1/checks"`
	Rigs   *Opposed[RigQuestion]  `json:"rigs,omitempty" doc:"Two bodies of /v1/rigs"`
	Trips  *Opposed[TripRequest]  `json:"trips,omitempty" doc:"Two bodies of /v1/trips"`
	Quotes *Opposed[TripRequest]  `json:"quotes,omitempty" doc:"Two bodies of /v1/quotes: what moved the price"`
}

// Opposed are two requests of one kind.
type Opposed[Q any] struct {
	A Q `json:"a" doc:"The one to compare with"`
	B Q `json:"b" doc:"What may differ from it"`
}

// Within is an error about a part of a request, which names the whole field.
func Within(field string, err error) error {
	refusal, ok := AsRefusal(err)
	if !ok {
		return err
	}
	out := *refusal
	out.Errors = slices.Clone(out.Errors)
	for i := range out.Errors {
		out.Errors[i].Field = field + "." + out.Errors[i].Field
	}
	return &out
}

// Comparison is in what two answers to one question differ.
type Comparison struct {
	Mark     string         `json:"mark,omitempty" doc:"INVENTED where any of it rests on invented data"`
	A        ComparedSide   `json:"a"`
	B        ComparedSide   `json:"b"`
	Facts    []ComparedFact `json:"facts" doc:"Figures that differ"`
	Moved    []ComparedMove `json:"moved"`
	Findings []ComparedRow  `json:"findings"`
	Alike    int            `json:"alike" doc:"How many findings are the same in both"`
}

// ComparedSide is one of two answers.
type ComparedSide struct {
	Mark    string  `json:"mark,omitempty"`
	Name    string  `json:"name,omitempty"`
	Verdict Verdict `json:"verdict"`
}

// ComparedFact is a figure of both; null is not known.
type ComparedFact struct {
	Mark string `json:"mark,omitempty"`
	Name string `json:"name"`
	A    any    `json:"a"`
	B    any    `json:"b"`
	Only string `json:"only,omitempty" doc:"a or b, where the other side has no such figure"`
}

// ComparedMove is what moved a line of a quote.
type ComparedMove struct {
	Mark string `json:"mark,omitempty"`
	Says string `json:"says" doc:"For people"`
	Data Remark `json:"data" doc:"The same as data"`
}

// ComparedRow is a finding of one rule at one place on both sides.
type ComparedRow struct {
	Mark  string   `json:"mark,omitempty"`
	Turns bool     `json:"outcome_differs"`
	A     *Finding `json:"a" doc:"null where the first has none"`
	B     *Finding `json:"b" doc:"null where the second has none"`
}

// NewComparison writes a comparison as it stands in JSON.
func NewComparison(in *phrase.Language, c *compare.Comparison) *Comparison {
	tell := teller{in}
	invented := mark(c.A.Invented || c.B.Invented)
	return &Comparison{
		Mark: invented, A: tell.newSide(c.A), B: tell.newSide(c.B), Alike: c.Same,
		Facts: each(c.Facts, func(p compare.Pair) ComparedFact {
			return ComparedFact{invented, tell.Say(p.Name), compared(p.A, invented), compared(p.B, invented), only(p)}
		}),
		Moved: each(c.Moved, func(r say.Remark) ComparedMove {
			return ComparedMove{invented, tell.Say(r), newRemark(r, invented)}
		}),
		Findings: each(c.Rows, func(r compare.Row) ComparedRow {
			return ComparedRow{mark(invents(r.A) || invents(r.B)), r.Turns(), tell.ifAny(r.A), tell.ifAny(r.B)}
		}),
	}
}

func (tell teller) newSide(s compare.Side) ComparedSide {
	return ComparedSide{mark(s.Invented), s.Name, tell.newVerdict(s.Verdict)}
}

func only(p compare.Pair) string {
	switch {
	case p.OnlyA:
		return "a"
	case p.OnlyB:
		return "b"
	default:
		return ""
	}
}

// compared is a figure as JSON has it.
func compared(v any, mark string) any {
	if v == nil {
		return nil
	}
	return newValue(v, mark)
}

func invents(f *finding.Finding) bool { return f != nil && f.Invented }

func (tell teller) ifAny(f *finding.Finding) *Finding {
	if f == nil {
		return nil
	}
	return &tell.newFindings([]finding.Finding{*f})[0]
}

package trip

import (
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// The questions of a border between countries.
const (
	customsPapers finding.Rule = "customs papers"
	carrierStatus finding.Rule = "carrier status"
)

// customs says at each border between Canada and the United States that no table tells of
// papers and carriers there, and whom to ask.
func (b *builder) customs() (out []finding.Finding) {
	from := ""
	for i, l := range b.plan.Legs {
		to := l.country()
		if to == "" || to == from {
			continue
		}
		if from != "" {
			out = append(out, b.plan.crossing(i, to)...)
		}
		from = to
	}
	return out
}

// country is the country that a leg lies in, "" where it may lie in several or in none that
// is known.
func (l Leg) country() (code string) {
	for _, j := range l.Jurisdictions {
		of := country(j)
		if code != "" && of != code {
			return ""
		}
		code = of
	}
	return code
}

// country is that of a jurisdiction.
func country(code string) string {
	of, _, _ := strings.Cut(code, "-")
	return of
}

// crossing is what is open where a leg enters a country.
func (p *Plan) crossing(leg int, into string) []finding.Finding {
	carriers := say.That("office.drivers", "of", say.Jurisdiction(p.Legs[leg].Jurisdictions[0]))
	var papers say.Remark
	switch into {
	case "CA":
		papers = say.That("office.customs_ca")
	case "US":
		papers, carriers = say.That("office.customs_us"), say.That("office.carriers_us")
	default:
		return nil
	}
	open := func(rule finding.Rule, whom, asks, says say.Remark, of string) finding.Finding {
		return finding.Finding{
			Topic: finding.Duty, Rule: rule, Jurisdiction: strings.Join(p.Legs[leg].Jurisdictions, "/"),
			Place: p.Legs[leg].From, Outcome: finding.Unknown, Reason: finding.NoRow, Says: []say.Remark{says},
			Settles: finding.By(finding.Step{By: finding.Office, Whom: whom, Of: into + of, Asks: asks}),
		}
	}
	return []finding.Finding{
		open(customsPapers, papers, say.That("task.customs"), say.That("border.papers"), ":customs"),
		open(carrierStatus, carriers, say.That("task.carrier"), say.That("border.carrier"), ":carriers"),
	}
}

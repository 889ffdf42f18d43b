package trip

import (
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Notice is the first line of every answer, a sentence each: the verdict, and what
// the network does not know.
func (p *Plan) Notice() []say.Remark {
	out := inventedNotice(p.RestsOnInvented())
	out = append(out, say.That("head.verdict", "outcome", p.Verdict.Outcome(), "unknowns", p.Verdict.Unknowns))
	out = append(out, p.Off...)
	if l := p.unmatched(); l > 0 {
		out = append(out, say.That("head.unmatched", "length", l))
	}
	return append(out, dataNotice(p.About))
}

// Notice is the first line: what no step is, which stops the ways do not reach,
// and what the network does not know.
func (l *Ladders) Notice() []say.Remark {
	out := append(inventedNotice(l.RestsOnInvented()), say.That("head.ladder", "quantity", l.Quantity))
	return append(append(out, l.Off...), dataNotice(l.About))
}

func inventedNotice(invented bool) []say.Remark {
	if !invented {
		return nil
	}
	return []say.Remark{say.That("head.invented")}
}

// dataNotice says what a network is and lacks.
func dataNotice(about network.About) say.Remark {
	var lacks []say.Term
	for _, f := range about.Lacks {
		lacks = append(lacks, f)
	}
	return say.That("head.data", "name", about.Name, "caution", about.Caution, "lacks", lacks)
}

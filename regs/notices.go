package regs

import (
	"slices"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// Clearances returns the structures of the tables by place.
func (t *Tables) Clearances() *clearance.Index { return t.clearances }

// Letters lists the letters about a structure.
func (t *Tables) Letters(structure string) []*clearance.Letter { return t.letters[structure] }

// notices answers for works, closures and wind rules of a jurisdiction whose
// place is not on the map: a person must read where they are.
func (c *checking) notices(code string) []finding.Finding {
	var out []finding.Finding
	for _, n := range slices.Concat(c.t.notices[code], c.t.notices[country(code)]) {
		if !n.Binds(c.at, c.last()) {
			continue
		}
		if applies, _ := n.Roads.Over(c.p.Roads); applies != limit.No {
			out = append(out, c.notice(n, applies))
		}
	}
	return out
}

func (c *checking) notice(n *clearance.Notice, applies limit.Applies) finding.Finding {
	row := n.Finding(n.ID, c.t.Revision, n.Text)
	row.Decides = true
	f := finding.Finding{
		Topic: finding.Notice, Rule: "notice", Jurisdiction: n.Jurisdiction, Place: say.Text(n.Place),
		Outcome: finding.Review, Reason: finding.ToRead,
		Settles: c.t.Asks(n.Jurisdiction), Citations: []finding.Citation{row}, Invented: n.Status == finding.Invented,
	}
	said := []say.Remark{say.Text(n.Text)}
	if applies == limit.Perhaps {
		said = append(said, n.Roads.Doubt(c.p.Roads))
	}
	if n.Closed {
		said = append(said, say.That("notice.closed"))
	}
	for _, one := range []struct {
		q    limit.Quantity
		most *limit.Amount
	}{{limit.Height, amount(n.Height)}, {limit.Width, amount(n.Width)}, {limit.GrossMass, amount(n.Mass)}} {
		if one.most == nil {
			continue
		}
		most := one.q.Of(*one.most)
		switch c.v.over(one.q, *one.most) {
		case limit.Yes:
			said = append(said, say.That("notice.beyond", "quantity", one.q, "most", most))
		case limit.Perhaps:
			said = append(said, say.That("notice.size_open", "quantity", one.q, "most", most))
		default:
			said = append(said, say.That("notice.within", "quantity", one.q, "most", most))
		}
	}
	f.Says = []say.Remark{say.That("notice.perhaps", "place", n.Place, "says", said)}
	return f
}

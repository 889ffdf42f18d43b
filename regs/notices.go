package regs

import (
	"fmt"
	"slices"
	"strings"

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
		Rule: "notice", Jurisdiction: n.Jurisdiction, Place: say.Text(n.Place), Outcome: finding.Review, Ask: c.t.Ask(n.Jurisdiction),
		Citations: []finding.Citation{row}, Invented: n.Status == finding.Invented,
	}
	said := []string{n.Text}
	if applies == limit.Perhaps {
		said = append(said, n.Roads.Doubt(c.p.Roads).String())
	}
	if n.Closed {
		said = append(said, "closed")
	}
	for _, one := range []struct {
		q     limit.Quantity
		limit *limit.Amount
	}{{limit.Height, amount(n.Height)}, {limit.Width, amount(n.Width)}, {limit.GrossMass, amount(n.Mass)}} {
		if one.limit == nil {
			continue
		}
		word := "within"
		switch c.v.over(one.q, *one.limit) {
		case limit.Yes:
			word = "beyond"
		case limit.Perhaps:
			word = "not known to be within"
		}
		said = append(said, fmt.Sprintf("the rig is %s the %s of %s", word, one.q.Words(), one.q.Print(*one.limit)))
	}
	f.Summary = fmt.Sprintf("notice for %s: %s; whether it is on this way, a person must read", n.Place, strings.Join(said, "; "))
	return f
}

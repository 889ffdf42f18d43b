package trip

import (
	"cmp"
	"strings"

	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/quote"
)

// Sailing is a ferry that a trip takes: all of one crossing, also where a border cuts it.
type Sailing struct {
	Name, Operator string // as the map has them; "" where it does not
	From, To       string // municipalities of its shores, likewise
	Jurisdiction   string // where it leaves; "" where that is not one that is known
}

// sails adds the ferries of a way, in the order of the way.
func (b *builder) sails(w way) {
	aboard := false
	for i, p := range w.Pieces {
		e := p.Arc.Edge()
		if !b.Network.Class[e].Water() {
			aboard = false
			continue
		}
		name, all := cmp.Or(b.Network.Name(e), b.Network.Ref(e)), b.plan.Sailings
		if !aboard || name != "" && all[len(all)-1].Name != "" && all[len(all)-1].Name != name {
			s := Sailing{}
			if i > 0 {
				s.From = b.Network.Town(w.Pieces[i-1].Arc.Edge())
			}
			if codes := b.Network.Jurisdictions(e); len(codes) == 1 {
				s.Jurisdiction, _, _ = strings.Cut(codes[0], "/")
			}
			all, aboard = append(all, s), true
		}
		last := &all[len(all)-1]
		last.Name = cmp.Or(last.Name, name)
		last.Operator = cmp.Or(last.Operator, b.Network.Text(b.Network.Record(b.Network.RoadID(e)).Operator))
		if i+1 < len(w.Pieces) {
			last.To = b.Network.Town(w.Pieces[i+1].Arc.Edge())
		}
		b.plan.Sailings = all
	}
}

// part is what a ferry is paid for: by its name or by its two ends, in either direction, for
// the size of the rig.
func (s Sailing) part(p *Plan) quote.Part {
	out := quote.Part{
		Item: rates.Ferry, Jurisdiction: s.Jurisdiction, Name: s.Name, Needed: true,
		Quantities: []quote.Quantity{quote.Whole(rates.Each, 1)},
		Whom:       say.That("quote.whom_ferry", "operator", s.Operator), Missing: say.That("quote.no_length"),
	}
	if s.From != "" && s.To != "" {
		out.Also = []string{s.From + " " + s.To, s.To + " " + s.From}
	}
	if s.Name+s.From+s.To != "" {
		out.Called = say.That("quote.sailing", "name", s.Name, "from", s.From, "to", s.To)
	}
	if length, ok := p.Rig.Length.Value(); ok {
		out.Quantities = append(out.Quantities, quote.Size(length)...)
	}
	return out
}

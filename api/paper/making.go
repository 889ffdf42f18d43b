package paper

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// Holds is how long a paper holds after it was printed, and never longer than its trip:
// this project's choice. Tables, roads and works change; who leaves later prints anew.
const Holds = 30 * 24 * time.Hour

// making makes one paper.
type making struct {
	Print
	doc Doc
}

// make begins a paper about a rig.
func (p Print) make(kind Kind, about say.Remark, r rig.Rig, invented bool) *making {
	m := &making{Print: p, doc: Doc{
		Kind: kind, Lang: p.In.Tag().String(), Title: p.In.Term(kind), Page: p.In.Say(say.That("paper.page")),
	}}
	m.doc.About = m.say(about)
	if m.doc.Made = invented; invented {
		m.mark(say.That("head.invented"))
	}
	m.doc.Foot = append(m.doc.Foot, m.say(say.That("paper.rig", "height", sized(r.Height), "width", sized(r.Width),
		"length", sized(r.Length), "mass", sized(r.Mass), "measured", r.Unit.HeightMeasured)))
	return m
}

// rests says on every page what the paper rests on and until when it holds; roads is "" for
// a paper that rests on none, last zero for one of no trip.
func (m *making) rests(tables, roads string, last time.Time) {
	zone := m.At.Location()
	if !last.IsZero() {
		zone = last.Location()
	}
	m.restsUntil(tables, roads, m.At.In(zone), m.holds(last).In(zone))
}

// holds is until when a paper holds that is not used after a time, zero for one of no trip.
func (m *making) holds(last time.Time) time.Time {
	if until := m.At.Add(Holds); last.IsZero() || until.Before(last) {
		return until
	}
	return last
}

func (m *making) restsUntil(tables, roads string, on, until time.Time) {
	m.doc.Foot = append(m.doc.Foot, m.say(say.That("paper.rests", "tables", tables, "roads", roads,
		"on", say.Day(on), "until", say.Day(until))), m.say(say.That("paper.aid")))
}

func (m *making) say(r say.Remark) string { return m.In.Say(r) }
func (m *making) add(b ...Block)          { m.doc.Blocks = append(m.doc.Blocks, b...) }
func (m *making) heading(r say.Remark)    { m.add(Heading(m.say(r))) }
func (m *making) text(r say.Remark)       { m.add(Text{Says: m.say(r)}) }
func (m *making) loud(r say.Remark)       { m.add(Text{Says: m.say(r), Loud: true}) }

// mark marks every page, once for each thing.
func (m *making) mark(r say.Remark) {
	if s := m.say(r); !slices.Contains(m.doc.Marks, s) {
		m.doc.Marks = append(m.doc.Marks, s)
	}
}

// field is a value with its label, a line to fill where it is not known.
func (m *making) field(label say.Remark, value string) Field { return Field{m.say(label), value} }

// table adds one, unless it is empty.
func (m *making) table(rows []Row, shares []float64, heads ...say.Remark) {
	t := Table{Shares: shares, Rows: rows}
	for _, h := range heads {
		t.Heads = append(t.Heads, m.say(h))
	}
	if len(rows) > 0 {
		m.add(t)
	}
}

// state is an outcome in the words of screens.
func state(o finding.Outcome) say.Remark { return say.Remark{Code: say.Word("state", string(o))} }

// sized is a size of a rig, at least which it is, or that it is not known.
func sized[T measure.Length | measure.Mass](of measure.Known[T]) any {
	if q := finding.Sized(of, finding.Of[T]); q.Known() {
		return q
	}
	return say.That("paper.not_known")
}

// named is a trip with its ends.
func named(p *trip.Plan) say.Remark {
	from, to := p.Ends()
	return say.That("paper.trip", "name", p.Name, "from", from, "to", to,
		"departure", p.Departure)
}

// ofTrip begins a paper of a trip.
func (p Print) ofTrip(kind Kind, t *trip.Plan) *making {
	m := p.make(kind, named(t), t.Rig, t.RestsOnInvented())
	if !t.Drivable() {
		m.mark(say.That("paper.not_to_be_driven"))
	}
	m.rests(t.Tables, t.About.Revision, t.Over())
	return m
}

// OfTrip are the papers of a planned trip.
func OfTrip(p Print, t *trip.Plan) []Doc {
	out := []Doc{p.routeSheet(t), p.checklist(t)}
	for _, n := range t.Permits {
		out = append(out, p.worksheet(t, n))
	}
	return append(out, p.designOf(t))
}

package paper

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// worksheet is what an office asks who applies for a permit; what is not known is a line to
// fill.
func (p Print) worksheet(t *trip.Plan, n regs.Need) Doc {
	m := p.ofTrip(PermitWorksheet, t)
	m.doc.Of, m.doc.Title = n.Jurisdiction, m.say(
		say.That("paper.worksheet_of", "jurisdiction", say.Jurisdiction(n.Jurisdiction)),
	)
	m.need(n)
	m.offers(n)
	m.applicant(t)
	m.vehicles(t)
	m.sizes(n)
	m.loads(t.Rig)
	m.load(t)
	m.wayIn(t, n)
	m.standing(t, n.Jurisdiction)
	if len(n.Unknown) > 0 {
		m.heading(say.That("paper.head_unknown"))
		m.add(List{Items: m.In.Each(n.Unknown)})
	}
	m.heading(say.That("paper.head_signed"))
	m.add(Fields{m.label("signed_by", ""), m.label("signed_on", "")})
	return m.doc
}

// label is a value under a word of ours.
func (m *making) label(word, value string) Field {
	return Field{m.say(say.Remark{Code: say.Word("label", word)}), value}
}

// need says whom to ask, for what and for when.
func (m *making) need(n regs.Need) {
	var because []string
	for _, rule := range n.Because {
		because = append(because, m.In.Term(rule))
	}
	m.add(Fields{
		m.label("office", m.say(n.Office)), m.label("because", strings.Join(because, ", ")),
		m.label("first_day", m.dayOf(n.From)), m.label("last_day", m.dayOf(n.Until)),
	})
	var held []string
	for _, c := range n.Log {
		if c.PermitNumber != "" {
			held = append(held, m.say(say.That("permit.number", "number", c.PermitNumber, "from", dayOrNone(c.From),
				"to", dayOrNone(c.Expires))))
		}
	}
	if len(held) > 0 {
		m.heading(say.That("paper.head_held"))
		m.add(List{Items: held})
	}
}

func (m *making) dayOf(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return m.In.Weekday(t)
}

// dayOrNone is a day as a sentence takes it.
func dayOrNone(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return say.Day(t)
}

// offers are the permits that it may be, each as its row has it.
func (m *making) offers(n regs.Need) {
	for _, o := range n.Permits {
		m.heading(say.That("paper.permit", "name", o.Name))
		m.add(Fields{
			m.label("fee", o.Fee), m.label("ask_by", m.dayOf(o.AskBy)),
			m.label("validity", m.In.Ours(o.Validity)), m.label("signs", m.In.Ours(o.Signs)),
			m.label("insurance_asked", m.In.Ours(o.Insurance)),
		})
		source := say.That("paper.source", "row", o.Row.ID, "source", o.Row.Source, "section", o.Row.Section,
			"status", o.Row.Status, "read", dayOrNone(o.Row.ReadOn))
		for _, said := range []string{
			m.In.Ours(o.FeeNote), m.unsure(o.FeeUnknown), m.In.Ours(o.LeadNote), m.unsure(o.AskUnknown),
			m.In.Ours(o.Note), m.say(source),
		} {
			if said != "" {
				m.add(Text{Says: said})
			}
		}
	}
}

func (m *making) unsure(why say.Remark) string {
	if why.None() {
		return ""
	}
	return m.say(say.That("paper.unsure", "why", why))
}

// join puts together what of some texts there is.
func join(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), "; ")
}

// applicant says who asks.
func (m *making) applicant(t *trip.Plan) {
	p := t.Particulars
	m.heading(say.That("paper.head_applicant"))
	m.add(Fields{
		m.label("carrier", p.Carrier.Name), m.label("address", p.Carrier.Address),
		m.label("phone", join(p.Carrier.Phone, p.Carrier.Email)), m.label("carrier_number", p.Carrier.Number),
		m.label("owner", p.Owner.Name), m.label("owner_address", join(p.Owner.Address, p.Owner.Phone, p.Owner.Email)),
		m.label("driver", join(p.Driver.Name, p.Driver.Phone)), m.label("licence", p.Driver.Number),
		m.label("use", m.In.Term(t.Rig.Use)),
		m.label("insurer", p.Insurance.Company), m.label("policy", p.Insurance.Policy),
		m.label("insured_until", m.dayOf(p.Insurance.Until)),
	})
}

// vehicles says how tow vehicle and unit are registered.
func (m *making) vehicles(t *trip.Plan) {
	row := func(word, tow, unit string) Row {
		return Row{Cells: []string{m.say(say.Remark{Code: say.Word("label", word)}), tow, unit}}
	}
	a, b := t.Particulars.Tow, t.Particulars.Unit
	mass := func(r trip.Registered) string {
		if r.Mass == nil {
			return ""
		}
		return m.In.Quantity(*r.Mass)
	}
	m.heading(say.That("paper.head_vehicles"))
	m.table([]Row{
		row("name", t.Rig.Tow.Name, t.Rig.Unit.Name), row("kind", m.In.Term(t.Rig.Tow.Form), m.In.Term(t.Rig.Unit.Kind)),
		row("make", join(a.Make, a.Year), join(b.Make, b.Year)), row("plate", join(a.Plate, a.In), join(b.Plate, b.In)),
		row("vin", a.VIN, b.VIN), row("registered_mass", mass(a), mass(b)),
		row("coupling", m.In.Term(t.Rig.Unit.Coupling), m.In.Term(t.Rig.Unit.Coupling)),
	}, []float64{0.24, 0.38, 0.38}, say.That("paper.head_nothing"), say.That("paper.of_tow"), say.That("paper.of_unit"))
}

// sizes are the measurements that an application wants, with a cell for each as measured.
func (m *making) sizes(n regs.Need) {
	var rows []Row
	for _, s := range n.Sizes {
		rows = append(rows, Row{Cells: []string{m.In.Term(s.Quantity), m.In.Quantity(s.Value), ""}})
	}
	m.heading(say.That("paper.head_sizes"))
	m.table(rows, []float64{0.34, 0.33, 0.33}, say.That("paper.head_quantity"), say.That("paper.head_planned"),
		say.That("paper.head_as_measured"))
}

// loads is every axle with its distance from the one before it, its tires and its mass.
func (m *making) loads(r rig.Rig) {
	var rows []Row
	for i, a := range r.Loads {
		apart, tires, width := "–", "", ""
		if i > 0 {
			apart = m.In.Quantity(a.At - r.Loads[i-1].At)
		}
		if a.Tires > 0 {
			tires = fmt.Sprint(a.Tires)
		}
		if a.Width > 0 {
			width = m.In.Alone(a.Width)
		}
		mass := ""
		if q := finding.Sized(a.Mass, finding.Of[measure.Mass]); q.Known() {
			mass = m.In.Quantity(q)
		}
		rows = append(rows, Row{Cells: []string{fmt.Sprint(i + 1), apart, tires, width, mass, ""}})
	}
	for i := len(rows); len(r.Loads) == 0 && i < blankAxles; i++ {
		rows = append(rows, Row{Cells: []string{fmt.Sprint(i + 1), "", "", "", "", ""}})
	}
	m.heading(say.That("paper.head_axles"))
	m.table(rows, []float64{0.09, 0.25, 0.1, 0.16, 0.25, 0.15}, say.That("paper.head_axle"), say.That("paper.head_apart"),
		say.That("paper.head_tires"), say.That("paper.head_tire_width"), say.That("paper.head_mass"),
		say.That("paper.head_scale"))
}

// blankAxles is for how many axles there is room where none is described.
const blankAxles = 6

// load says what is moved, and what was taken off to make it smaller.
func (m *making) load(t *trip.Plan) {
	var off []string
	for _, one := range t.Rig.Unit.Movables {
		if one.Does == rig.ComesOff {
			off = append(off, one.Name)
		}
	}
	p := t.Particulars
	m.heading(say.That("paper.head_load"))
	fields := Fields{m.label("load", p.Load), m.label("taken_off", join(p.TakenOff, strings.Join(off, ", ")))}
	if d := t.Verdict.Demands; d.Escorts() > 0 || p.Escort.Name != "" {
		fields = append(fields, m.label("escort", join(p.Escort.Name, p.Escort.Phone, p.Escort.Number)))
	} else {
		fields = append(fields, m.label("escort_if_asked", ""))
	}
	m.add(fields)
}

package wire

import (
	"slices"
	"sync"

	"wayhouse/data"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/parts"
)

// PartRequest is something of a unit that weighs: so much of an entry of the
// catalogue, or a mass of its own.
type PartRequest struct {
	Name string `json:"name,omitempty" maxLength:"100"`
	MassRequest
	PlaceRequest
	In        string    `json:"in,omitempty" maxLength:"100" doc:"A box of the outline by its name: what is left out of the place is that of the middle of the box"`
	BelongsTo Belonging `json:"belongs_to,omitempty" doc:"What it belongs to; the house when left out"`
}

// MassRequest is what a part weighs.
type MassRequest struct {
	Of         string   `json:"of,omitempty" maxLength:"100" doc:"An entry of the catalogue (/v1/parts)"`
	Area       Area     `json:"area,omitzero" doc:"Of an entry by the m2, or with depth of one by the m3"`
	Length     Length   `json:"length,omitzero" doc:"Of an entry by the m"`
	Count      *float64 `json:"count,omitempty" minimum:"0" doc:"Of an entry by the piece"`
	Volume     Volume   `json:"volume,omitzero" doc:"Of an entry by the L or the m3"`
	Depth      Length   `json:"depth,omitzero" doc:"With area: of snow or of insulation"`
	Fill       *float64 `json:"fill,omitempty" minimum:"0" maximum:"1" doc:"How full a tank is, 0 to 1; full when left out"`
	Mass       Mass     `json:"mass,omitzero" doc:"Instead of an entry: what it weighs"`
	GiveOrTake Spread   `json:"give_or_take,omitzero" doc:"With mass: by how much it may weigh more or less; may be 0 kg"`
}

func (q MassRequest) empty() bool { return q == MassRequest{} }

// ShippedParts is the catalogue that ships, read once.
var ShippedParts = sync.OnceValues(func() (*parts.Catalogue, error) {
	raw, err := data.Files.ReadFile("parts/parts.csv")
	if err != nil {
		return nil, err
	}
	return parts.Read(raw)
})

func (r *reader) part(field string, q PartRequest, outline []rig.Box) rig.Part {
	p := r.weighing(field, q.Name, q.MassRequest)
	p.Place, p.Trailer = placed(q.PlaceRequest), q.BelongsTo == Trailer
	if p.Name == "" {
		p.Name = q.Of
	}
	if q.In != "" {
		if i := slices.IndexFunc(outline, func(b rig.Box) bool { return b.Name == q.In }); i < 0 {
			r.fail(field+".in", q.In, say.That("error.no_box_of_the_outline"), say.That("fix.boxes", "names", boxNames(outline)))
		} else {
			p.Place = p.Place.Or(outline[i].Middle())
		}
	}
	if p.Name == "" {
		r.fail(field+".name", nil, say.That("error.missing"), say.That("fix.name_it_such_as"))
	}
	return p
}

// weighing reads a part that has no place yet.
func (r *reader) weighing(field, name string, q MassRequest) rig.Part {
	p := rig.Part{Name: name, Field: field}
	p.Mass, p.Row = r.massOf(field, q)
	if catalogue, err := ShippedParts(); err == nil {
		entry, _ := catalogue.Find(q.Of)
		p.Group = entry.Group
	}
	return p
}

// massOf reads what a part weighs: a mass of its own, or an amount of an entry.
func (r *reader) massOf(field string, q MassRequest) (rig.Estimate, finding.Citation) {
	switch {
	case q.Mass.Is != nil && q.Of != "":
		r.fail(field+".mass", nil, say.That("error.given_beside_of"), say.That("fix.give_the_mass_or"))
	case q.Mass.Is != nil:
		return r.stated(field, q, *q.Mass.Is), finding.Citation{}
	case q.Of == "":
		r.fail(field, nil, say.That("error.no_mass"), say.That("fix.give_mass_or_of"))
	default:
		return r.listed(field, q)
	}
	return rig.Estimate{}, finding.Citation{}
}

// stated is a mass of its own, give or take.
func (r *reader) stated(field string, q MassRequest, mass measure.Mass) rig.Estimate {
	if amount := (MassRequest{Mass: q.Mass, GiveOrTake: q.GiveOrTake}); q != amount {
		r.fail(field, mass.String(), say.That("error.a_mass_of_its"), say.That("fix.give_the_amount_with"))
	}
	e := rig.Exactly(mass)
	if by := q.GiveOrTake.Is; by != nil {
		if *by > mass {
			r.fail(field+".give_or_take", by.String(), say.That("error.more_than_the_mass"), say.That("fix.check_both_figures"))
		}
		e.Low, e.High = max(mass-*by, 0), mass+*by
	}
	return e
}

// entry finds an entry of the catalogue.
func (r *reader) entry(field, of string) (parts.Entry, bool) {
	catalogue, err := ShippedParts()
	if err != nil {
		r.note(err)
		return parts.Entry{}, false
	}
	entry, ok := catalogue.Find(of)
	if !ok {
		fix := say.That("fix.entries")
		if near := catalogue.Near(of); len(near) > 0 {
			fix = say.That("fix.entries_like", "near", near)
		}
		r.fail(field+".of", of, say.That("error.no_entry_of_the"), fix)
	}
	return entry, ok
}

// listed is so much of an entry of the catalogue.
func (r *reader) listed(field string, q MassRequest) (e rig.Estimate, row finding.Citation) {
	entry, ok := r.entry(field, q.Of)
	if !ok {
		return e, row
	}
	if q.GiveOrTake.Is != nil {
		r.fail(field+".give_or_take", nil, say.That("error.stands_beside_an_entry"),
			say.That("fix.leave_it_out_or"))
	}
	amount, ok := r.amount(field, q, entry)
	if !ok {
		return e, row
	}
	var err error
	if e.Low, e.Likely, e.High, err = entry.Mass(amount); err != nil {
		r.fail(field, amount, say.Of(err), say.That("fix.check_the_amount"))
	}
	catalogue, _ := ShippedParts() // it was found there
	row = entry.Proof.Finding(entry.ID, catalogue.Revision, entry.Published)
	return e, row
}

// only reports whether an amount is given in these ways and no others.
func (q MassRequest) only(ways ...string) bool {
	for way, given := range map[string]bool{
		"area": q.Area.Is != nil, "length": q.Length.Is != nil, "depth": q.Depth.Is != nil, "volume": q.Volume.Is != nil,
		"count": q.Count != nil,
	} {
		if given != slices.Contains(ways, way) {
			return false
		}
	}
	return true
}

// amount reads how much of an entry there is, in the unit of the entry; every
// other amount is one too many.
func (r *reader) amount(field string, q MassRequest, entry parts.Entry) (float64, bool) {
	fill := 1.0
	if q.Fill != nil {
		fill = *q.Fill
		if q.Volume.Is == nil {
			r.fail(field+".fill", fill, say.That("error.no_volume"), say.That("fix.give_the_volume_of"))
			return 0, false
		}
	}
	want := say.Remark{}
	switch entry.Per {
	case parts.SquareMetre:
		if want = say.That("amount.area"); q.only("area") {
			return float64(*q.Area.Is), true
		}
	case parts.Metre:
		if want = say.That("amount.length"); q.only("length") {
			return q.Length.Is.Metres(), true
		}
	case parts.Each:
		if want = say.That("amount.count"); q.only("count") {
			return *q.Count, true
		}
	case parts.Litre:
		if want = say.That("amount.volume"); q.only("volume") {
			return fill * float64(*q.Volume.Is/measure.Litre), true
		}
	case parts.CubicMetre:
		want = say.That("amount.depth_or_volume")
		if q.only("area", "depth") {
			return float64(*q.Area.Is) * q.Depth.Is.Metres(), true
		}
		if q.only("volume") {
			return fill * float64(*q.Volume.Is), true
		}
	}
	r.fail(field, q.Of, say.That("error.per", "per", string(entry.Per), "want", want),
		say.That("fix.give_it_with_a"))
	return 0, false
}

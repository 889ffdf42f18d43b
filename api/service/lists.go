package service

import (
	"slices"
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// Jurisdictions lists the areas with rules of their own, and whom to ask.
func (s *Service) Jurisdictions(in *phrase.Language) wire.Jurisdictions {
	tables := s.Newest()
	out := wire.Jurisdictions{Jurisdictions: []wire.Jurisdiction{}, Attribution: wire.CreditOf("areas")}
	for _, j := range s.Planner.Areas.All() {
		out.Jurisdictions = append(out.Jurisdictions, wire.Jurisdiction{
			Code: j.Code, Name: j.Name, French: j.French,
			TimeZone: j.TimeZone, OtherZones: append([]string{}, j.OtherZones...),
			Ask: in.Say(tables.Office(j.Code)), Rows: len(tables.Rows(j.Code)),
		})
	}
	return out
}

// FindPlaces finds towns by the start of their name, and addresses, streets and crossings, 20
// at the most; of coordinates, what is beside them.
func (s *Service) FindPlaces(start string) wire.Places {
	const most, beside = 20, 6
	out := wire.Places{Places: []wire.Place{}, Attribution: wire.CreditOf("places")}
	roads := s.Planner.Network.About.Attribution
	found := s.Places.Search(start, most)
	if at, ok := place.Coordinates(start); ok {
		found = s.Places.Beside(at, choosing.Reach, beside)
	}
	for _, p := range found {
		if p.Kind != place.Town && !strings.HasSuffix(out.Attribution, roads) {
			out.Attribution += "; " + roads
		}
		out.Places = append(out.Places, wire.Place{
			Kind: string(p.Kind), Name: p.Name, Town: p.In, Nearest: p.Near, Jurisdiction: p.Jurisdiction,
			Lat: p.Point.Lat(), Lon: p.Point.Lon(),
		})
	}
	return out
}

// Limits lists the rows of a jurisdiction with its municipalities, and of a quantity;
// "" is all.
func (s *Service) Limits(in *phrase.Language, jurisdiction, quantity string) (wire.Limits, error) {
	tables, q := s.Newest(), limit.Quantity(quantity)
	if q != "" && !slices.Contains(limit.Quantities(), q) {
		return wire.Limits{}, wire.Refuse(wire.FieldError{
			Field: "quantity", Value: quantity,
			Problem: say.That("error.no_quantity_of_the"), Fix: say.That("fix.one_of", "words", rows.Texts(limit.Quantities())),
		})
	}
	if jurisdiction != "" {
		codes, err := wire.Codes("jurisdiction", s.Planner.Areas, tables, []string{jurisdiction})
		if err != nil {
			return wire.Limits{}, err
		}
		jurisdiction = codes[0]
	}
	out := wire.Limits{
		Edition: wire.NewEdition(tables.Revision), Limits: []wire.Limit{},
		Attribution: wire.CreditOf("tables"), Caution: in.Say(trip.Cautions()[0]) + " " + in.Say(say.That("caution.no_row")),
	}
	for _, r := range tables.Rows(jurisdiction) {
		if q == "" || r.Quantity == q {
			out.Limits = append(out.Limits, wire.NewLimit(in, r, tables.Revision))
		}
	}
	return out, nil
}

// Codes reads jurisdictions by code or name; none are all with an area or a row.
func (s *Service) Codes(in []string) ([]string, error) {
	return wire.Codes("in", s.Planner.Areas, s.Newest(), in)
}

// Coverage says how well the tables know each quantity in jurisdictions, which are read
// as [Service.Codes] does.
func (s *Service) Coverage(in *phrase.Language, asked []string) (*wire.Coverage, error) {
	codes, err := s.Codes(asked)
	if err != nil {
		return nil, err
	}
	return wire.NewCoverage(in, s.Newest(), codes, s.Clock()), nil
}

// Sources lists where the data comes from that answers rest on.
func (s *Service) Sources(in *phrase.Language) wire.Sources {
	return wire.Sources{Sources: wire.Credits(in, s.Planner.Network.About, true), Notices: data.Notices}
}

// Parts lists the catalogue of parts.
func Parts(in *phrase.Language) (*wire.PartList, error) {
	c, err := wire.ShippedParts()
	if err != nil {
		return nil, err
	}
	out := &wire.PartList{
		Revision: c.Revision, Parts: []wire.PartEntry{},
		Caution: in.Say(say.That("caution.parts")),
	}
	for _, r := range c.All() {
		out.Parts = append(out.Parts, wire.PartEntry{
			ID: r.ID, Name: r.Name, Group: string(r.Group), Per: r.Per, LowKG: r.Low.Kilograms(),
			TypicalKG: r.Typical.Kilograms(), HighKG: r.High.Kilograms(), Layers: r.Layers, Published: r.Published, Note: r.Note,
			Status: string(r.Status), Source: r.Cite(),
		})
	}
	return out, nil
}

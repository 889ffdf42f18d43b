package limit

import (
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// Table is the table of limits.
func Table() rows.Table[Row] {
	return rows.Table[Row]{Name: "limits", Columns: columns(), Read: readRow, Strict: agree}
}

func columns() []string {
	return []string{
		"id", "jurisdiction", "kind", "combination", "tow", "quantity", "axles", "published", "threshold", "beyond",
		"outcome", "tier",
		"permit", "escorts_any", "escorts_front", "escorts_rear", "height_pole", "survey", "hours", "when", "road", "roads",
		"group", "spread", "axle",
		"condition", "note", "valid_from", "valid_to", "term_days", "supersedes", "status", "source", "section",
		"source_year", "source_url", "read_on",
	}
}

func readRow(c *rows.Cells) Row {
	r := Row{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"),
		Kind: rows.OneOf(c, "kind", append(UnitKinds(), All, CommercialUse, Building, FarmEquipment)...),
		Form: rows.OneOf(c, "combination", AnyForm, Semitrailer, Trailer, NotTractorSemitrailer, SingleVehicle, Tractor),
		Tows: readTows(c), Quantity: rows.OneOf(c, "quantity", Quantities()...), Axles: c.Count("axles"),
		Published: c.Need("published"), Text: c.Need("threshold"),
		Inclusive: rows.OneOf(c, "beyond", "over", "at_or_over") == "at_or_over",
		Outcome:   rows.OneOf(c, "outcome", finding.Conditional, finding.Review, finding.Forbidden),
		Tier:      rows.OneOf(c, "tier", Legal, Beyond, Unsure), When: c.Get("when"), Road: c.Get("road"),
		Condition: c.Get("condition"), Note: c.Get("note"), ValidFrom: c.Day("valid_from"),
		ValidTo: c.Day("valid_to"), Supersedes: strings.Fields(c.Get("supersedes")),
		Status: rows.OneOf(c, "status", finding.Published, finding.Verified, finding.Secondary, finding.Memory,
			finding.Invented),
		Source: c.Need("source"), Section: c.Get("section"), Year: c.Get("source_year"),
		URL: c.Get("source_url"), ReadOn: c.Day("read_on"),
		Term: time.Duration(c.Number("term_days")) * 24 * time.Hour,
	}
	r.Demands, r.EscortsSaid = readDemands(c)
	if !r.ValidFrom.IsZero() && !r.ValidTo.IsZero() && r.ValidTo.Before(r.ValidFrom) {
		c.Fail("valid_to", say.That("error.before_valid_from"), say.That("fix.check_both_days"))
	}
	r.Times = window.ParseCondition(r.When)
	var err error
	if r.Tires, err = parseTireTest(r.Condition); err != nil {
		c.Unusable("condition", err)
	}
	if r.Roads, err = roads.Parse(c.Get("roads")); err != nil {
		c.Unusable("roads", err)
	}
	r.Road = r.On().String()
	if c.Err == nil {
		readThreshold(c, &r)
	}
	return r
}

func readThreshold(c *rows.Cells, r *Row) {
	note := func(column string, err error) {
		if err != nil {
			c.Unusable(column, err)
		}
	}
	var err error
	switch r.Quantity {
	case TireLoadPerWidth:
		r.PerWidth, err = parsePerWidth(r.Text)
	case BridgeFormula:
		r.Bridge, err = parseBridge(r.Text)
	default:
		r.Threshold, err = r.Quantity.Parse(r.Text)
	}
	note("threshold", err)
	if !r.Quantity.OfAxles() {
		for _, column := range []string{"group", "spread", "axle"} {
			if c.Get(column) != "" {
				c.Fail(column, say.That("error.for_quantities_of_axles"), say.That("fix.leave_it_empty"))
			}
		}
		return
	}
	var ok bool
	if r.Count, ok = parseCount(r.Quantity, c.Get("group")); !ok {
		c.Fail("group", say.That("error.no_number_of_axles"), say.That("fix.write_it_like_2"))
	}
	r.Spread, r.Apart, err = parseSpread(c.Get("spread"))
	note("spread", err)
	if r.Apart.Given && r.Quantity != TandemMass && r.Quantity != TridemMass && r.Quantity != AxleGroupMass {
		c.Fail("spread", say.That("error.says_when_axles_are"), say.That("fix.leave_that_part_out"))
	}
	r.Axle, err = parseAxleTest(c.Get("axle"))
	note("axle", err)
}

// Permit names the permit of a jurisdiction in a demand.
func Permit(jurisdiction string) say.Remark {
	return say.That("permit.size", "jurisdiction", say.Jurisdiction(jurisdiction))
}

func readDemands(c *rows.Cells) (finding.Demands, bool) {
	d := finding.Demands{
		EscortsAny: c.Count("escorts_any"), EscortsFront: c.Count("escorts_front"), EscortsRear: c.Count("escorts_rear"),
		HeightPole: c.Yes("height_pole"), Survey: c.Yes("survey"),
	}
	if c.Yes("permit") {
		d.Permits = []say.Remark{Permit(c.Get("jurisdiction"))}
	}
	if h := c.Get("hours"); h != "" {
		d.Hours = []say.Remark{say.Text(h)}
	}
	return d, c.Get("escorts_any")+c.Get("escorts_front")+c.Get("escorts_rear") != ""
}

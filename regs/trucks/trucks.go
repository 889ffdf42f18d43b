// Package trucks holds which rigs the signs for trucks mean: those that bind heavy goods
// vehicles alone. Maps call such a vehicle one of more than 3.5 t as rated
// (OpenStreetMap wiki, Key:hgv, 2026); laws and by-laws here each have a mass of their
// own, and many of them have none in the table.
package trucks

import (
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Row is one row of the table.
type Row struct {
	ID           string
	Jurisdiction string        // ISO 3166-2, a municipality of it, or the country
	Use          limit.Use     // whom its signs bind; "" for everyone
	VehicleOver  *measure.Mass // one of the vehicles is rated for more; nil: whatever it is rated for
	RigOver      *measure.Mass // the rig as a whole is
	Inclusive    bool          // the masses themselves are over
	Words        string        // of the rule
	Note         string
	rows.Proof
}

// Table is the table of signs for trucks.
func Table() rows.Table[Row] {
	return rows.Table[Row]{
		Name: "trucks",
		Columns: append([]string{
			"id", "jurisdiction", "use", "vehicle_over", "rig_over", "beyond", "words", "note",
		}, rows.ProofColumns()...),
		Read: read,
	}
}

func read(c *rows.Cells) Row {
	r := Row{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"),
		Use: rows.OneOf(c, "use", "", limit.Commercial, limit.Private), VehicleOver: c.Mass("vehicle_over"),
		RigOver: c.Mass("rig_over"), Inclusive: rows.OneOf(c, "beyond", "over", "at_or_over") == "at_or_over",
		Words: c.Need("words"), Note: c.Get("note"), Proof: rows.ReadProof(c),
	}
	if r.VehicleOver == nil && r.RigOver == nil {
		c.Fail("vehicle_over", say.That("error.empty_and_so_is"), say.That("fix.say_from_which_mass"))
	}
	return r
}

// Case is what a row is asked about: masses as they are rated, not as they are weighed.
type Case struct {
	Use     limit.Use
	Vehicle measure.Known[measure.Mass] // the greater rating of tow vehicle and unit
	Rig     measure.Known[measure.Mass] // of both together, or as registered
}

// Binds tells how surely the signs bind: where the row names two masses, both are to be
// exceeded.
func (r Row) Binds(c Case) limit.Applies {
	out := limit.Yes
	switch {
	case r.Use == "" || r.Use == c.Use:
	case c.Use == limit.UseUnknown:
		out = limit.Perhaps
	default:
		out = limit.No
	}
	return min(out, limit.Over(r.VehicleOver, c.Vehicle, r.Inclusive), limit.Over(r.RigOver, c.Rig, r.Inclusive))
}

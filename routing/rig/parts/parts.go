// Package parts holds what the parts of a tiny house weigh: walls and roofs by
// the square metre, studs by the metre, appliances each, fluids by the litre.
//
// Every figure has a low, a typical and a high end and says where it comes
// from; most were read second-hand or recalled. They help to estimate a house
// that was not weighed. A weighed mass is always better.
package parts

import (
	"regexp"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Group is what kind of part a row is.
type Group string

// The groups. Goods are what people bring along: no figure of them is shipped.
const (
	Wall       Group = "wall"
	Partition  Group = "partition"
	Floor      Group = "floor"
	Roof       Group = "roof"
	Framing    Group = "framing"
	Sheathing  Group = "sheathing"
	Insulation Group = "insulation"
	Cladding   Group = "cladding"
	Window     Group = "window"
	Door       Group = "door"
	Appliance  Group = "appliance"
	Furniture  Group = "furniture"
	Tank       Group = "tank" // empty
	Fluid      Group = "fluid"
	Goods      Group = "goods"
	Snow       Group = "snow"
	Trailer    Group = "trailer"
	Other      Group = "other"
)

// Groups lists the groups.
func Groups() []Group {
	return []Group{
		Wall, Partition, Floor, Roof, Framing, Sheathing, Insulation, Cladding, Window,
		Door, Appliance, Furniture, Tank, Fluid, Goods, Snow, Trailer, Other,
	}
}

// Unit is what one amount of a part is.
type Unit string

// The units.
const (
	SquareMetre Unit = "m2"
	Metre       Unit = "m"
	Each        Unit = "each"
	Litre       Unit = "L"
	CubicMetre  Unit = "m3"
)

// Units lists the units.
func Units() []Unit { return []Unit{SquareMetre, Metre, Each, Litre, CubicMetre} }

// Entry is one part. The masses are those of one Per: 0 < Low <= Typical <= High.
// Those of a row of the table that has layers are 0 until its catalogue adds them
// up; High may be a load that buildings are designed for.
type Entry struct {
	ID                 string // lower case, words joined by dashes
	Name               string
	Group              Group
	Per                Unit
	Low, Typical, High measure.Mass
	Layers             string // what it is made of, see [Entry.Layered]; "" where that is not told
	// the figure as printed, or two printed ones joined by "plus" or "less"; "" where none was read
	Published string
	Note      string
	rows.Proof
}

// Table is the table of parts.
func Table() rows.Table[Entry] {
	return rows.Table[Entry]{
		Name: "parts",
		Columns: append([]string{"id", "name", "group", "per", "low", "typical", "high", "layers", "published", "note"},
			rows.ProofColumns()...),
		Read: read,
	}
}

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func read(c *rows.Cells) Entry {
	r := Entry{
		ID: c.Need("id"), Name: c.Need("name"), Group: rows.OneOf(c, "group", Groups()...),
		Per: rows.OneOf(c, "per", Units()...), Layers: c.Get("layers"),
		Published: c.Get("published"), Note: c.Get("note"), Proof: rows.ReadProof(c),
	}
	r.Low, r.Typical, r.High = masses(c, r.Layers != "")
	recalled := r.Status == finding.Memory || r.Status == finding.Invented
	printed := r.Status == finding.Published || r.Status == finding.Secondary
	switch {
	case !idForm.MatchString(r.ID):
		c.Fail("id", say.That("error.no_id_of_a"), say.That("fix.like", "text", "wall-2x4-bare"))
	case r.Layers != "" && r.Per != SquareMetre:
		c.Fail("per", say.That("error.layers_not_by_m2"), say.That("fix.layers_by_m2"))
	case r.Low > r.Typical:
		c.Fail("low", say.That("error.above_typical"), say.That("fix.order_them_low_typical"))
	case r.Typical > r.High:
		c.Fail("high", say.That("error.below_typical"), say.That("fix.order_them_low_typical"))
	case recalled && r.Published != "":
		c.Fail("published", say.That("error.stands_in_a_row"), say.That("fix.leave_it_empty_or"))
	case printed && r.Published == "":
		c.Fail("published", say.That("error.empty_in_a_row"), say.That("fix.give_the_figure_as"))
	}
	return r
}

// masses reads the ends of a row. One with layers states the high end alone, if
// that.
func masses(c *rows.Cells, layered bool) (low, typical, high measure.Mass) {
	for _, end := range []struct {
		column string
		into   *measure.Mass
	}{{"low", &low}, {"typical", &typical}, {"high", &high}} {
		switch {
		case !layered:
			c.Need(end.column)
		case end.column != "high" && c.Get(end.column) != "":
			c.Fail(end.column, say.That("error.stands_beside_layers"), say.That("fix.leave_to_layers"))
		}
		if m := c.Mass(end.column); m != nil { // otherwise noted in the cells: the row is not used
			*end.into = *m
		}
	}
	return low, typical, high
}

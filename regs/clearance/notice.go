package clearance

import (
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Notice is word of works, a closure or a wind rule somewhere on a road, without
// a point on the map. One with a point is a [Structure] with days.
type Notice struct {
	ID           string
	Jurisdiction string
	Roads        roads.Set
	Place        string // in words
	Text         string // what it says
	Closed       bool
	Height       *measure.Length
	Width        *measure.Length
	Mass         *measure.Mass
	From         time.Time // first and last day; zero: not stated
	Until        time.Time
	rows.Proof
}

// Notices is the table of notices.
func Notices() rows.Table[Notice] {
	return rows.Table[Notice]{
		Name: "notices",
		Columns: append([]string{"id", "jurisdiction", "roads", "place", "text", "closed", "height", "width", "mass",
			"valid_from", "valid_to"}, rows.ProofColumns()...),
		Read: func(c *rows.Cells) Notice {
			n := Notice{
				ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"), Place: c.Need("place"), Text: c.Need("text"),
				Closed: c.Yes("closed"), Height: c.Length("height"), Width: c.Length("width"), Mass: c.Mass("mass"),
				From: c.Day("valid_from"), Until: c.Day("valid_to"), Proof: rows.ReadProof(c),
			}
			var err error
			if n.Roads, err = roads.Read(c.Get("roads")); err != nil {
				c.Unusable("roads", err)
			}
			if !n.From.IsZero() && !n.Until.IsZero() && n.Until.Before(n.From) {
				c.Fail("valid_to", say.That("error.before_valid_from"), say.That("fix.check_both_days"))
			}
			return n
		},
	}
}

// Binds reports whether the notice holds on some day from one to another.
func (n Notice) Binds(from, until time.Time) bool {
	return Structure{From: n.From, Until: n.Until}.Binds(from, until)
}

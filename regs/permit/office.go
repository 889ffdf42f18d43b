// Package permit holds who gives permits, what a permit is called, what it
// costs and asks for, and what offices have answered.
package permit

import (
	"wayhouse/regs/rows"
)

// Office is whom to ask in a jurisdiction.
type Office struct {
	ID           string
	Jurisdiction string // ISO 3166-2
	Name         string
	Contact      string
	rows.Proof
}

// Offices is the table of offices.
func Offices() rows.Table[Office] {
	return rows.Table[Office]{
		Name:    "offices",
		Columns: append([]string{"id", "jurisdiction", "name", "contact"}, rows.ProofColumns()...),
		Read: func(c *rows.Cells) Office {
			return Office{
				ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"), Name: c.Need("name"),
				Contact: c.Get("contact"), Proof: rows.ReadProof(c),
			}
		},
	}
}

package trip

import (
	"time"

	"wayhouse/regs/measure"
)

// Particulars are what offices ask of a move beside its sizes. Nothing is decided by them:
// they are printed. What is empty is not known.
type Particulars struct {
	Carrier, Owner, Driver, Escort Party
	Tow, Unit                      Registered
	Insurance                      Insurance
	Load, TakenOff                 string
	From, To                       string // addresses
}

// Party is a person or a firm.
type Party struct{ Name, Address, Phone, Email, Number string }

// Registered is how a vehicle is registered.
type Registered struct {
	Plate, In, VIN, Make, Year string
	Mass                       *measure.Mass // for which it is registered
}

// Insurance is that of the move.
type Insurance struct {
	Company, Policy string
	Until           time.Time
}

package rig

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/rig/parts"
)

// Places on a unit are measured along from the coupling point, behind it
// positive; across from its middle line, to the right positive; up from the
// ground, as it travels, level.

// Coordinates is the middle of something. What is nil is not known.
type Coordinates struct{ Along, Across, Up *measure.Length }

// Box is a part of the outline. Left and Right are both distances from the middle
// line to the outside.
type Box struct {
	Name        string
	From, To    measure.Length // along
	Left, Right measure.Length
	Bottom, Top measure.Length // above the ground
}

// Suspension is how the axles of a unit share what they carry.
type Suspension string

// The suspensions.
const (
	SuspensionUnknown Suspension = ""
	Equalized         Suspension = "equalized"   // beams or linked air springs share among the axles
	Independent       Suspension = "independent" // each axle has springs of its own
)

// Suspensions lists those that can be given.
func Suspensions() []Suspension { return []Suspension{Equalized, Independent} }

// Axle is one axle of a unit or a tow vehicle.
type Axle struct {
	At       measure.Length // of a unit behind the coupling point, of a tow vehicle behind its first axle
	Rating   *measure.Mass
	Tires    int             // on the axle; 0: not known
	Each     *measure.Mass   // rating of one tire, as fitted (single or dual)
	Width    measure.Length  // nominal, of one tire; 0: not known
	On       Tires           // what else is known of its tires
	Track    *measure.Length // between the middles of the outer tires
	Over     *measure.Length // measured over the outsides of the outer tires
	Steering bool
	// BrakeRating is the mass that the brakes of an axle of a unit are made for; nil: not
	// known. Unbraked tells that it has none.
	BrakeRating *measure.Mass
	Unbraked    bool
	Empty       *measure.Mass // of a tow vehicle: what it carries uncoupled, ready to travel
}

// Ratings are what the makers allow. What is nil is not known.
type Ratings struct {
	Gross    *measure.Mass // of the vehicle alone, with what rests on it
	Combined *measure.Mass // of a tow vehicle with its unit
	Towed    *measure.Mass // of the coupling: what it may pull
	Vertical *measure.Mass // of the coupling: what may rest on it
}

// Part is something that weighs.
type Part struct {
	Name    string
	Mass    Estimate
	Place   Coordinates
	Trailer bool             // of the trailer; otherwise of the house that it carries
	Row     finding.Citation // of the catalogue; zero where the mass was stated
	Group   parts.Group      // of the catalogue; "" where the mass was stated
	Field   string           // that describes it, such as unit.parts[3]
}

// Position is where a movable is in one state: its mass, and the room it takes
// if any.
type Position struct {
	Place Coordinates
	Box   *Box
}

// Movable is what folds, slides, latches or comes off before the unit travels.
type Movable struct {
	Name string
	Does Motion
	Mass Estimate
	Row  finding.Citation
	// Travel is nil where it does not travel with the unit, Stand where it is not
	// there while the unit stands.
	Travel, Stand *Position
	Check         string // what to look at before the unit leaves
}

// Motion is what a movable does before the unit travels.
type Motion string

// The motions.
const (
	Folds    Motion = "folds"
	Slides   Motion = "slides"
	Latches  Motion = "latches"
	ComesOff Motion = "comes_off"
)

// Term is the motion in words.
func (m Motion) Term() say.Code { return say.Word("motion", string(m)) }

// Motions lists those that can be given.
func Motions() []Motion { return []Motion{Folds, Slides, Latches, ComesOff} }

// Ticket is what a scale said of the unit, loaded as it travels.
type Ticket struct {
	Label    string // of the scale's slip
	On       time.Time
	Coupling measure.Mass
	Axles    []measure.Mass // each, from the front; or one for all of them together
	// Left and Right are what the tires of each side carried; nil: not weighed.
	Left, Right *measure.Mass
}

// Frame is the trailer under a house and the shape of what stands on it. Lists
// that are empty were not described.
type Frame struct {
	Ratings    Ratings
	Suspension Suspension
	Axles      []Axle
	Deck       *measure.Length // of the deck, above the ground
	// CouplingHeight is that of its side of the coupling above the ground while the unit
	// stands level.
	CouplingHeight *measure.Length
	Brakes         Brakes // how its brakes are worked
	// Clearance is the lowest place between the supports, TailClearance the
	// lowest behind the last axle, both above the ground.
	Clearance, TailClearance *measure.Length

	Outline  []Box
	Nose     drive.Nose
	RoofBox  *measure.Area // of what stands on the roof, from the front
	DragArea *measure.Area // of the rig, drag coefficient times area, where somebody measured it
	Parts    []Part
	Movables []Movable
	Anchors  []anchors.Anchor
	Ticket   *Ticket
}

// Truck is what makes a tow vehicle one.
type Truck struct {
	Ratings    Ratings
	Axles      []Axle
	CouplingAt *measure.Length // behind its first axle
	// CouplingHeight is that of its side of the coupling above the ground, with what
	// rests on it.
	CouplingHeight *measure.Length
	CabToCoupling  *measure.Length // from the rear of the cab
	Bed            *measure.Length // height of the sides of its bed, above the ground
	Power          *measure.Power  // of the engine
	Tank           *measure.Volume
	TurningRadius  *measure.Length // of the middle of its first axle, at full lock
	Logs           []drive.Log     // of fuel, of the rig
	Distribution   *Distribution   // nil: its ball alone bears on it
}

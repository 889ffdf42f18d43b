package network

import (
	"encoding/binary"
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Road is what the source says of a stretch of road, or of one thing that
// stands on it: one record, shared by all that say the same.
type Road struct {
	Flags Flags
	Lanes uint8 // of both directions; 0: not known
	Paved Paving
	_     [2]byte
	Width measure.Length // of the carriageway; 0: not known

	// As the source writes them, empty where it says nothing.
	Surface, Smoothness, Tracktype, Incline StringID
	Operator, Ownership, Signed             StringID // who runs it; whose it is; in which network of numbered roads

	// Signs are not part of the fixed row.
}

// Flags are properties that a road has or lacks.
type Flags uint32

// The flags.
const (
	Link            Flags = 1 << iota // a ramp or turning lane
	Roundabout                        // or another circular junction
	OnewayAlong                       // open in the direction of the line only
	OnewayAgainst                     // open against it only
	OnewayVaries                      // which way is open changes
	OnBridge                          // carried over something
	InTunnel                          // under ground; culverts are not
	Covered                           // under a roof
	ThroughBuilding                   // under a building that stands over it
	Calmed                            // with tables, chicanes or the like
	Ford                              // through water
	Toll                              // costs money
	TrolleyWire                       // a contact line above it
	PostedSpeed                       // the speed comes from a sign
	KnownDirection                    // the source says whether it is one-way
	BuiltUp                           // in a built-up area, by how close its streets lie
	AtEnds                            // a driveway, an aisle of parking or the like: nobody's way to elsewhere
	Humped                            // calmed, and not surely without a hump
	TruckAlong                        // a truck road in the direction of the line
	TruckAgainst                      // a truck road against it
)

// Has reports whether all of the given flags are set.
func (f Flags) Has(flags Flags) bool { return f&flags == flags }

// Paving is whether a road is paved.
type Paving uint8

// The pavings.
const (
	PavingUnknown Paving = iota
	Paved
	Unpaved
)

// Subject is what a sign is about.
type Subject uint8

// The subjects: access, or the quantity that is limited. Legal and physical
// heights are kept beside the one that says neither.
const (
	Access Subject = iota
	MaxHeight
	MaxHeightLegal
	MaxHeightPhysical
	MaxWidth
	MaxWidthPhysical
	MaxLength
	MaxMass   // actual gross mass
	MaxRating // gross mass as rated
	MaxAxleMass
	subjects
)

var subjectNames = [subjects]string{
	"access", "height", "legal height", "physical height", "width", "physical width", "length", "gross mass",
	"rated mass", "axle mass",
}

func (s Subject) String() string {
	if s >= subjects {
		return fmt.Sprintf("subject %d", uint8(s))
	}
	return subjectNames[s]
}

// Term names the subject.
func (s Subject) Term() say.Code { return term("subject", s.String()) }

// Mass reports whether the subject is a mass; other quantities are lengths.
func (s Subject) Mass() bool { return s == MaxMass || s == MaxRating || s == MaxAxleMass }

// Height reports whether the subject is a height.
func (s Subject) Height() bool {
	return s == MaxHeight || s == MaxHeightLegal || s == MaxHeightPhysical
}

// Mode is whom a sign is for, in the terms of OpenStreetMap.
type Mode uint8

// The modes. Hazmat is anyone who carries hazardous goods, such as propane.
const (
	Everyone Mode = iota
	Vehicles
	MotorVehicles
	Motorcars
	GoodsVehicles
	HeavyGoods
	Articulated
	Trailers
	Caravans
	Hazmat
	modes
)

var modeNames = [modes]string{
	"everyone", "vehicles", "motor vehicles", "motorcars", "goods vehicles", "heavy goods vehicles",
	"articulated heavy goods vehicles", "trailers", "caravans", "hazardous goods",
}

func (m Mode) String() string {
	if m >= modes {
		return fmt.Sprintf("mode %d", uint8(m))
	}
	return modeNames[m]
}

// Term names the mode.
func (m Mode) Term() say.Code { return term("mode", m.String()) }

// Chain lists the modes whose signs bind a mode, the most specific first: the
// hierarchy of land transport of the OpenStreetMap wiki (Key:access, 2025,
// from memory). There trailers stand under vehicles alone; one that is towed is
// moved by a motor vehicle, so signs for those bind it, and free it, too.
func (m Mode) Chain() []Mode {
	switch m {
	case Articulated:
		return []Mode{Articulated, HeavyGoods, MotorVehicles, Vehicles, Everyone}
	case HeavyGoods, GoodsVehicles, Motorcars:
		return []Mode{m, MotorVehicles, Vehicles, Everyone}
	case Caravans:
		return []Mode{Caravans, Trailers, MotorVehicles, Vehicles, Everyone}
	case Trailers:
		return []Mode{Trailers, MotorVehicles, Vehicles, Everyone}
	case MotorVehicles:
		return []Mode{MotorVehicles, Vehicles, Everyone}
	case Vehicles:
		return []Mode{Vehicles, Everyone}
	case Hazmat:
		return []Mode{Hazmat}
	default:
		return []Mode{Everyone}
	}
}

// Bound is the direction of travel that a sign binds.
type Bound uint8

// The directions.
const (
	BothWays Bound = iota
	Along          // the line of the edge
	Against
)

// Binds reports whether the sign binds travel in a direction.
func (b Bound) Binds(reverse bool) bool {
	return b == BothWays || b == Against && reverse || b == Along && !reverse
}

// Word is what an access sign says.
type Word uint8

// The words, mildest first. Unread is a word that is not in the wiki's list.
const (
	Allowed Word = iota
	Discouraged
	Unread
	Destination // only at the ends of a trip
	Permission  // private, residents, permit: whether one has it is not known
	Refused
	words
)

var wordNames = [words]string{"allowed", "discouraged", "not understood", "destination only", "by permission", "no"}

func (w Word) String() string {
	if w >= words {
		return fmt.Sprintf("word %d", uint8(w))
	}
	return wordNames[w]
}

// Term names the word.
func (w Word) Term() say.Code { return term("access_word", w.String()) }

// State is what a value says of a quantity.
type State uint8

// The states.
const (
	Absent     State = iota // nothing is said
	Known                   // a figure
	NoFigure                // that there is none: default, no_sign, below_default
	Unreadable              // something that is no plausible figure
	states
)

// Sign is one thing that a source says of a road: an access word, or a figure
// that limits a quantity.
type Sign struct {
	Subject Subject
	For     Mode
	Bound   Bound
	Word    Word  // of access
	State   State // of a figure
	_       [3]byte
	Value   int64    // the figure: nanometres, or tens of micrograms for masses
	Text    StringID // as the source writes it
	When    StringID // under what condition; "" always
}

// Length returns the figure of a sign about a length.
func (s Sign) Length() measure.Length { return measure.Length(s.Value) }

// Mass returns the figure of a sign about a mass.
func (s Sign) Mass() measure.Mass { return measure.Mass(s.Value) }

// Record is a Road with its signs.
type Record struct {
	Road
	Signs []Sign
}

var (
	roadSize = binary.Size(Road{})
	signSize = binary.Size(Sign{})
)

func (r Record) encode() []byte {
	raw, err := binary.Append(nil, binary.LittleEndian, r.Road)
	for _, s := range r.Signs {
		if err == nil {
			raw, err = binary.Append(raw, binary.LittleEndian, s)
		}
	}
	if err != nil {
		panic(fmt.Sprintf("a record of fixed size: %v", err)) // only a type of no fixed size fails
	}
	return raw
}

func decodeRecord(raw []byte) (r Record, err error) {
	if len(raw) < roadSize || (len(raw)-roadSize)%signSize != 0 {
		return r, fmt.Errorf("a record of %d bytes", len(raw))
	}
	if _, err := binary.Decode(raw, binary.LittleEndian, &r.Road); err != nil {
		return r, err
	}
	if r.Paved > Unpaved || r.Width < 0 {
		return r, fmt.Errorf("a road of paving %d, %d nm wide", r.Paved, r.Width)
	}
	for raw := range slices.Chunk(raw[roadSize:], signSize) {
		var s Sign
		if _, err := binary.Decode(raw, binary.LittleEndian, &s); err != nil {
			return r, err
		}
		if s.Subject >= subjects || s.For >= modes || s.Word >= words || s.State >= states || s.Bound > Against {
			return r, fmt.Errorf("a sign of unknown kind: %+v", s)
		}
		r.Signs = append(r.Signs, s)
	}
	return r, nil
}

// Flags returns the flags of an edge.
func (n *Network) Flags(e EdgeID) Flags {
	raw := n.roads.at(uint32(n.road[e]))
	if len(raw) < 4 { // Verify refuses such a file
		return 0
	}
	return Flags(binary.LittleEndian.Uint32(raw)) // the first of a Road
}

// Record returns what the source says; it is decoded at each call.
func (n *Network) Record(id RoadID) Record {
	r, err := decodeRecord(n.roads.at(uint32(id)))
	if err != nil { // Verify refuses such a file; never read it as an open road
		return Record{Signs: []Sign{{Subject: Access, Word: Refused}}}
	}
	return r
}

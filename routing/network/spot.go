package network

import (
	"fmt"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Spot is one thing at one place of an edge: what stands over the road, blocks
// it or slows it down.
type Spot struct {
	Offset measure.Distance // along the line of the edge
	OSM    int64            // the way above, or the node of the barrier
	Edge   EdgeID
	Road   RoadID   // what its tags say; of a structure, what the road under it says
	Name   StringID // of what stands there
	Kind   Kind
	OnNode uint8 // 1: OSM is a node; otherwise a way
	Along  uint8 // 1: it stands over the whole edge, Offset is its middle
	Own    uint8 // 1: Road is the record of what stands there; otherwise of the road
}

// Kind is what a spot is.
type Kind uint8

// The kinds. Structures come first, in the order of risk in which answers list
// them: what leaves least room most often, and is hardest to see around, first
// (common practice, no source).
const (
	Restrictor Kind = iota // a bar built to stop high vehicles
	Passage                // through a building
	Tunnel
	CoveredWay
	RailBridge
	RoadBridge
	FootBridge
	OtherBridge // pipes, conveyors, aqueducts, bridges of unknown use
	Underpass   // the road lies below the ground around it, under something unknown
	Gantry
	PostedHeight // a sign, over nothing that the source knows
	ContactLine  // of a railway, tram or trolleybus
	TelecomLine
	MinorPowerLine
	PowerLine
	Aerialway
	lastOverhead // the kinds before it stand over the road

	Gate      // opens, or not
	Blocked   // bollards, blocks and the like
	TollBooth // lanes between booths
	Checkpoint
	LevelCrossing
	Hump           // a table, hump or bump across the road, or calming that is not said to be anything else
	Calming        // chicanes, chokers, islands
	MiniRoundabout // about a middle that long vehicles drive over; its record has its diameter for a width
	FordSpot
	UnreadTurn // a turn rule that could not be read
	AtJunction // something on one of the roads that meet there, not known which
	SignPost   // a sign of its own
	OtherBarrier
	TurningCircle // a widening to turn round on; its record has its diameter for a width
	kinds
)

var kindNames = [kinds]string{
	"height restrictor", "way through a building", "tunnel", "covered way", "rail bridge", "road bridge", "foot bridge",
	"other bridge", "underpass", "gantry", "posted height", "contact line", "telephone line", "minor power line",
	"power line", "aerial cable", "",
	"gate", "barrier that blocks vehicles", "toll booth", "checkpoint", "level crossing", "speed hump",
	"traffic calming", "mini roundabout", "ford", "turn rule that was not read", "thing at a junction", "sign post",
	"barrier", "turning circle",
}

func (k Kind) String() string {
	if k >= kinds {
		return fmt.Sprintf("kind %d", uint8(k))
	}
	return kindNames[k]
}

// Term names the kind.
func (k Kind) Term() say.Code { return term("kind", k.String()) }

// MarshalText writes the name of a kind.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Overhead reports whether things of this kind stand over the road.
func (k Kind) Overhead() bool { return k < lastOverhead }

// Whole reports whether a spot stands for something all along its edge, such as a
// tunnel, and not for a single place.
func (s Spot) Whole() bool { return s.Along == 1 }

// OverheadKinds lists the kinds that stand over a road, in the order of risk.
func OverheadKinds() []Kind {
	out := make([]Kind, lastOverhead)
	for i := range out {
		out[i] = Kind(i)
	}
	return out
}

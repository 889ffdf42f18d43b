package network

import (
	"fmt"

	"wayhouse/regs/measure"
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
	_      [2]byte
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
	Calming // bumps, tables, chicanes
	FordSpot
	OtherBarrier
	kinds
)

var kindNames = [kinds]string{
	"height restrictor", "way through a building", "tunnel", "covered way", "rail bridge", "road bridge", "foot bridge",
	"other bridge", "gantry", "posted height", "contact line", "telephone line", "minor power line", "power line", "aerial cable", "",
	"gate", "barrier that blocks vehicles", "toll booth", "checkpoint", "level crossing", "traffic calming", "ford", "barrier",
}

func (k Kind) String() string {
	if k >= kinds {
		return fmt.Sprintf("kind %d", uint8(k))
	}
	return kindNames[k]
}

// MarshalText writes the name of a kind.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Overhead tells whether things of this kind stand over the road.
func (k Kind) Overhead() bool { return k < lastOverhead }

// Wire tells whether things of this kind are wires or cables.
func (k Kind) Wire() bool { return k >= ContactLine && k <= Aerialway }

// Whole tells whether things of this kind are met all along a road, so that one
// that was met need not be told again on its next edge.
func (k Kind) Whole() bool {
	return k == Tunnel || k == CoveredWay || k == Passage || k == PostedHeight
}

// OverheadKinds lists the kinds that stand over a road, in the order of risk.
func OverheadKinds() []Kind {
	out := make([]Kind, lastOverhead)
	for i := range out {
		out[i] = Kind(i)
	}
	return out
}

package osm

import "wayhouse/routing/network"

// Report says what an import made of its extracts, and what it could not read.
type Report struct {
	Sources     []string `json:"sources"` // file names, without their folders
	DataDate    string   `json:"data_date"`
	Attribution string   `json:"attribution"`

	Elements map[string]int `json:"elements"` // of all extracts together: nodes kept, ways, relations
	Tagged   map[string]int `json:"tagged"`   // ways that bear a tag, whatever they are
	Roads    int            `json:"roads"`    // ways that became edges
	Nodes    int            `json:"nodes"`    // of the network
	Edges    int            `json:"edges"`

	KilometresByClass        map[string]float64 `json:"km_by_class"`
	KilometresByJurisdiction map[string]float64 `json:"km_by_jurisdiction"`
	KilometresClimbUnknown   float64            `json:"km_without_terrain"`
	KilometresForTrucks      float64            `json:"km_of_truck_roads"` // of either direction

	Signs        map[string]int `json:"signs"`      // by what they limit
	Structures   map[string]int `json:"structures"` // over roads, by kind
	Unmeasured   map[string]int `json:"unmeasured"` // of those, without a usable figure
	Barriers     map[string]int `json:"barriers"`   // and crossings, by kind
	Controls     map[string]int `json:"controls"`   // nodes on roads that delay traffic, and the crossings that signals are of
	Turns        Turns          `json:"turns"`
	Boundaries   map[string]int `json:"boundaries"` // admin areas used, by level; and those left out
	Places       map[string]int `json:"places"`
	Stopping     int            `json:"stopping"`  // of those, where a rig may be meant to stand
	Addresses    int            `json:"addresses"` // house numbers on streets
	Malformed    []Malformed    `json:"malformed"`
	MissingNodes int            `json:"missing_nodes"` // named by roads and in no extract

	Islands     int            `json:"islands"` // parts of the network that no road joins to the largest
	IslandEdges int            `json:"island_edges"`
	IslandKm    float64        `json:"island_km"`
	Carries     []network.Fact `json:"carries"`
	Lacks       []network.Fact `json:"lacks"`
	Assumptions []string       `json:"assumptions"`
	JoinedTwice int            `json:"roads_in_more_than_one_extract"`
}

// Turns is what became of the turn restrictions.
type Turns struct {
	Relations int            `json:"relations"`
	Plain     int            `json:"with_plain_tag"`
	Bans      int            `json:"banned_sequences"`
	Kinds     map[string]int `json:"kinds"`
	Others    int            `json:"for_other_traffic"`
	Dropped   []Dropped      `json:"dropped"`
}

// Dropped is a turn restriction that was left out, and why.
type Dropped struct {
	ID     int64  `json:"id"`
	Kind   string `json:"kind"`
	Reason string `json:"reason"`
}

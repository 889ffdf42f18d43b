package wire

// TripRequest is a trip to plan, as it stands in JSON and in a trip file. A
// quantity comes as text with a unit (height) or as a number in the unit of
// its suffix (height_m), never both. What is left out is unknown.
type TripRequest struct {
	Name            string             `json:"name,omitempty" maxLength:"200"`
	Invented        bool               `json:"invented,omitempty" doc:"The trip is an example"`
	Unit            UnitRequest        `json:"unit,omitzero"`
	Tow             *TowRequest        `json:"tow,omitempty"`
	Rig             *RigRequest        `json:"rig,omitempty"`
	Use             Use                `json:"use,omitempty"`
	Stops           []StopRequest      `json:"stops,omitempty" maxItems:"25"`
	Afterwards      *AfterwardsRequest `json:"afterwards,omitempty"`
	AnyOrder        bool               `json:"any_order,omitempty"`
	Depart          string             `json:"depart,omitempty" maxLength:"40"`
	Crew            *CrewRequest       `json:"crew,omitempty" doc:"Who drives"`
	Pace            *PaceRequest       `json:"pace,omitempty" doc:"What takes time on the way beside driving and rest"`
	StructuresCSV   string             `json:"structures_csv,omitempty" minLength:"1"`
	Route           *GivenRequest      `json:"route,omitempty" doc:"A prescribed route, to be checked as it is"`
	Allowances      *AllowancesRequest `json:"allowances,omitempty"`
	TablesRevision  int                `json:"tables_revision,omitempty" minimum:"0"`
	AvoidUnmeasured bool               `json:"avoid_unmeasured,omitempty"`
	Conditions      *ConditionsRequest `json:"conditions,omitempty"`
	Wishes          *WishesRequest     `json:"wishes,omitempty" doc:"What is asked of the way beside that the rig fits"`
	Confirm         []string           `json:"confirm,omitempty" doc:"Words of questions that were answered yes"`
	Done            []DoneRequest      `json:"done,omitempty" maxItems:"500"`
	Papers          *PapersRequest     `json:"papers,omitempty"`
	Quote           *QuoteRequest      `json:"quote,omitempty"`
}

// UnitRequest is the house on its trailer.
type UnitRequest struct {
	Name     string `json:"name,omitempty" maxLength:"200"`
	Invented bool   `json:"invented,omitempty" doc:"It is an example"`
	SizeRequest
	HeightBasis        HeightBasis     `json:"height_basis,omitempty"`
	MeasuredOn         string          `json:"measured_on,omitempty" format:"date"`
	Kind               UnitKind        `json:"kind,omitempty" doc:"What the law takes it for; unknown when left out"`
	Coupling           Coupling        `json:"coupling,omitempty"`
	Combination        Combination     `json:"combination,omitempty"`
	Use                Use             `json:"use,omitempty" doc:"How it travels, where the request does not say"`
	Answers            []AnswerRequest `json:"answers,omitempty" maxItems:"500"`
	Done               []DoneRequest   `json:"done,omitempty" maxItems:"500"`
	CouplingToRear     Length          `json:"coupling_to_rear,omitzero"`
	CouplingToLastAxle Length          `json:"coupling_to_last_axle,omitzero"`
	Axles              int             `json:"axles,omitempty" minimum:"0" maximum:"20"`
	Trailer            *TrailerRequest `json:"trailer,omitempty"`
	FrameRequest
}

// AnswerRequest is what somebody who knows the law said of a row of limits: whether it
// holds for this unit, with the condition that it states. It counts for a year.
type AnswerRequest struct {
	Row   string `json:"row" minLength:"1" maxLength:"200"`
	Holds *bool  `json:"holds" doc:"false: the row is not about this unit"`
	Who   string `json:"who" minLength:"1" maxLength:"200" doc:"Who said so"`
	On    string `json:"said_on" format:"date" doc:"The day, not later than today"`
}

// DoneRequest is a task of which somebody told the end. It is about findings as they were
// then: those that changed since are open again.
type DoneRequest struct {
	Task      string   `json:"task" minLength:"1" maxLength:"200" doc:"Its id, such as office:CA-QC"`
	Says      DoneWord `json:"says" doc:"done of what is to be seen to; else what was answered"`
	Condition string   `json:"condition,omitempty" maxLength:"1000" doc:"On which the answer hangs, with conditional"`
	Who       string   `json:"who" minLength:"1" maxLength:"200" doc:"Who saw to it, or said so"`
	On        string   `json:"said_on" format:"date" doc:"The day, not later than today"`
	Until     string   `json:"until,omitempty" format:"date"`
	About     []string `json:"about" minItems:"1" maxItems:"500" doc:"What it is about, as asks of the task list it"`
}

// TowRequest is the tow vehicle.
type TowRequest struct {
	Name     string  `json:"name,omitempty" maxLength:"200"`
	Invented bool    `json:"invented,omitempty" doc:"It is an example"`
	Form     TowForm `json:"form,omitempty"`
	SizeRequest
	OverMirrors     Length   `json:"over_mirrors,omitzero"`
	FrontToCoupling Length   `json:"front_to_coupling,omitzero"`
	Axles           int      `json:"axles,omitempty" minimum:"0" maximum:"20"`
	Fuel            FuelKind `json:"fuel,omitempty"`
	TruckRequest
}

// RigRequest is the whole rig, coupled.
type RigRequest struct {
	SizeRequest
	RatedMass     Mass          `json:"rated_mass,omitzero"`
	FrontOverhang Span          `json:"front_overhang,omitzero"`
	RearOverhang  Span          `json:"rear_overhang,omitzero" doc:"What sticks out behind the centre of the last axle"`
	Axles         []AxleRequest `json:"axles,omitempty" maxItems:"20"`
}

// AxleRequest is one axle of the rig.
type AxleRequest struct {
	BehindFirst Span   `json:"behind_first,omitzero"`
	Mass        Mass   `json:"mass,omitzero" doc:"What it carries on the scale"`
	Steering    bool   `json:"steering,omitempty"`
	Tires       int    `json:"tires,omitempty" minimum:"0" maximum:"16"`
	TireWidth   Length `json:"tire_width,omitzero" doc:"Nominal, of one tire, such as 235 mm"`
}

// SizeRequest is how large and how heavy something is as it travels: a unit
// overall with its coupling, a tow vehicle uncoupled with driver and fuel. Of the
// width and the tires that are described the greater counts.
type SizeRequest struct {
	Height Length `json:"height,omitzero"`
	Width  Length `json:"width,omitzero"`
	Length Length `json:"length,omitzero"`
	Mass   Mass   `json:"mass,omitzero"`
}

// StopRequest is a stop: a place by name, or coordinates.
type StopRequest struct {
	Place string   `json:"place,omitempty" maxLength:"200"`
	Lat   *float64 `json:"lat,omitempty"`
	Lon   *float64 `json:"lon,omitempty"`
	VisitRequest
}

// GivenRequest is a prescribed route in one of four forms.
type GivenRequest struct {
	GeoJSON any      `json:"geojson,omitempty"`
	GPX     string   `json:"gpx,omitempty" minLength:"1"`
	KML     string   `json:"kml,omitempty" minLength:"1"`
	Roads   []string `json:"roads,omitempty" maxItems:"100" doc:"Road numbers in order"`
}

// AllowancesRequest changes what is taken off a clearance. What is left out
// keeps its default.
type AllowancesRequest struct {
	Base          Span  `json:"base,omitzero"`
	Bounce        Span  `json:"bounce,omitzero"`
	Snow          Span  `json:"snow,omitzero"`
	DesignedError Span  `json:"designed_error,omitzero"`
	MeasuredError Span  `json:"measured_error,omitzero"`
	Side          Span  `json:"side,omitzero" doc:"To either side, where the width is limited"`
	WinterMonths  []int `json:"winter_months,omitempty" maxItems:"12" minimum:"1" maximum:"12"`
	FigureDays    int   `json:"figure_days,omitempty" minimum:"1" maximum:"36500"`
}

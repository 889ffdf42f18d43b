package wire

// TripRequest is a trip to plan, as it stands in JSON and in a trip file. A
// quantity comes as text with a unit (height) or as a number in the unit of
// its suffix (height_m), never both. What is left out is unknown.
type TripRequest struct {
	Name            string             `json:"name,omitempty" maxLength:"200"`
	Invented        bool               `json:"invented,omitempty" doc:"The trip is an example"`
	Unit            UnitRequest        `json:"unit,omitzero"`
	Tow             *TowRequest        `json:"tow,omitempty"`
	Rig             *RigRequest        `json:"rig,omitempty" doc:"Measurements of the whole rig, where no tow vehicle is described"`
	Use             Use                `json:"use,omitempty"`
	Stops           []StopRequest      `json:"stops,omitempty" maxItems:"25"`
	AnyOrder        bool               `json:"any_order,omitempty" doc:"Drive the stops between the first and the last in the best order: where any has a date or takes time, the one that misses least, is then over soonest, then drives least; else the one that takes least. Not asked of a given route"`
	Depart          string             `json:"depart,omitempty" doc:"2027-05-11T08:00 on the clock of the first stop, or with an offset. Left out: as late as the stops' arrive_by let it, now where there are none" maxLength:"40"`
	Crew            *CrewRequest       `json:"crew,omitempty" doc:"Who drives"`
	Pace            *PaceRequest       `json:"pace,omitempty" doc:"What takes time on the way beside driving and rest"`
	StructuresCSV   string             `json:"structures_csv,omitempty" minLength:"1" doc:"Structures with their clear heights, as CSV"`
	Route           *GivenRequest      `json:"route,omitempty" doc:"A prescribed route, to be checked as it is"`
	Allowances      *AllowancesRequest `json:"allowances,omitempty"`
	TablesRevision  int                `json:"tables_revision,omitempty" minimum:"0" doc:"Plan with the tables as they were at this revision; the newest when left out"`
	AvoidUnmeasured bool               `json:"avoid_unmeasured,omitempty" doc:"Go round what hangs over the road without a usable clear height: up to an hour for each"`
	Conditions      *ConditionsRequest `json:"conditions,omitempty" doc:"Air, wind, idling and reserve that fuel is reckoned with"`
	Wishes          *WishesRequest     `json:"wishes,omitempty" doc:"What is asked of the way beside that the rig fits"`
	Confirm         []string           `json:"confirm,omitempty" doc:"Words of questions that were answered yes"`
	Done            []DoneRequest      `json:"done,omitempty" maxItems:"500" doc:"What was seen to, or answered, of tasks of this trip"`
	Papers          *PapersRequest     `json:"papers,omitempty" doc:"What offices ask beside sizes; it is printed on papers, and decides nothing"`
	Quote           *QuoteRequest      `json:"quote,omitempty" doc:"What a quote rests on beside the trip; /v1/quotes alone prices it"`
}

// UnitRequest is the house on its trailer.
type UnitRequest struct {
	Name     string `json:"name,omitempty" maxLength:"200"`
	Invented bool   `json:"invented,omitempty" doc:"It is an example"`
	SizeRequest
	HeightBasis        HeightBasis     `json:"height_basis,omitempty" doc:"Designed unless it was measured on the finished unit, loaded, tires at pressure"`
	MeasuredOn         string          `json:"measured_on,omitempty" format:"date"`
	Kind               UnitKind        `json:"kind,omitempty" doc:"What the law takes it for; unknown when left out"`
	Coupling           Coupling        `json:"coupling,omitempty"`
	Combination        Combination     `json:"combination,omitempty" doc:"What the law takes it for behind its tow vehicle, where the coupling does not say: a gooseneck may count as either"`
	Use                Use             `json:"use,omitempty" doc:"How it travels, where the request does not say"`
	Answers            []AnswerRequest `json:"answers,omitempty" maxItems:"500" doc:"What somebody who knows the law said of single rows"`
	Done               []DoneRequest   `json:"done,omitempty" maxItems:"500" doc:"What was seen to, or answered, of tasks about the unit"`
	CouplingToRear     Length          `json:"coupling_to_rear,omitzero"`
	CouplingToLastAxle Length          `json:"coupling_to_last_axle,omitzero" doc:"From the coupling point to the centre of the last axle"`
	Axles              int             `json:"axles,omitempty" minimum:"0" maximum:"20" doc:"How many; left out where running_gear describes them"`
	Trailer            *TrailerRequest `json:"trailer,omitempty" doc:"With kind load_on_trailer: the trailer by itself. The unit's own length, width and mass are then those of the load; its height, its outline, its couplings and its axles stay those of both together"`
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
	Until     string   `json:"until,omitempty" format:"date" doc:"The last day on which it counts; a year on when left out"`
	About     []string `json:"about" minItems:"1" maxItems:"500" doc:"What it is about, as asks of the task list it"`
}

// TowRequest is the tow vehicle.
type TowRequest struct {
	Name     string  `json:"name,omitempty" maxLength:"200"`
	Invented bool    `json:"invented,omitempty" doc:"It is an example"`
	Form     TowForm `json:"form,omitempty" doc:"What the law takes it for: a truck tractor carries no load of its own, a car may be a van; unknown when left out"`
	SizeRequest
	OverMirrors     Length   `json:"over_mirrors,omitzero" doc:"Over its mirrors as they are set for the unit, for what it passes between; width leaves them out, as laws do"`
	FrontToCoupling Length   `json:"front_to_coupling,omitzero"`
	Axles           int      `json:"axles,omitempty" minimum:"0" maximum:"20"`
	Fuel            FuelKind `json:"fuel,omitempty"`
	TruckRequest
}

// RigRequest is the whole rig, coupled.
type RigRequest struct {
	SizeRequest
	RatedMass     Mass          `json:"rated_mass,omitzero" doc:"For which the rig is registered, or which its makers allow tow vehicle and unit together; whether signs for trucks bind hangs on it"`
	FrontOverhang Span          `json:"front_overhang,omitzero" doc:"What sticks out before the foremost point of the tow vehicle; may be 0 m"`
	RearOverhang  Span          `json:"rear_overhang,omitzero" doc:"What sticks out behind the centre of the last axle"`
	Axles         []AxleRequest `json:"axles,omitempty" maxItems:"20" doc:"Every axle of the rig, from the front, as it stands on the road"`
}

// AxleRequest is one axle of the rig.
type AxleRequest struct {
	BehindFirst Span   `json:"behind_first,omitzero" doc:"How far behind the first axle of the rig; the first may leave it out"`
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
	Place string   `json:"place,omitempty" maxLength:"200" doc:"Such as Cornwall, ON, or latitude and longitude, such as 45.42,-75.69"`
	Lat   *float64 `json:"lat,omitempty"`
	Lon   *float64 `json:"lon,omitempty"`
	VisitRequest
}

// GivenRequest is a prescribed route in one of four forms.
type GivenRequest struct {
	GeoJSON any      `json:"geojson,omitempty" doc:"A LineString, or a Feature or FeatureCollection with one, or with several that follow each other"`
	GPX     string   `json:"gpx,omitempty" minLength:"1" doc:"A GPX 1.1 document with one track, or with several that follow each other, or with one route and no track"`
	KML     string   `json:"kml,omitempty" minLength:"1" doc:"A KML document with one LineString or Track, or with several that follow each other"`
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
	FigureDays    int   `json:"figure_days,omitempty" minimum:"1" maximum:"36500" doc:"How many days after its measurement a clearance can clear; 731 when left out"`
}

package wire

// FrameRequest describes a unit beyond its size: the trailer, the outline, what
// it is made of. Places are measured along behind the coupling point, across to
// the right of the middle line, and up from the ground, as it travels, level.
type FrameRequest struct {
	RatingsRequest
	Suspension     Suspension        `json:"suspension,omitempty" doc:"equalized: beams or linked air springs share among the axles; independent: each axle has its own"`
	RunningGear    []UnitAxleRequest `json:"running_gear,omitempty" maxItems:"10" doc:"Every axle of the unit, from the front"`
	CouplingHeight Length            `json:"coupling_height,omitzero" doc:"Of its side of the coupling above the ground, while the unit stands level"`
	Brakes         BrakeKind         `json:"brakes,omitempty" doc:"How its brakes are worked: surge (by its push on the coupling), electric, hydraulic, air; none: it has no brakes"`
	DeckHeight     Length            `json:"deck_height,omitzero" doc:"Of the deck, above the ground"`
	Clearance      Length            `json:"ground_clearance,omitzero" doc:"Under the lowest place between coupling and axles"`
	TailClearance  Length            `json:"tail_clearance,omitzero" doc:"Under the lowest place behind the last axle"`
	Outline        []BoxRequest      `json:"outline,omitempty" maxItems:"50" doc:"Boxes that make up its outline as it is built; what moves stands under movables"`
	Nose           Nose              `json:"nose,omitempty" doc:"The shape of its front"`
	RoofBoxArea    Area              `json:"roof_box_area,omitzero" doc:"Of what stands on the roof, seen from the front"`
	DragArea       Area              `json:"drag_area,omitzero" doc:"Drag coefficient times area of the whole rig, where somebody measured it; by nose and outline when left out"`
	Parts          []PartRequest     `json:"parts,omitempty" maxItems:"500" doc:"What it is made of and what is in it"`
	Surfaces       []SurfaceRequest  `json:"surfaces,omitempty" maxItems:"60" doc:"Walls, floors and roofs, each as one thing; they count as parts"`
	Movables       []MovableRequest  `json:"movables,omitempty" maxItems:"50" doc:"What folds, slides, latches or comes off before it travels"`
	Anchors        []AnchorRequest   `json:"anchors,omitempty" maxItems:"200" doc:"What holds the house to the trailer"`
	Ticket         *TicketRequest    `json:"scale_ticket,omitempty" doc:"What a scale said of the loaded unit; it counts before the parts"`
}

// TrailerRequest is the trailer of a load by itself.
type TrailerRequest struct {
	Length Length `json:"length,omitzero" doc:"Of the trailer alone, coupling included"`
	Width  Length `json:"width,omitzero" doc:"Of its deck, fenders included; the greater of this, its tires and the load counts"`
	Mass   Mass   `json:"mass,omitzero" doc:"Without the load"`
}

// RatingsRequest is what makers allow.
type RatingsRequest struct {
	GrossRating    Mass `json:"gross_rating,omitzero" doc:"Of the vehicle with what rests on it (GVWR)"`
	VerticalRating Mass `json:"coupling_vertical_rating,omitzero" doc:"What may rest on its side of the coupling"`
	TowedRating    Mass `json:"coupling_towed_rating,omitzero" doc:"What its side of the coupling may pull"`
}

// WheelsRequest is what every axle has.
type WheelsRequest struct {
	Rating     Mass        `json:"rating,omitzero" doc:"Of the axle (GAWR)"`
	Tires      int         `json:"tires,omitempty" minimum:"0" maximum:"16"`
	TireRating Mass        `json:"tire_rating,omitzero" doc:"Of one tire, as fitted: single or dual"`
	TireWidth  Length      `json:"tire_width,omitzero" doc:"Nominal, of one tire"`
	Pressure   Pressure    `json:"tire_pressure,omitzero" doc:"As its tires are inflated, cold"`
	RatedAt    Pressure    `json:"tire_rated_pressure,omitzero" doc:"That tire_rating asks for, cold, as on the side of the tire"`
	For        TireService `json:"tire_service,omitempty" doc:"What its tires are made for: trailer (ST), light_truck (LT), passenger (P, or no letter) or truck"`
	Symbol     SpeedSymbol `json:"tire_speed_symbol,omitempty" doc:"The letter behind the load index on the side of the tire, such as N; left out where there is none"`
	Track      Length      `json:"track,omitzero" doc:"Between the middles of the outer tires, of duals the outermost"`
	OverTires  Length      `json:"over_tires,omitzero" doc:"Measured over the outsides of the outer tires; track and tire width when left out"`
}

// UnitAxleRequest is one axle of a unit.
type UnitAxleRequest struct {
	BehindCoupling Length `json:"behind_coupling,omitzero" doc:"From the coupling point to the middle of the axle"`
	BrakeRating    Mass   `json:"brake_rating,omitzero" doc:"The mass that its brakes are made for; the rating of the axle when left out"`
	Unbraked       bool   `json:"unbraked,omitempty" doc:"It has no brakes, and others of the unit have"`
	WheelsRequest
}

// TowAxleRequest is one axle of a tow vehicle.
type TowAxleRequest struct {
	BehindFirst Span `json:"behind_first,omitzero" doc:"Behind the first axle, which may leave it out"`
	Empty       Mass `json:"empty,omitzero" doc:"What it carries uncoupled, ready to travel with driver and fuel"`
	Steering    bool `json:"steering,omitempty"`
	WheelsRequest
}

// PlaceRequest is where the middle of something is.
type PlaceRequest struct {
	Along  Offset `json:"along,omitzero" doc:"Behind the coupling point; with a minus before it"`
	Across Offset `json:"across,omitzero" doc:"To the right of the middle line; with a minus to the left"`
	Up     Offset `json:"up,omitzero" doc:"Above the ground"`
}

// BoxRequest is a box of the outline.
type BoxRequest struct {
	Name   string `json:"name,omitempty" maxLength:"100"`
	From   Offset `json:"from,omitzero" doc:"Front end, along"`
	To     Offset `json:"to,omitzero" doc:"Rear end, along"`
	Left   Offset `json:"left,omitzero" doc:"From the middle line to the left; negative where all of it lies to the right"`
	Right  Offset `json:"right,omitzero" doc:"From the middle line to the right"`
	Bottom Offset `json:"bottom,omitzero" doc:"Above the ground"`
	Top    Offset `json:"top,omitzero" doc:"Above the ground"`
}

// PositionRequest is where a movable is in one state.
type PositionRequest struct {
	PlaceRequest
	Box *BoxRequest `json:"box,omitempty" doc:"The room it takes, where it adds to the outline"`
}

// MovableRequest is what folds, slides, latches or comes off.
type MovableRequest struct {
	Name string `json:"name" minLength:"1" maxLength:"100"`
	Does Doing  `json:"does"`
	MassRequest
	Travel *PositionRequest `json:"travel,omitempty" doc:"As the unit travels; left out where it does not travel with it"`
	Stand  *PositionRequest `json:"stand,omitempty" doc:"As the unit stands; left out where it is not there then"`
	Check  string           `json:"check,omitempty" maxLength:"300" doc:"What to look at before the unit leaves"`
}

// AnchorRequest holds the house to the trailer at one place.
type AnchorRequest struct {
	Name   string     `json:"name" minLength:"1" maxLength:"100"`
	Kind   AnchorKind `json:"kind,omitempty"`
	Along  Offset     `json:"along,omitzero" doc:"Behind the coupling point"`
	Across Offset     `json:"across,omitzero" doc:"To the right of the middle line"`
	Count  int        `json:"count,omitempty" minimum:"0" maximum:"100" doc:"How many at that place; 1 when left out"`
	Uplift Force      `json:"uplift_rating,omitzero" doc:"Of one, against being pulled up"`
	Shear  Force      `json:"shear_rating,omitzero" doc:"Of one, against being pushed aside"`
}

// TicketRequest is the ticket of a scale.
type TicketRequest struct {
	Label     string `json:"label,omitempty" maxLength:"200"`
	WeighedOn string `json:"weighed_on" format:"date"`
	Coupling  Mass   `json:"coupling,omitzero" doc:"What rests on the coupling"`
	Axles     []Mass `json:"axles,omitempty" maxItems:"10" doc:"What each axle of the unit carries, from the front; or one mass for all of them together"`
	Left      Mass   `json:"left,omitzero" doc:"What the left tires of the unit carry"`
	Right     Mass   `json:"right,omitzero" doc:"What the right tires of the unit carry"`
}

// TruckRequest describes a tow vehicle beyond its size.
type TruckRequest struct {
	RatingsRequest
	CombinedRating Mass             `json:"combined_rating,omitzero" doc:"With what it tows (GCWR)"`
	RunningGear    []TowAxleRequest `json:"running_gear,omitempty" maxItems:"6" doc:"Every axle, from the front"`
	CouplingAt     Length           `json:"coupling_behind_first_axle,omitzero"`
	CouplingHeight Length           `json:"coupling_height,omitzero" doc:"Of its side of the coupling above the ground, with the unit on it"`
	CabToCoupling  Length           `json:"cab_to_coupling,omitzero" doc:"From the rear of the cab to the coupling point"`
	BedHeight      Length           `json:"bed_height,omitzero" doc:"Of the sides of its bed, above the ground; the height of the tow vehicle when left out"`
	Power          Power            `json:"power,omitzero" doc:"Of the engine"`
	Tank           Volume           `json:"tank,omitzero"`
	FuelLogs       []FuelLogRequest `json:"fuel_logs,omitempty" maxItems:"50" doc:"What it burnt on ways that lie behind it, with this unit: drag, tires and engine are reckoned by them"`
	TurningRadius  Length           `json:"turning_radius,omitzero" doc:"Of the middle of the first axle, at full lock"`
	Distribution   *BarsRequest     `json:"load_distribution,omitempty" doc:"A hitch whose bars spread what rests on the ball; left out where there is none"`
}

// BarsRequest is a load-distributing hitch.
type BarsRequest struct {
	VerticalRating Mass     `json:"vertical_rating,omitzero" doc:"What may rest on it"`
	TowedRating    Mass     `json:"towed_rating,omitzero" doc:"What it may pull"`
	Returned       *float64 `json:"returned,omitempty" minimum:"0" maximum:"1" doc:"The share of what the ball takes off the first axle that the bars give back to it, as they are set; anything from none to all when left out"`
}

// FuelLogRequest is what a rig burnt on a way that lies behind it.
type FuelLogRequest struct {
	Label        string   `json:"label,omitempty" maxLength:"200"`
	Fuel         Volume   `json:"fuel,omitzero" doc:"From a full tank to a full tank"`
	Distance     Journey  `json:"distance,omitzero" minimum:"20" maximum:"50000" doc:"That it took"`
	Speed        Speed    `json:"speed,omitzero" minimum:"30" maximum:"130" doc:"That was driven mostly"`
	Mass         Mass     `json:"mass,omitzero" doc:"Of the rig on that way; as it is now when left out"`
	Wind         Breeze   `json:"wind,omitzero" minimum:"0" maximum:"200" doc:"That blew on that way, from anywhere; a common one when left out"`
	TemperatureC *float64 `json:"temperature_c,omitempty" minimum:"-60" maximum:"60" doc:"Of the air on that way"`
}

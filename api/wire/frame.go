package wire

// FrameRequest describes a unit beyond its size: the trailer, the outline, what
// it is made of. Places are measured along behind the coupling point, across to
// the right of the middle line, and up from the ground, as it travels, level.
type FrameRequest struct {
	RatingsRequest
	Suspension     string            `json:"suspension,omitempty" enum:"equalized,independent" doc:"equalized: beams or linked air springs share among the axles; independent: each axle has its own"`
	RunningGear    []UnitAxleRequest `json:"running_gear,omitempty" maxItems:"10" doc:"Every axle of the unit, from the front"`
	DeckHeightM    *float64          `json:"deck_height_m,omitempty"`
	DeckHeight     *string           `json:"deck_height,omitempty" doc:"Of the deck, above the ground"`
	ClearanceM     *float64          `json:"ground_clearance_m,omitempty"`
	Clearance      *string           `json:"ground_clearance,omitempty" doc:"Under the lowest place between coupling and axles"`
	TailClearanceM *float64          `json:"tail_clearance_m,omitempty"`
	TailClearance  *string           `json:"tail_clearance,omitempty" doc:"Under the lowest place behind the last axle"`
	Outline        []BoxRequest      `json:"outline,omitempty" maxItems:"50" doc:"Boxes that make up its outline as it is built; what moves stands under movables"`
	Nose           string            `json:"nose,omitempty" enum:"flat,rounded,raked" doc:"The shape of its front"`
	RoofBoxAreaM2  *float64          `json:"roof_box_area_m2,omitempty"`
	RoofBoxArea    *string           `json:"roof_box_area,omitempty" doc:"Of what stands on the roof, seen from the front"`
	Parts          []PartRequest     `json:"parts,omitempty" maxItems:"500" doc:"What it is made of and what is in it"`
	Movables       []MovableRequest  `json:"movables,omitempty" maxItems:"50" doc:"What folds, slides, latches or comes off before it travels"`
	Anchors        []AnchorRequest   `json:"anchors,omitempty" maxItems:"200" doc:"What holds the house to the trailer"`
	Ticket         *TicketRequest    `json:"scale_ticket,omitempty" doc:"What a scale said of the loaded unit; it counts before the parts"`
}

// TrailerRequest is the trailer of a load by itself.
type TrailerRequest struct {
	LengthM *float64 `json:"length_m,omitempty"`
	Length  *string  `json:"length,omitempty" doc:"Of the trailer alone, coupling included"`
	WidthM  *float64 `json:"width_m,omitempty"`
	Width   *string  `json:"width,omitempty" doc:"Of its deck, fenders included; the greater of this, its tires and the load counts"`
	MassKG  *float64 `json:"mass_kg,omitempty"`
	Mass    *string  `json:"mass,omitempty" doc:"Without the load"`
}

// RatingsRequest is what makers allow.
type RatingsRequest struct {
	GrossRatingKG    *float64 `json:"gross_rating_kg,omitempty"`
	GrossRating      *string  `json:"gross_rating,omitempty" doc:"Of the vehicle with what rests on it (GVWR)"`
	VerticalRatingKG *float64 `json:"coupling_vertical_rating_kg,omitempty"`
	VerticalRating   *string  `json:"coupling_vertical_rating,omitempty" doc:"What may rest on its side of the coupling"`
	TowedRatingKG    *float64 `json:"coupling_towed_rating_kg,omitempty"`
	TowedRating      *string  `json:"coupling_towed_rating,omitempty" doc:"What its side of the coupling may pull"`
}

// WheelsRequest is what every axle has.
type WheelsRequest struct {
	RatingKG     *float64 `json:"rating_kg,omitempty"`
	Rating       *string  `json:"rating,omitempty" doc:"Of the axle (GAWR)"`
	Tires        int      `json:"tires,omitempty" minimum:"0" maximum:"16"`
	TireRatingKG *float64 `json:"tire_rating_kg,omitempty"`
	TireRating   *string  `json:"tire_rating,omitempty" doc:"Of one tire, as fitted: single or dual"`
	TireWidthM   *float64 `json:"tire_width_m,omitempty"`
	TireWidth    *string  `json:"tire_width,omitempty" doc:"Nominal, of one tire"`
	TrackM       *float64 `json:"track_m,omitempty"`
	Track        *string  `json:"track,omitempty" doc:"Between the middles of the outer tires, of duals the outermost"`
	OverTiresM   *float64 `json:"over_tires_m,omitempty"`
	OverTires    *string  `json:"over_tires,omitempty" doc:"Measured over the outsides of the outer tires; track and tire width when left out"`
}

// UnitAxleRequest is one axle of a unit.
type UnitAxleRequest struct {
	BehindCouplingM *float64 `json:"behind_coupling_m,omitempty"`
	BehindCoupling  *string  `json:"behind_coupling,omitempty" doc:"From the coupling point to the middle of the axle"`
	WheelsRequest
}

// TowAxleRequest is one axle of a tow vehicle.
type TowAxleRequest struct {
	BehindFirstM *float64 `json:"behind_first_m,omitempty" minimum:"0"`
	BehindFirst  *string  `json:"behind_first,omitempty" doc:"Behind the first axle, which may leave it out"`
	EmptyKG      *float64 `json:"empty_kg,omitempty"`
	Empty        *string  `json:"empty,omitempty" doc:"What it carries uncoupled, ready to travel with driver and fuel"`
	Steering     bool     `json:"steering,omitempty"`
	WheelsRequest
}

// PlaceRequest is where the middle of something is.
type PlaceRequest struct {
	AlongM  *float64 `json:"along_m,omitempty"`
	Along   *string  `json:"along,omitempty" doc:"Behind the coupling point; with a minus before it"`
	AcrossM *float64 `json:"across_m,omitempty"`
	Across  *string  `json:"across,omitempty" doc:"To the right of the middle line; with a minus to the left"`
	UpM     *float64 `json:"up_m,omitempty"`
	Up      *string  `json:"up,omitempty" doc:"Above the ground"`
}

// BoxRequest is a box of the outline.
type BoxRequest struct {
	Name    string   `json:"name,omitempty" maxLength:"100"`
	FromM   *float64 `json:"from_m,omitempty"`
	From    *string  `json:"from,omitempty" doc:"Front end, along"`
	ToM     *float64 `json:"to_m,omitempty"`
	To      *string  `json:"to,omitempty" doc:"Rear end, along"`
	LeftM   *float64 `json:"left_m,omitempty"`
	Left    *string  `json:"left,omitempty" doc:"From the middle line to the left; negative where all of it lies to the right"`
	RightM  *float64 `json:"right_m,omitempty"`
	Right   *string  `json:"right,omitempty" doc:"From the middle line to the right"`
	BottomM *float64 `json:"bottom_m,omitempty"`
	Bottom  *string  `json:"bottom,omitempty" doc:"Above the ground"`
	TopM    *float64 `json:"top_m,omitempty"`
	Top     *string  `json:"top,omitempty" doc:"Above the ground"`
}

// PositionRequest is where a movable is in one state.
type PositionRequest struct {
	PlaceRequest
	Box *BoxRequest `json:"box,omitempty" doc:"The room it takes, where it adds to the outline"`
}

// MovableRequest is what folds, slides, latches or comes off.
type MovableRequest struct {
	Name string `json:"name" maxLength:"100"`
	Does string `json:"does" enum:"folds,slides,latches,comes_off"`
	MassRequest
	Travel *PositionRequest `json:"travel,omitempty" doc:"As the unit travels; left out where it does not travel with it"`
	Stand  *PositionRequest `json:"stand,omitempty" doc:"As the unit stands; left out where it is not there then"`
	Check  string           `json:"check,omitempty" maxLength:"300" doc:"What to look at before the unit leaves"`
}

// AnchorRequest holds the house to the trailer at one place.
type AnchorRequest struct {
	Name     string   `json:"name" maxLength:"100"`
	Kind     string   `json:"kind,omitempty" enum:"hold-down,bolt,strap,weld,other"`
	AlongM   *float64 `json:"along_m,omitempty"`
	Along    *string  `json:"along,omitempty" doc:"Behind the coupling point"`
	AcrossM  *float64 `json:"across_m,omitempty"`
	Across   *string  `json:"across,omitempty" doc:"To the right of the middle line"`
	Count    int      `json:"count,omitempty" minimum:"0" maximum:"100" doc:"How many at that place; 1 when left out"`
	UpliftKN *float64 `json:"uplift_rating_kn,omitempty"`
	Uplift   *string  `json:"uplift_rating,omitempty" doc:"Of one, against being pulled up"`
	ShearKN  *float64 `json:"shear_rating_kn,omitempty"`
	Shear    *string  `json:"shear_rating,omitempty" doc:"Of one, against being pushed aside"`
}

// TicketRequest is the ticket of a scale.
type TicketRequest struct {
	Label      string    `json:"label,omitempty" maxLength:"200"`
	WeighedOn  string    `json:"weighed_on" format:"date"`
	CouplingKG *float64  `json:"coupling_kg,omitempty"`
	Coupling   *string   `json:"coupling,omitempty" doc:"What rests on the coupling"`
	AxlesKG    []float64 `json:"axles_kg,omitempty" maxItems:"10"`
	Axles      []string  `json:"axles,omitempty" maxItems:"10" doc:"What each axle of the unit carries, from the front; or one mass for all of them together"`
	LeftKG     *float64  `json:"left_kg,omitempty"`
	Left       *string   `json:"left,omitempty" doc:"What the left tires of the unit carry"`
	RightKG    *float64  `json:"right_kg,omitempty"`
	Right      *string   `json:"right,omitempty" doc:"What the right tires of the unit carry"`
}

// TruckRequest describes a tow vehicle beyond its size.
type TruckRequest struct {
	RatingsRequest
	CombinedRatingKG *float64         `json:"combined_rating_kg,omitempty"`
	CombinedRating   *string          `json:"combined_rating,omitempty" doc:"With what it tows (GCWR)"`
	RunningGear      []TowAxleRequest `json:"running_gear,omitempty" maxItems:"6" doc:"Every axle, from the front"`
	CouplingAtM      *float64         `json:"coupling_behind_first_axle_m,omitempty"`
	CouplingAt       *string          `json:"coupling_behind_first_axle,omitempty"`
	CabToCouplingM   *float64         `json:"cab_to_coupling_m,omitempty"`
	CabToCoupling    *string          `json:"cab_to_coupling,omitempty" doc:"From the rear of the cab to the coupling point"`
	PowerKW          *float64         `json:"power_kw,omitempty"`
	Power            *string          `json:"power,omitempty" doc:"Of the engine"`
	TankL            *float64         `json:"tank_l,omitempty"`
	Tank             *string          `json:"tank,omitempty"`
	TurningRadiusM   *float64         `json:"turning_radius_m,omitempty"`
	TurningRadius    *string          `json:"turning_radius,omitempty" doc:"Of the middle of the first axle, at full lock"`
}

package wire

import (
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rates"
	"wayhouse/regs/task"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/rig/parts"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

// Words of which a field takes one. Their lists are those of the packages that give
// them a meaning; "" is not given.
type (
	UnitKind       string
	Coupling       string
	Combination    string
	HeightBasis    string
	TowForm        string
	FuelKind       string
	Use            string
	Suspension     string
	TireService    string
	Hand           string
	BrakeKind      string
	SpeedSymbol    string
	Nose           string
	Belonging      string
	Doing          string
	AnchorKind     string
	Hazmat         string
	LadderQuantity string
	LegalQuantity  string
	Vehicle        string
	Side           string
	DoneWord       string
	EmptyReturn    string
	PricedItem     string
)

// Words of fields that no other package has a type for.
const (
	Designed   HeightBasis = "designed"
	Gauged     HeightBasis = "measured"
	Charged    EmptyReturn = "charged"
	NotCharged EmptyReturn = "not_charged"

	House   Belonging = "house"
	Trailer Belonging = "trailer"

	TowVehicle Vehicle = "tow"
	TowedUnit  Vehicle = "unit"
)

func (UnitKind) Schema(huma.Registry) *huma.Schema    { return oneOf(limit.UnitKinds()...) }
func (Coupling) Schema(huma.Registry) *huma.Schema    { return oneOf(rig.Couplings()...) }
func (Combination) Schema(huma.Registry) *huma.Schema { return oneOf(limit.Trailer, limit.Semitrailer) }
func (HeightBasis) Schema(huma.Registry) *huma.Schema { return oneOf(Designed, Gauged) }
func (TowForm) Schema(huma.Registry) *huma.Schema     { return oneOf(limit.TowVehicles()...) }
func (FuelKind) Schema(huma.Registry) *huma.Schema    { return oneOf(drive.Diesel, drive.Gasoline) }
func (Use) Schema(huma.Registry) *huma.Schema         { return oneOf(limit.Commercial, limit.Private) }
func (Suspension) Schema(huma.Registry) *huma.Schema  { return oneOf(rig.Suspensions()...) }
func (BrakeKind) Schema(huma.Registry) *huma.Schema   { return oneOf(rig.AllBrakes()...) }
func (Hand) Schema(huma.Registry) *huma.Schema        { return oneOf(rig.Left, rig.Right) }
func (TireService) Schema(huma.Registry) *huma.Schema { return oneOf(rig.Services()...) }
func (SpeedSymbol) Schema(huma.Registry) *huma.Schema { return oneOf(rig.Symbols()...) }
func (Nose) Schema(huma.Registry) *huma.Schema        { return oneOf(drive.Noses()...) }
func (Belonging) Schema(huma.Registry) *huma.Schema   { return oneOf(House, Trailer) }
func (Side) Schema(huma.Registry) *huma.Schema        { return oneOf(rig.Faces()...) }
func (Doing) Schema(huma.Registry) *huma.Schema       { return oneOf(rig.Motions()...) }
func (AnchorKind) Schema(huma.Registry) *huma.Schema  { return oneOf(anchors.Kinds()...) }
func (Hazmat) Schema(huma.Registry) *huma.Schema      { return oneOf(standing.Yes, standing.No) }
func (LegalQuantity) Schema(huma.Registry) *huma.Schema {
	return oneOf(limit.Quantities()...)
}
func (DoneWord) Schema(huma.Registry) *huma.Schema    { return oneOf(task.Words()...) }
func (EmptyReturn) Schema(huma.Registry) *huma.Schema { return oneOf(Charged, NotCharged) }
func (PricedItem) Schema(huma.Registry) *huma.Schema  { return oneOf(rates.Parts()...) }
func (Vehicle) Schema(huma.Registry) *huma.Schema     { return oneOf(TowVehicle, TowedUnit) }
func (LadderQuantity) Schema(huma.Registry) *huma.Schema {
	return oneOf(choosing.LadderQuantities()...)
}

// Words of answers, whose types are those of the packages that choose one.
type (
	outcome  struct{}
	status   struct{}
	state    struct{}
	quantity struct{}
	nose     struct{}
	barrier  struct{}
	per      struct{}
)

func (outcome) Schema(huma.Registry) *huma.Schema  { return oneOf(finding.Outcomes()...) }
func (status) Schema(huma.Registry) *huma.Schema   { return oneOf(finding.Statuses()...) }
func (state) Schema(huma.Registry) *huma.Schema    { return oneOf(rig.States()...) }
func (quantity) Schema(huma.Registry) *huma.Schema { return oneOf(rig.Quantities()...) }
func (nose) Schema(huma.Registry) *huma.Schema     { return oneOf(drive.Shaped()...) }
func (barrier) Schema(huma.Registry) *huma.Schema  { return oneOf(standing.BarrierKinds()...) }
func (per) Schema(huma.Registry) *huma.Schema      { return oneOf(parts.Units()...) }

// Words tells a registry of schemas which words the fields of answers take.
func Words(r huma.Registry) {
	r.RegisterTypeAlias(reflect.TypeFor[finding.Outcome](), reflect.TypeFor[outcome]())
	r.RegisterTypeAlias(reflect.TypeFor[finding.Status](), reflect.TypeFor[status]())
	r.RegisterTypeAlias(reflect.TypeFor[rig.State](), reflect.TypeFor[state]())
	r.RegisterTypeAlias(reflect.TypeFor[rig.Quantity](), reflect.TypeFor[quantity]())
	r.RegisterTypeAlias(reflect.TypeFor[drive.Nose](), reflect.TypeFor[nose]())
	r.RegisterTypeAlias(reflect.TypeFor[standing.BarrierKind](), reflect.TypeFor[barrier]())
	r.RegisterTypeAlias(reflect.TypeFor[parts.Unit](), reflect.TypeFor[per]())
}

// oneOf is the schema of a field that takes one of these words.
func oneOf[T ~string](words ...T) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeString}
	for _, w := range words {
		s.Enum = append(s.Enum, string(w))
	}
	return s
}

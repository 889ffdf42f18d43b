package wire

import "wayhouse/routing/trip"

// PapersRequest is what offices ask of a move beside its sizes; it is printed on papers,
// and decides nothing.
type PapersRequest struct {
	Carrier   PartyRequest      `json:"carrier,omitzero" doc:"Who moves the unit, and holds the permits"`
	Owner     PartyRequest      `json:"owner,omitzero" doc:"Of the unit"`
	Driver    PartyRequest      `json:"driver,omitzero" doc:"Its number is that of the licence"`
	Escort    PartyRequest      `json:"escort,omitzero" doc:"The firm whose vehicles go along"`
	Tow       RegisteredRequest `json:"tow,omitzero" doc:"How the tow vehicle is registered"`
	Unit      RegisteredRequest `json:"unit,omitzero" doc:"How the trailer is registered"`
	Insurance InsuranceRequest  `json:"insurance,omitzero"`
	Load      string            `json:"load,omitempty" maxLength:"500" doc:"What is moved, in words"`
	TakenOff  string            `json:"taken_off,omitempty" maxLength:"500" doc:"What was taken off to make it smaller"`
	From      string            `json:"from,omitempty" maxLength:"300" doc:"The address where it stands"`
	To        string            `json:"to,omitempty" maxLength:"300" doc:"The address that it goes to"`
}

// PartyRequest is a person or a firm.
type PartyRequest struct {
	Name    string `json:"name,omitempty" maxLength:"200"`
	Address string `json:"address,omitempty" maxLength:"300" doc:"Postal address"`
	Phone   string `json:"phone,omitempty" maxLength:"60" doc:"Telephone number"`
	Email   string `json:"email,omitempty" maxLength:"200" doc:"Address of electronic mail"`
	Number  string `json:"number,omitempty" maxLength:"60" doc:"Under which the authorities have it"`
}

// RegisteredRequest is how a vehicle is registered.
type RegisteredRequest struct {
	Plate string `json:"plate,omitempty" maxLength:"20" doc:"What its plate says"`
	In    string `json:"registered_in,omitempty" maxLength:"60" doc:"The province or state of the plate"`
	VIN   string `json:"vin,omitempty" maxLength:"40" doc:"Vehicle identification number"`
	Make  string `json:"make,omitempty" maxLength:"100" doc:"Who made it, and the model"`
	Year  string `json:"year,omitempty" maxLength:"4" doc:"Of the model"`
	Mass  Mass   `json:"registered_mass,omitzero" doc:"For which it is registered"`
}

// InsuranceRequest is that of the move.
type InsuranceRequest struct {
	Company string `json:"company,omitempty" maxLength:"200" doc:"The insurer"`
	Policy  string `json:"policy,omitempty" maxLength:"60" doc:"Number of the policy"`
	Until   string `json:"until,omitempty" format:"date" doc:"The last day on which it holds"`
}

func (r *reader) particulars(q *PapersRequest) (out trip.Particulars) {
	if q == nil {
		return out
	}
	out = trip.Particulars{
		Carrier: trip.Party(q.Carrier), Owner: trip.Party(q.Owner), Driver: trip.Party(q.Driver),
		Escort: trip.Party(q.Escort), Tow: q.Tow.read(), Unit: q.Unit.read(),
		Insurance: trip.Insurance{Company: q.Insurance.Company, Policy: q.Insurance.Policy},
		Load:      q.Load, TakenOff: q.TakenOff, From: q.From, To: q.To,
	}
	if q.Insurance.Until != "" {
		out.Insurance.Until = r.date("papers.insurance.until", q.Insurance.Until)
	}
	return out
}

func (q RegisteredRequest) read() trip.Registered {
	return trip.Registered{Plate: q.Plate, In: q.In, VIN: q.VIN, Make: q.Make, Year: q.Year, Mass: q.Mass.Is}
}

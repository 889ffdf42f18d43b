package wire

import (
	"wayhouse/api/phrase"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// Ladders are the ways of a journey for rigs of every size of one quantity.
type Ladders struct {
	Mark     string         `json:"mark,omitempty" doc:"INVENTED where any of it rests on invented data"`
	Name     string         `json:"name,omitempty"`
	Notice   string         `json:"notice" doc:"The first thing to read"`
	From     string         `json:"from"`
	Via      []string       `json:"via,omitempty" doc:"The stops between, in their order; their dates are not asked"`
	To       string         `json:"to"`
	Quantity LadderQuantity `json:"quantity"`
	Rig      *string        `json:"rig" doc:"What the given rig is in it; null where not known"`
	RigM     *float64       `json:"rig_m,omitempty" doc:"The same exactly, of height or width"`
	RigKG    *float64       `json:"rig_kg,omitempty" doc:"The same exactly, of mass"`
	Open     Ladder         `json:"unmeasured_open"`
	Shut     Ladder         `json:"unmeasured_shut" doc:"Past nothing unmeasured"`
	Legal    []LegalMost    `json:"legal" doc:"What each jurisdiction on these ways allows without a permit"`
	Tasks    Tasks          `json:"tasks" doc:"What is to be done so that the ladders hold"`
	Network  Network        `json:"network"`
	Edition
	Cautions     []string      `json:"cautions"`
	Attributions []Attribution `json:"attributions"`
}

// Ladder is a list of steps.
type Ladder struct {
	Steps    []LadderStep `json:"steps"`
	Complete bool         `json:"complete" doc:"False where there are more steps than were sought"`
	Why      string       `json:"none,omitempty" doc:"Why there is no step"`
}

// LadderStep is the best way for rigs up to a size.
type LadderStep struct {
	Mark          string     `json:"mark,omitempty"`
	Most          *string    `json:"most"`
	MostM         *float64   `json:"most_m" doc:"Of a ladder of height or width"`
	MostKG        *float64   `json:"most_kg" doc:"Of a ladder of mass"`
	By            string     `json:"by,omitempty" doc:"What limits it; the first, where several leave as much"`
	Binds         []int      `json:"binds" doc:"The drives from stop to stop, from 1, that leave no more"`
	Rows          []Citation `json:"rows" doc:"Where that comes from"`
	DrivingS      *float64   `json:"driving_s"`
	SlowS         *float64   `json:"driving_slow_s"`
	DrivingWhy    string     `json:"driving_unknown,omitempty"`
	LengthM       float64    `json:"length_m"`
	Ferry         bool       `json:"ferry" doc:"It uses one"`
	Unknowns      []string   `json:"unknowns" doc:"What on the way may limit the quantity and is not measured, each once"`
	Jurisdictions []string   `json:"jurisdictions"`
	Passes        *bool      `json:"passes"`
}

// LegalMost is what a jurisdiction allows without a permit.
type LegalMost struct {
	Mark         string   `json:"mark,omitempty"`
	Jurisdiction string   `json:"jurisdiction"`
	Most         *string  `json:"most" doc:"Rounded down; null where it is not established"`
	MostM        *float64 `json:"most_m,omitempty" doc:"The same exactly, of height or width"`
	MostKG       *float64 `json:"most_kg,omitempty" doc:"The same exactly, of mass"`
}

// NewLadders puts ladders into their wire form.
func NewLadders(in *phrase.Language, l *trip.Ladders) *Ladders {
	tell := teller{in}
	out := &Ladders{
		Mark: mark(l.RestsOnInvented()), Name: l.Name, Notice: tell.Sentences(l.Notice()),
		From: l.Stops[0], Via: l.Stops[1 : len(l.Stops)-1], To: l.Stops[len(l.Stops)-1],
		Quantity: LadderQuantity(l.Quantity), Rig: known(tell.Quantity(l.Unit)),
		Open: tell.newLadder(l, l.Open), Shut: tell.newLadder(l, l.Shut), Legal: each(l.Legal, tell.newLegalMost),
		Network: tell.newNetwork(l.About), Edition: NewEdition(l.Tables), Tasks: tell.newTasks(l.Tasks()),
		Cautions: tell.Each(l.Cautions), Attributions: Credits(tell.Language, l.About, false),
	}
	out.RigM, out.RigKG = exactly(l.Unit)
	return out
}

func (tell teller) newLegalMost(l trip.Legal) LegalMost {
	m, kg := exactly(l.Most)
	return LegalMost{mark(l.Invented), l.Jurisdiction, known(tell.Down(l.Most)), m, kg}
}

// known is null for what is not known.
func known(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

func (tell teller) newLadder(all *trip.Ladders, l choosing.Ladder) Ladder {
	steps := each(l.Steps, func(s choosing.Step) LadderStep { return tell.newStep(all, &s) })
	return Ladder{Steps: steps, Complete: l.Complete, Why: tell.Say(l.Why)}
}

func (tell teller) newStep(all *trip.Ladders, s *choosing.Step) LadderStep {
	out := LadderStep{
		Mark: mark(all.Invented || s.Invented), By: tell.Say(s.By), Rows: tell.newRows(s.Citations),
		LengthM: round(float64(s.Length)), Ferry: s.Ferry,
		Unknowns:      append([]string{}, tell.Each(s.Unknowns)...),
		Jurisdictions: append([]string{}, s.Areas...), Binds: each(s.Binds, func(drive int) int { return drive + 1 }),
	}
	out.DrivingS, out.DrivingWhy = tell.newDuration(s.Time)
	out.SlowS = newSlow(s.Time)
	if all.Unit.Known() {
		out.Passes = &s.Passes
	}
	if s.Most == 0 {
		return out
	}
	most := all.Quantity.Of(s.Most)
	out.Most = known(tell.Down(most))
	out.MostM, out.MostKG = exactly(most)
	return out
}

package wire

import (
	"wayhouse/regs/finding"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

// Structure is a structure on the way, with the sum of its margin.
type Structure struct {
	Mark    string          `json:"mark,omitempty"`
	ID      string          `json:"id"`
	Name    string          `json:"name"`
	Lat     float64         `json:"lat"`
	Lon     float64         `json:"lon"`
	AtM     float64         `json:"at_m" doc:"From the start of the leg"`
	Outcome finding.Outcome `json:"outcome"`
	MarginM *float64        `json:"margin_m"`
	Sum     string          `json:"sum,omitempty" doc:"How the margin comes about"`
	Why     string          `json:"why,omitempty"`
	Others  []string        `json:"others,omitempty" doc:"What width, mass, words and wind ask there"`
	Doubt   string          `json:"doubt,omitempty" doc:"Why it may not stand over this road"`
	Ask     string          `json:"ask,omitempty"`
	Row     Citation        `json:"row"`
}

// Avoided is what the rig went round, and what that costs.
type Avoided struct {
	Mark         string      `json:"mark,omitempty"`
	From         string      `json:"from"`
	To           string      `json:"to"`
	Structures   []Structure `json:"structures"`
	Signs        []string    `json:"signs" doc:"That shut the rig out"`
	Ferry        bool        `json:"ferry,omitempty"`
	ExtraM       float64     `json:"extra_m"`
	ExtraS       *float64    `json:"extra_driving_s"`
	ExtraUnknown string      `json:"extra_unknown,omitempty"`
}

func (tell teller) newStructure(s standing.Passing) Structure {
	out := Structure{
		Mark: mark(s.Invented()), ID: s.ID, Name: tell.Say(s.Called), Lat: s.Point.Lat(), Lon: s.Point.Lon(),
		AtM: round(float64(s.At)), Outcome: s.Outcome, Sum: tell.Say(s.Sum()), Why: tell.Say(s.Why),
		Others: tell.Each(s.Others), Doubt: tell.Say(s.Doubt),
		Ask: tell.Whom(s.Settles), Row: tell.newRow(s.Citation),
	}
	if s.Known {
		out.MarginM = metres(&s.Margin)
	}
	return out
}

func (tell teller) newAvoided(a choosing.Avoided) Avoided {
	out := Avoided{
		From: a.From, To: a.To, Ferry: a.Ferry, ExtraM: round(float64(a.Extra)), Structures: each(a.Structures,
			tell.newStructure),
		Signs: append([]string{}, tell.Each(a.Signs)...),
	}
	out.ExtraS, out.ExtraUnknown = tell.newDuration(a.ExtraTime)
	for _, s := range a.Structures {
		if s.Invented() {
			out.Mark = InventedMark
		}
	}
	return out
}

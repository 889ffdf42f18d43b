// Package keep is what users save: trips, each version with what was answered then, so that
// a later answer can be compared with it when the tables and the roads of then are gone.
package keep

import (
	"fmt"
	"time"

	"wayhouse/regs/compare"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// Digest is an answer without its sentences, as it is stored. Lengths are metres, masses
// kilograms, times seconds, fuel litres; a null is not known.
type Digest struct {
	Tables    string     `json:"tables"`  // revision
	Network   string     `json:"network"` // revision
	Invented  bool       `json:"invented,omitempty"`
	Departure string     `json:"departure"` // RFC 3339
	LengthM   float64    `json:"length_m"`
	DrivingS  *float64   `json:"driving_s"`
	SlowS     *float64   `json:"driving_slow_s"`
	FuelL     *float64   `json:"fuel_likely_l"`
	Permits   int        `json:"permits"`
	Escorts   int        `json:"escorts"`
	Answers   []Answered `json:"answers"`
}

// Answered is a finding in a digest.
type Answered struct {
	Topic        finding.Topic   `json:"topic"`
	Rule         finding.Rule    `json:"rule"`
	Jurisdiction string          `json:"jurisdiction,omitempty"`
	Place        string          `json:"place,omitempty"` // as code and values, in no language
	Named        bool            `json:"named,omitempty"` // the place is a name, as people write it
	Outcome      finding.Outcome `json:"outcome"`
	Reason       finding.Reason  `json:"reason,omitempty"`
	Margin       *Margin         `json:"margin,omitempty"`
	Asks         Asks            `json:"asks,omitzero"`
	Rows         []string        `json:"rows,omitempty"` // that decided
	Invented     bool            `json:"invented,omitempty"`
}

// Margin is a length or a mass, exactly, in their smallest units.
type Margin struct {
	Length *measure.Length `json:"length,omitempty"`
	Mass   *measure.Mass   `json:"mass,omitempty"`
}

// Asks are the demands of a finding: those that are counted.
type Asks struct {
	Permits    int  `json:"permits,omitempty"`
	Front      int  `json:"escorts_front,omitempty"`
	Rear       int  `json:"escorts_rear,omitempty"`
	Anywhere   int  `json:"escorts_any,omitempty"`
	HeightPole bool `json:"height_pole,omitempty"`
	Survey     bool `json:"survey,omitempty"`
	Hours      int  `json:"hours,omitempty"`
	Conditions int  `json:"conditions,omitempty"`
}

// NewDigest takes down what a plan answers.
func NewDigest(p *trip.Plan) Digest {
	out := Digest{
		Tables: p.Tables, Network: p.About.Revision, Invented: p.RestsOnInvented(),
		Departure: p.Departure.Format(time.RFC3339),
		LengthM:   float64(p.Length), Permits: len(p.Permits), Escorts: p.Verdict.Demands.Escorts(),
	}
	if p.Time.Unknown.None() {
		likely, slow := p.Time.Seconds(), p.Time.Slow.Seconds()
		out.DrivingS, out.SlowS = &likely, &slow
	}
	if p.Fuel.Unknown.None() {
		litres := float64(p.Fuel.Likely / measure.Litre)
		out.FuelL = &litres
	}
	for _, f := range p.All() {
		out.Answers = append(out.Answers, newAnswered(f))
	}
	return out
}

func newAnswered(f finding.Finding) Answered {
	out := Answered{
		Topic: f.Topic, Rule: f.Rule, Jurisdiction: f.Jurisdiction, Place: f.Place.String(), Outcome: f.Outcome,
		Reason: f.Reason, Margin: newMargin(f.Margin), Invented: f.Invented, Asks: Asks{
			Permits: len(f.Demands.Permits), Front: f.Demands.EscortsFront, Rear: f.Demands.EscortsRear,
			Anywhere: f.Demands.EscortsAny, HeightPole: f.Demands.HeightPole, Survey: f.Demands.Survey,
			Hours: len(f.Demands.Hours), Conditions: len(f.Demands.Conditions),
		},
	}
	if f.Place.None() {
		out.Place = ""
	}
	out.Named = out.Place != "" && say.Same([]say.Remark{f.Place}, []say.Remark{say.Text(out.Place)}) &&
		f.Place.Code == say.Text(out.Place).Code
	for _, c := range f.Citations {
		if c.Decides {
			out.Rows = append(out.Rows, c.ID)
		}
	}
	return out
}

func newMargin(q finding.Quantity) *Margin {
	if l, ok := q.Length(); ok {
		return &Margin{Length: &l}
	}
	if m, ok := q.Mass(); ok {
		return &Margin{Mass: &m}
	}
	return nil
}

// Changes says in what a plan and its quote differ from what was saved, and what moved the
// price.
func Changes(saved Trip, now *trip.Plan, quoted *Quoted) *compare.Comparison {
	places := map[string]say.Remark{}
	for _, f := range now.All() {
		places[f.Place.String()] = f.Place
	}
	a, b := saved.Answer.side(places), NewDigest(now).side(places)
	a.Name, b.Name = fmt.Sprintf("%s (%d)", saved.ID, saved.Version), saved.ID
	moved := Prices(&a, &b, saved.Quote, quoted)
	out := compare.Of(a, b)
	out.Moved = moved
	return out
}

// side is a digest as a side of a comparison. places are what places are called now.
func (d Digest) side(places map[string]say.Remark) compare.Side {
	out := compare.Side{Invented: d.Invented, Facts: d.facts()}
	for _, a := range d.Answers {
		out.Findings = append(out.Findings, a.finding(places))
	}
	out.Verdict = finding.Roll(out.Findings)
	return out
}

func (d Digest) facts() []compare.Fact {
	return append([]compare.Fact{
		{Name: say.That("compare.tables"), Value: d.Tables}, {Name: say.That("compare.network"), Value: d.Network},
		{Name: say.That("compare.departure"), Value: d.Departure},
	}, d.Way()...)
}

// Way is what the way comes to, by names that every comparison of trips has.
func (d Digest) Way() []compare.Fact {
	return []compare.Fact{
		{Name: say.That("compare.length"), Value: measure.Distance(d.LengthM)},
		{Name: say.That("compare.driving"), Value: taking(d.DrivingS)},
		{Name: say.That("compare.driving_slow"), Value: taking(d.SlowS)},
		{Name: say.That("compare.fuel"), Value: litres(d.FuelL)},
		{Name: say.That("compare.permits"), Value: d.Permits},
		{Name: say.That("compare.escorts"), Value: d.Escorts},
	}
}

func taking(seconds *float64) any {
	if seconds == nil {
		return nil
	}
	return say.That("screen.time", "time", time.Duration(*seconds*float64(time.Second)))
}

func litres(of *float64) any {
	if of == nil {
		return nil
	}
	return measure.Volume(*of) * measure.Litre
}

// place is where a finding of a digest is: as it is called now, by its name, or else one that
// is no more on the way.
func (a Answered) place(places map[string]say.Remark) say.Remark {
	switch now, known := places[a.Place]; {
	case a.Place == "" || known:
		return now
	case a.Named:
		return say.Text(a.Place)
	default:
		return say.That("keep.place_gone", "was", a.Place)
	}
}

func (a Answered) finding(places map[string]say.Remark) finding.Finding {
	f := finding.Finding{
		Topic: a.Topic, Rule: a.Rule, Jurisdiction: a.Jurisdiction, Place: a.place(places), Outcome: a.Outcome,
		Reason: a.Reason, Invented: a.Invented, Demands: finding.Demands{
			EscortsFront: a.Asks.Front, EscortsRear: a.Asks.Rear, EscortsAny: a.Asks.Anywhere,
			HeightPole: a.Asks.HeightPole, Survey: a.Asks.Survey,
		},
	}
	left, over := a.Margin.said()
	if asks := a.Asks.said(); left != nil || over != nil || len(asks) > 0 || len(a.Rows) > 0 {
		f.Says = []say.Remark{say.That("keep.answer", "left", left, "over", over, "rows", a.Rows, "asks", asks)}
	}
	return f
}

// said is what is left of a margin or by how much it is gone beyond; a comparison that had
// the margin itself would show nothing beside it.
func (m *Margin) said() (left, over any) {
	switch {
	case m == nil:
	case m.Length != nil && *m.Length < 0:
		over = finding.Of(-*m.Length)
	case m.Length != nil:
		left = finding.Of(*m.Length)
	case *m.Mass < 0:
		over = finding.Of(-*m.Mass)
	default:
		left = finding.Of(*m.Mass)
	}
	return left, over
}

// said are the demands in words.
func (a Asks) said() (out []say.Remark) {
	for _, one := range []struct {
		n    int
		says say.Remark
	}{
		{a.Permits, say.That("keep.permits", "count", a.Permits)},
		{a.Front, say.That("report.escorts_front", "count", a.Front)},
		{a.Rear, say.That("report.escorts_rear", "count", a.Rear)},
		{a.Anywhere, say.That("report.escorts_any", "count", a.Anywhere)},
		{a.Hours, say.That("keep.hours", "count", a.Hours)},
		{a.Conditions, say.That("keep.conditions", "count", a.Conditions)},
	} {
		if one.n > 0 {
			out = append(out, one.says)
		}
	}
	if a.HeightPole {
		out = append(out, say.That("report.height_pole"))
	}
	if a.Survey {
		out = append(out, say.That("report.survey"))
	}
	return out
}

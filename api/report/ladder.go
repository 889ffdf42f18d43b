package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// Ladders writes how large a rig may be on each way past its stops as plain text:
// one screen of it, one subject, or all. attributions are the credits of the data, a
// line each.
func Ladders(w io.Writer, v View, l *trip.Ladders, attributions []string) error {
	if v.Why != "" {
		return why(w, v, ladderSubjects(l), l.Tasks())
	}
	s := ladderScreen(v, l)
	if v.Full {
		s.grounds(nil, l.Cautions, l.About, l.Tables, attributions)
	}
	return s.write(w, v)
}

// ladderScreen is the answer to a ladder on one screen: which step the given rig takes,
// the steps, what each jurisdiction allows, and what to do next.
func ladderScreen(v View, l *trip.Ladders) *screen {
	s := &screen{in: v.In, full: v.Full}
	s.whole().briefly(say.That("screen.ladder.title", "invented", l.RestsOnInvented(), "quantity", l.Quantity,
		"from", s.clip(l.Stops[0]), "via", s.clips(l.Stops[1:len(l.Stops)-1]), "to", s.clip(l.Stops[len(l.Stops)-1])))
	s.part(say.That("screen.label.rig")).keeps(s.takes(l))
	s.part(say.That("screen.label.verdict")).keeps(say.That("head.ladder", "quantity", l.Quantity))
	s.steps(say.That("screen.label.steps"), l, l.Open)
	if l.Alike() {
		s.part(say.Remark{}).tells(say.That("screen.ladder.alike"))
	} else {
		s.steps(say.That("screen.label.round"), l, l.Shut)
	}
	s.allowed(l)
	s.offs(s.part(say.That("screen.label.way")), l.Off)
	s.roads(l.About)
	s.tasks(l.Tasks())
	s.foot(ladderExamples(l))
	s.credit(l.About)
	return s
}

// taken is the index of the fastest step by which the given rig passes, -1 for none.
func taken(steps []choosing.Step) int {
	out := -1
	for i, step := range steps {
		if step.Passes {
			out = i
		}
	}
	return out
}

// takes says which step the given rig takes while what is unmeasured leaves room.
func (s *screen) takes(l *trip.Ladders) say.Remark {
	at := taken(l.Open.Steps)
	switch {
	case !l.Unit.Known():
		return say.That("screen.ladder.rig_not_known", "quantity", l.Quantity)
	case at < 0:
		return say.That("screen.ladder.takes_none", "quantity", l.Quantity, "value", l.Unit)
	default:
		step := l.Open.Steps[at]
		return say.That("screen.ladder.takes", "quantity", l.Quantity, "value", l.Unit, "step", at+1, "length", step.Length,
			"time", drivingTime(step.Time.Duration, step.Time.Unknown))
	}
}

// How many steps of a ladder are candidates for a screen, and how many stay.
const (
	someSteps = 12
	sureSteps = 3
)

// steps writes one ladder as a table, from the greatest rig to the fastest way.
func (s *screen) steps(label say.Remark, l *trip.Ladders, of choosing.Ladder) {
	part := s.apart(label)
	if len(of.Steps) == 0 {
		part.keeps(of.Why)
		return
	}
	heads := []say.Remark{say.That("screen.column.greatest", "quantity", l.Quantity), say.That("screen.column.time"),
		say.That("screen.column.length"), say.That("screen.column.unmeasured"), say.That("screen.column.limited"),
		say.That("screen.column.through")}
	if len(l.Stops) > 2 {
		heads = slices.Insert(heads, bindsColumn, say.That("screen.column.binds"))
	}
	part.head(heads...)
	at, shown := taken(of.Steps), s.some(someSteps, len(of.Steps))
	for i, step := range of.Steps {
		if i < shown || i == at {
			part.richRow(i < sureSteps || i == at, strconv.Itoa(i+1), s.stepCells(l, step, true), s.stepCells(l, step, false))
		} else {
			part.hides(1)
		}
	}
	if !of.Complete {
		part.keeps(say.That("screen.ladder.more"))
	}
	for i, step := range of.Steps {
		if s.full && len(step.Unknowns) > 0 {
			part.tells(say.That("screen.ladder.unmeasured_on", "step", i+1, "what", step.Unknowns))
		}
		if s.full && !step.Time.Unknown.None() {
			part.tells(say.That("screen.ladder.no_time", "step", i+1, "why", step.Time.Unknown))
		}
	}
}

// stepCells are the cells of a step, with its size in one system or in both.
func (s *screen) stepCells(l *trip.Ladders, step choosing.Step, alone bool) []string {
	most, by := say.That("screen.ladder.free"), s.in.Say(say.That("screen.no_answer"))
	if step.Most != 0 {
		most, by = say.That("screen.ladder.most", "alone", alone, "value", l.Quantity.Of(step.Most)), s.in.Say(step.By)
		s.speaksOf(finding.Finding{Topic: finding.Structure, Citations: step.Citations})
	}
	out := []string{
		s.in.Say(most), s.driving(step.Time), s.in.Alone(step.Length),
		s.in.Say(say.That("screen.ladder.unmeasured", "count", len(step.Unknowns), "or_more", len(lacking(l.About)) > 0)), by,
		s.in.Say(say.That("screen.ladder.through", "codes", step.Areas, "ferry", step.Ferry)),
	}
	if len(l.Stops) > 2 {
		out = slices.Insert(out, bindsColumn, s.binds(l, step))
	}
	return out
}

func (s *screen) clips(texts []string) (out []string) {
	for _, text := range texts {
		out = append(out, s.clip(text))
	}
	return out
}

// bindsColumn is where the drives stand that bind a step of a tour.
const bindsColumn = 5

// binds names the stops to which the drives lead that bind a step.
func (s *screen) binds(l *trip.Ladders, step choosing.Step) string {
	var to []string
	for _, drive := range step.Binds {
		to = append(to, l.Stops[drive+1])
	}
	if to == nil {
		return s.in.Say(say.That("screen.no_answer"))
	}
	return s.in.Say(say.That("screen.ladder.binds", "to", s.clips(to)))
}

// allowed says what each jurisdiction allows without a permit.
func (s *screen) allowed(l *trip.Ladders) {
	var all []say.Remark
	for _, k := range l.Legal {
		if k.Most.Known() {
			all = append(all, say.That("screen.ladder.allows", "jurisdiction", k.Jurisdiction, "most", k.Most))
		} else {
			all = append(all, say.That("screen.ladder.allows_not_known", "jurisdiction", k.Jurisdiction))
		}
	}
	part := s.part(say.That("screen.label.law"))
	if len(all) == 0 {
		part.keeps(say.That("screen.ladder.no_jurisdiction"))
		return
	}
	part.keeps(say.That("screen.ladder.law", "all", all))
}

// offs says which stops are far from the roads, or put onto others than their own, the
// first in any case.
func (s *screen) offs(part *part, off []say.Remark) {
	for i, one := range off {
		tells := part.tells
		if i == 0 {
			tells = part.keeps
		}
		if one.Get("distance") != nil {
			one = say.That("screen.off", "stop", s.clip(fmt.Sprint(one.Get("stop"))), "distance", one.Get("distance"))
		}
		tells(one)
	}
}

// lacking lists what a network would have to know for a step to be sure.
func lacking(about network.About) (out []say.Term) {
	for _, f := range about.Lacks {
		if f == network.Structures || f == network.RoadLimits {
			out = append(out, f)
		}
	}
	return out
}

// ladderExamples are things of ladders that --why opens.
func ladderExamples(l *trip.Ladders) (out []string) {
	for _, k := range l.Legal {
		out = append(out, k.Jurisdiction)
		break
	}
	for _, step := range l.Open.Steps {
		for _, r := range step.Citations {
			return append(out, r.ID)
		}
	}
	return out
}

// ladderSubjects are what limits each step, and what ladders leave open.
func ladderSubjects(l *trip.Ladders) (out []subject) {
	for i, step := range l.Open.Steps {
		if step.Most == 0 {
			continue
		}
		out = append(out, subject{where: say.That("screen.step_n", "n", i+1), Finding: finding.Finding{
			Topic: finding.Structure, Rule: "structure", Place: step.By, Outcome: finding.Forbidden,
			Reason: finding.Exceeded, Citations: step.Citations, Invented: step.Invented,
			Says: []say.Remark{say.That("screen.ladder.beyond", "quantity", l.Quantity, "most", l.Quantity.Of(step.Most))},
		}})
	}
	for leg, f := range l.Findings() {
		out = append(out, subject{Finding: f, leg: leg})
	}
	return out
}

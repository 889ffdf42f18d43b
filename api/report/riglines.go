package report

import (
	"io"
	"slices"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	written "wayhouse/regs/word"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// rigLine is a line of the first screen of a rig, and what opens behind it: figures, and
// the findings that it rests on.
type rigLine struct {
	label   say.Remark
	figures func(*text)
	about   func(finding.Finding) bool
}

// rigLinesOf are the lines of a screen whose labels open something.
func rigLinesOf(a *wire.RigAnswer) []rigLine {
	masses := func(t *text) { t.masses(a.Report) }
	of := func(rule finding.Rule) func(finding.Finding) bool {
		return func(f finding.Finding) bool { return f.Rule == rule }
	}
	lines := []rigLine{
		{say.That("screen.label.weighs"), masses, nil},
		{say.That("screen.label.balance"), masses, of(rig.RuleCouplingShare)},
		{say.That("screen.label.ratings"), nil, rig.Rated},
		{say.That("screen.label.tipping"), nil, of(rig.RuleTipping)},
		{say.That("screen.label.turning"), func(t *text) {
			t.turning(a.Turning)
			t.bending(a.Report.Bending)
		}, of(rig.RuleBending)},
		{say.That("screen.label.fuel"), func(t *text) { t.fuelOf(a) }, nil},
	}
	if a.Corner != nil {
		lines = append(lines, rigLine{
			say.That("screen.label.corner"), func(t *text) { t.corner(a.Corner) }, of(rig.RuleCorner),
		})
	}
	return lines
}

// fuelOf writes what drives the fuel of a rig, and of the way that was asked about.
func (t *text) fuelOf(a *wire.RigAnswer) {
	t.drag(a.Report)
	if a.Plan != nil {
		t.plan = a.Plan
		t.road(a.Plan, many)
	}
}

// whyRig opens what a view names: a line of the screen by its label, else a subject or a
// task.
func whyRig(w io.Writer, v View, a *wire.RigAnswer) error {
	t := newText(v, &trip.Plan{Invented: a.Invented, Rig: a.Rig})
	lines := rigLinesOf(a)
	if i := slices.IndexFunc(lines, func(l rigLine) bool {
		return written.Fold(t.in.Say(l.label)) == written.Fold(v.Why)
	}); i >= 0 {
		t.rigLine(lines[i], a)
	} else {
		var labels []string
		for _, l := range lines {
			labels = append(labels, t.in.Say(l.label))
		}
		t.why(v, rigSubjects(a), a.Tasks(), say.That("screen.names.lines", "all", labels))
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// rigLine writes what opens behind a line.
func (t *text) rigLine(l rigLine, a *wire.RigAnswer) {
	var about []subject
	c := counts{}
	for _, f := range a.Findings {
		if l.about != nil && l.about(f) {
			about = append(about, subject{Finding: f})
			c.add(f.Outcome)
		}
	}
	t.line("%s", t.in.Say(say.That("screen.why_line", "invented", a.Invented, "name", l.label, "any", len(about) > 0,
		"answers", c.say())))
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	if l.figures != nil {
		t.line("")
		l.figures(t)
	}
	for _, s := range about {
		t.open(s)
	}
}

package report

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	written "wayhouse/regs/word"
	"wayhouse/routing/trip"
)

// A subject is a finding and where it stands in an answer: what --why opens.
type subject struct {
	finding.Finding
	leg   int // 0: on none
	where say.Remark
}

// keys are the names under which a subject is found.
func (s subject) keys(t *text) []string {
	_, short, _ := strings.Cut(s.Jurisdiction, "-")
	out := []string{s.Jurisdiction, short, string(s.Topic), string(s.Rule), t.in.Term(s.Rule), t.in.Say(s.Place)}
	for _, q := range limit.Quantities() {
		if s.Topic == finding.Limit && (s.Rule == finding.Rule(q) || s.Rule == q.Escorts()) {
			out = append(out, string(q), t.in.Term(q))
		}
	}
	if s.leg > 0 {
		out = append(out, strconv.Itoa(s.leg), t.in.Say(say.That("screen.leg", "n", s.leg)))
	}
	for _, r := range s.Citations {
		out = append(out, r.ID)
	}
	return out
}

// why writes all that is known of the subject that a view names.
func why(w io.Writer, v View, all []subject, tasks task.List) error {
	t := newText(v, nil)
	t.why(v, all, tasks, say.Remark{})
	_, err := io.WriteString(w, t.b.String())
	return err
}

// why writes all that is known of one subject, every finding with all its rows; or,
// where it names nothing, what there is to name; lines are what else the caller opens.
func (t *text) why(v View, all []subject, tasks task.List, lines say.Remark) {
	name := v.Why
	if one, ok := tasks.Find(name); ok {
		t.task(one)
		return
	}
	folded := written.Fold(name)
	var about []subject
	for _, s := range all {
		if v.called(s.Jurisdiction) || slices.ContainsFunc(s.keys(t), func(k string) bool {
			return k != "" && written.Fold(k) == folded
		}) {
			about = append(about, s)
		}
	}
	if len(about) == 0 {
		t.nothing(name, all, tasks, lines)
		return
	}
	c := counts{}
	for _, s := range about {
		c.add(s.Outcome)
	}
	t.line("%s", t.in.Say(say.That("screen.why", "invented", madeUp(about), "name", name, "answers", c.say())))
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	for _, s := range about {
		t.open(s)
	}
}

// madeUp reports whether any of what is told rests on invented data.
func madeUp(all []subject) bool {
	return slices.ContainsFunc(all, func(s subject) bool {
		return s.Invented ||
			slices.ContainsFunc(s.Citations, func(r finding.Citation) bool { return r.Status == finding.Invented })
	})
}

// called reports whether the view asks about a jurisdiction by its name.
func (v View) called(code string) bool { return code != "" && v.Called != nil && v.Called(code, v.Why) }

// open writes a finding with every row, and what would settle it.
func (t *text) open(s subject) {
	t.line("")
	t.line("%s", t.in.Say(say.That("screen.opened", "state", stateOf(s.Outcome), "where", s.where,
		"about", about(s.Finding), "says", s.Says)))
	if s.Margin.Known() {
		t.line("  %s", t.in.Say(say.That("screen.margin", "margin", s.Margin)))
	}
	for _, r := range s.Citations {
		t.line("  %s", t.in.Say(say.That("screen.row_says", "row", cited(t, r), "says", r.Says)))
	}
	if whom := t.in.Ask(s.Finding); whom != "" {
		t.line("  %s", t.in.Say(say.That("screen.settled_by", "whom", whom)))
	}
}

// cited is a row with its source.
func cited(t *text, r finding.Citation) say.Remark {
	read := say.That("screen.never_read")
	if !r.ReadOn.IsZero() {
		read = say.That("screen.read_on", "day", say.Day(r.ReadOn))
	}
	var source []string
	for _, s := range []string{t.in.Ours(r.Source), r.Section, t.in.Ours(r.Year)} {
		if s != "" {
			source = append(source, s)
		}
	}
	return say.That("screen.row", "decides", r.Decides, "figure", t.in.Figure(r), "id", r.ID, "source", source,
		"status", t.status(r.Status), "read", read)
}

// nothing says that a name names nothing, and what does.
func (t *text) nothing(name string, all []subject, tasks task.List, lines say.Remark) {
	t.line("%s", t.in.Say(say.That("screen.why_nothing", "name", name)))
	var where, rules, ids []string
	legs := 0
	for _, s := range all {
		where = append(where, s.Jurisdiction)
		rules = append(rules, t.in.Term(s.Rule))
		legs = max(legs, s.leg)
		for _, r := range s.Citations {
			ids = append(ids, r.ID)
		}
	}
	t.names(say.That("screen.names.jurisdictions", "all", once(where)))
	if legs > 0 {
		t.names(say.That("screen.names.legs", "last", legs))
	}
	var todo []string
	for _, one := range tasks.Tasks {
		todo = append(todo, one.ID)
	}
	if !lines.None() {
		t.names(lines)
	}
	t.names(say.That("screen.names.tasks", "all", todo))
	t.names(say.That("screen.names.rules", "all", once(rules)))
	t.names(say.That("screen.names.rows", "all", once(ids)))
}

func (t *text) names(r say.Remark) {
	if words := t.in.Say(r); words != "" {
		t.line("  %s", words)
	}
}

// once lists words in their order, each once and none that is empty.
func once(all []string) (out []string) {
	for _, s := range all {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// sources writes the rows of findings, each once, with its source, and nothing where there
// are none.
func (t *text) sources(of []finding.Finding) {
	told := map[string]bool{}
	if !slices.ContainsFunc(of, func(f finding.Finding) bool { return len(f.Citations) > 0 }) {
		return
	}
	t.line("")
	t.line("%s", t.in.Say(say.That("screen.rows")))
	for _, f := range of {
		for _, r := range f.Citations {
			if !told[r.ID] {
				told[r.ID] = true
				t.line("  %s", t.in.Say(cited(t, r)))
			}
		}
	}
}

// write prints a screen, with the rows behind it where they are asked for.
func (s *screen) write(w io.Writer, v View) error {
	t := newText(v, nil)
	t.b.WriteString(s.String())
	if v.Rows || v.Full {
		t.sources(s.shown)
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// subjects are the findings of a plan, and the structures that it avoids.
func subjects(p *trip.Plan) (out []subject) {
	for at, f := range p.All() {
		s := subject{Finding: f, leg: at.Leg}
		switch {
		case at.Rig:
			s.where = say.That("screen.on_rig")
		case at.Leg > 0:
			s.where = say.That("screen.leg", "n", at.Leg)
		}
		out = append(out, s)
	}
	for _, a := range p.Avoided {
		for _, one := range a.Structures {
			out = append(out, subject{Finding: one.Finding(), where: say.That("screen.avoided")})
		}
	}
	return out
}

// Package report prints a plan for people.
package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"

	"wayhouse/api/phrase"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Text writes a plan as plain text: the verdict first, then the rig, the
// route, its legs, the findings by jurisdiction with their rows, the
// structures with their margins, what is unknown and whom to ask, time, fuel
// and cautions. attributions are the credits of the data, a line each.
func Text(w io.Writer, p *trip.Plan, attributions []string) error {
	t := newText(p)
	t.b.WriteString(Printable(t.in.Sentences(p.Notice())) + "\n") // one line, so that nothing of it is below the fold
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	t.heading("Rig")
	t.rig(p.Rig)
	t.heading("Route")
	t.route()
	if p.Road != nil {
		t.heading("The rig on this way")
		t.ofRig(p.Road.Findings)
		t.road(p, few)
	}
	t.heading("Legs")
	t.legs()
	t.heading("What the rules say")
	t.rules()
	t.heading("Driver, brakes and inspections")
	t.duty()
	t.heading("Structures")
	t.structures()
	t.onRoads()
	t.heading("Unknown, and whom to ask")
	t.unknowns()
	t.heading("To arrange")
	t.demands(p.Verdict.Demands)
	if len(p.Permits) > 0 {
		t.heading("Permits to ask for")
		t.permits()
	}
	t.heading("Time and fuel")
	t.timeAndFuel()
	t.list("Taken for granted", t.in.Each(p.Assumptions))
	t.list("Cautions", t.in.Each(p.Cautions))
	t.data(p.About.Revision, p.Tables, attributions)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// data says which state of the data an answer rests on, and whose it is.
func (t *text) data(network, tables string, attributions []string) {
	t.list("Data", append([]string{fmt.Sprintf("road network revision %s, tables revision %s", network, tables)}, attributions...))
}

type text struct {
	b    strings.Builder
	in   *phrase.Language
	plan *trip.Plan
}

func newText(p *trip.Plan) *text { return &text{in: phrase.English(), plan: p} }

const width = 96

// line writes one line, folded at the width with a hanging indent. Where the
// line starts with the mark of invented data, the folded lines carry it too.
func (t *text) line(format string, args ...any) {
	s := Printable(fmt.Sprintf(format, args...))
	body := strings.TrimLeft(s, " ")
	indent := strings.Repeat(" ", len(s)-len(body))
	hang := indent + "  "
	if strings.HasPrefix(body, mark) {
		hang = indent + mark + "  "
	}
	current := indent
	for i, word := range strings.Fields(body) {
		switch {
		case i == 0:
			current += word
		case len([]rune(current))+1+len([]rune(word)) > width:
			t.b.WriteString(current + "\n")
			current = hang + word
		default:
			current += " " + word
		}
	}
	t.b.WriteString(current + "\n")
}

// Printable takes out what would drive a terminal: names come from users.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

// mark starts every line that uses invented data.
const mark = "INVENTED"

func marked(invented bool) string {
	if invented {
		return mark + " "
	}
	return ""
}

func (t *text) heading(s string) { t.b.WriteString("\n" + strings.ToUpper(s) + "\n") }

func (t *text) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	t.heading(title)
	for _, s := range items {
		t.line("  - %s", s)
	}
}

func (t *text) rig(r rig.Rig) {
	name := func(s string) string {
		if s == "" {
			return "not named"
		}
		return s
	}
	invented := marked(t.plan.Invented)
	basis := " (designed)"
	switch {
	case r.Unit.Height == nil:
		basis = ""
	case r.Unit.HeightMeasured:
		basis = " (measured on " + r.Unit.MeasuredOn.Format(time.DateOnly) + ")"
	}
	t.line("  %sunit         %s: height %s%s, width %s, length %s, mass %s", invented, name(r.Unit.Name),
		known(r.Unit.Height), basis, across(r.Unit), known(r.Unit.Length), known(r.Unit.Mass.Pointer()))
	if r.Unit.Kind == limit.LoadOnTrailer {
		t.line("  %sload         by itself: %s", invented, own(r.Unit.Load))
		t.line("  %strailer      by itself: %s", invented, own(r.Unit.Trailer))
	}
	t.line("  %stow vehicle  %s: height %s, width %s, length %s, mass %s", invented, name(r.Tow.Name),
		known(r.Tow.Height), least(r.Tow.Width), known(r.Tow.Length), known(r.Tow.Mass))
	t.line("  %srig          height %s, width %s, length %s, mass %s", invented, known(r.Height.Pointer()), known(r.Width.Pointer()), known(r.Length.Pointer()), known(r.Mass.Pointer()))
	t.line("  %scounts as    kind %s, use %s, coupling %s, tow vehicle %s", invented, word(r.Unit.Kind), word(r.Use), word(r.Unit.Coupling), word(r.Tow.Form))
}

func own(o rig.Own) string {
	return fmt.Sprintf("width %s, length %s, mass %s", known(o.Width), known(o.Length), known(o.Mass))
}

// across is the width of a unit with what it rests on.
func across(u rig.Unit) string {
	out := least(u.Width)
	if u.Width.AtLeast() {
		out = "at least " + out + " (its tires, or the trailer under it, are not known)"
	}
	if u.House != nil && u.Kind != limit.LoadOnTrailer {
		out += " over its tires (" + u.House.String() + " without them)"
	}
	return out
}

func known[T fmt.Stringer](v *T) string {
	if v == nil {
		return "UNKNOWN"
	}
	return (*v).String()
}

// least is a value, or what it is at least.
func least[T fmt.Stringer](k measure.Known[T]) string {
	if v, ok := k.Least(); ok {
		return v.String()
	}
	return "UNKNOWN"
}

func word[T ~string](s T) string {
	if s == "" {
		return "UNKNOWN"
	}
	return strings.ReplaceAll(string(s), "_", " ")
}

func (t *text) route() {
	p := t.plan
	how := "found in the network"
	if p.Given {
		how = "as it was given; checked, not changed"
	}
	if p.Given && slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Topic == finding.Given }) {
		how = "as it was given, and found in part only: see what is unknown below"
	}
	if !p.Passable {
		how = "EVERY WAY IS SHUT: this is the way it would take"
	}
	t.line("  %s%s, leaving %s; %s", marked(p.RestsOnInvented()), p.Length, p.Departure.Format("Monday 2006-01-02 15:04 MST"), how)
	for _, f := range p.Findings {
		if f.Outcome != finding.Unknown && f.Topic != finding.Structure && f.Topic != finding.Duty {
			t.line("  %s%s: %s. Ask %s.", marked(f.Invented), outcome(f.Outcome), t.in.Summary(f), t.in.Ask(f))
		}
	}
	for _, a := range p.Avoided {
		t.avoided(a)
	}
}

func (t *text) avoided(a choosing.Avoided) {
	extra := fmt.Sprintf("%s and %s longer", a.Extra, duration(a.ExtraTime))
	if a.Extra < 0 {
		extra = fmt.Sprintf("%s shorter, %s more", -a.Extra, duration(a.ExtraTime))
	}
	if a.Ferry {
		t.line("  avoided a possible ferry between %s and %s: %s", a.From, a.To, extra)
		return
	}
	invented := false
	for _, s := range a.Signs {
		t.line("  avoided %s", t.in.Say(s))
	}
	var lines []string
	times := map[string]int{}
	for _, s := range a.Structures {
		invented = invented || s.Invented()
		why := t.in.All(s.Others)
		if s.Known && s.Margin < 0 {
			why = (-s.Margin).Metric() + " short"
		}
		line := fmt.Sprintf("  %savoided %s: %s", marked(s.Invented()), s.Name, why)
		if times[line]++; times[line] == 1 {
			lines = append(lines, line)
		}
	}
	for _, line := range lines {
		if n := times[line]; n > 1 {
			line += fmt.Sprintf(" (%d of them)", n)
		}
		t.line("%s", line)
	}
	t.line("  %sgoing round between %s and %s is %s", marked(invented), a.From, a.To, extra)
}

func duration(d driving.Duration) string {
	if !d.Unknown.None() {
		return "UNKNOWN time (" + phrase.English().Say(d.Unknown) + ")"
	}
	minutes := int(d.Round(time.Minute).Minutes())
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

func (t *text) legs() {
	for i, l := range t.plan.Legs {
		v := l.Verdict()
		start := "start UNKNOWN"
		if !l.Start.IsZero() {
			start = "at " + l.Start.Format("15:04")
		}
		t.line("  %s%d. %s to %s, %s: %s, %s, %s; %s, %d unknown", marked(l.RestsOnInvented()), i+1, t.in.Say(l.From), t.in.Say(l.To), codes(l.Jurisdictions), l.Length, start, duration(l.Time), outcome(v.Outcome()), v.Unknowns)
		if len(l.Roads) > 0 {
			t.line("     by %s", strings.Join(l.Roads, ", "))
		}
		if c := l.Climb; c != nil && c.Unknown < l.Length {
			unknown := ""
			if c.Unknown > 0 {
				unknown = fmt.Sprintf("; %s of it UNKNOWN", c.Unknown)
			}
			t.line("     climbs %.0f m and descends %.0f m, steepest %+.1f %%%s", c.Ascent, c.Descent, 100*c.Steepest, unknown)
		}
		if l.Unmatched {
			t.line("     matches no road of this network")
		}
	}
}

func codes(c []string) string {
	if len(c) == 0 {
		return "jurisdiction UNKNOWN"
	}
	return strings.Join(c, " or ")
}

// outcome is loud for all but clear.
func outcome(o finding.Outcome) string {
	if o == finding.Clear {
		return string(o)
	}
	return strings.ToUpper(string(o))
}

// ofLimits reports whether a finding is about a quantity or the hours of the tables.
func ofLimits(f finding.Finding) bool { return f.Topic == finding.Limit || f.Topic == finding.Hours }

// notGiven reports whether a quantity is unknown because nobody said what the rig has.
func notGiven(f finding.Finding) bool {
	return f.Topic == finding.Limit && f.Outcome == finding.Unknown && f.Reason == finding.NotGiven
}

// rules writes each jurisdiction once: legs in it have the same answers unless
// time changes them, and then both stand.
func (t *text) rules() {
	var order []string
	byCode := map[string][]finding.Finding{}
	for _, f := range t.plan.All() {
		if !ofLimits(f) || slices.ContainsFunc(byCode[f.Jurisdiction], func(o finding.Finding) bool { return same(o, f) }) {
			continue
		}
		if byCode[f.Jurisdiction] == nil {
			order = append(order, f.Jurisdiction)
		}
		byCode[f.Jurisdiction] = append(byCode[f.Jurisdiction], f)
	}
	for _, code := range order {
		t.line("  %s", codes(slices.DeleteFunc([]string{code}, func(s string) bool { return s == "" })))
		var missing []string
		for _, f := range byCode[code] {
			if notGiven(f) {
				missing = append(missing, t.in.Term(limit.Quantity(f.Rule)))
				continue
			}
			t.rule(f)
		}
		if len(missing) > 0 {
			t.line("    UNKNOWN because not given: %s", strings.Join(missing, ", "))
		}
	}
}

// duty writes what binds the driver and the making of the rig; unknowns are
// listed with the others too.
func (t *text) duty() {
	code := ""
	for _, f := range t.plan.All() {
		if f.Topic != finding.Duty {
			continue
		}
		if f.Jurisdiction != code {
			code = f.Jurisdiction
			t.line("  %s: ask the offices there for driver licences and for carrier safety", code)
		}
		t.line("    %s%s: %s", marked(f.Invented), outcome(f.Outcome), t.in.Summary(f))
		for _, r := range f.Citations {
			if r.Decides && f.Rule != string(duty.AllHours) {
				t.row(r)
			}
		}
		if f.Rule == string(duty.AllHours) && len(f.Citations) > 0 { // many rows of one source
			t.row(f.Citations[0])
			var others []string
			for _, r := range f.Citations[1:] {
				others = append(others, fmt.Sprintf("%s (%s)", r.ID, r.Status))
			}
			t.line("      and of the rows %s", strings.Join(others, ", "))
		}
	}
}

// same reports whether two findings tell the same.
func same(a, b finding.Finding) bool {
	return a.Topic == b.Topic && a.Rule == b.Rule && a.Outcome == b.Outcome && say.Same(a.Says, b.Says)
}

func (t *text) rule(f finding.Finding) {
	margin := ""
	if f.Margin.Known() {
		margin = " [margin " + f.Margin.Down() + "]"
	}
	t.line("    %s%s: %s%s", marked(f.Invented), outcome(f.Outcome), t.in.Summary(f), margin)
	if limit.OfEscorts(f.Rule) {
		return // its rows stand under the quantity itself
	}
	var steps []string
	for _, r := range f.Citations {
		if r.Tier == string(limit.Beyond) && !r.Decides {
			steps = append(steps, fmt.Sprintf("%s (%s, %s)", r.Published, r.ID, r.Status))
			continue
		}
		t.row(r)
	}
	if len(steps) > 0 {
		t.line("      further up the table has: %s", strings.Join(steps, "; "))
	}
}

func (t *text) row(r finding.Citation) {
	decides := "beside: "
	if r.Decides {
		decides = "decides: "
	}
	words := ""
	if t.in.Bearing(r) != "" {
		words = "; " + t.in.Bearing(r)
	}
	t.line("      %s%s%s (%s): %s%s", marked(r.Status == finding.Invented), decides, phrase.English().Figure(r), r.ID, origin(r), words)
}

// origin says where a row comes from, its status and when it was read.
func origin(r finding.Citation) string {
	parts := []string{r.Source}
	for _, s := range []string{r.Section, r.Year} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	read := "never read"
	if !r.ReadOn.IsZero() {
		read = "read " + r.ReadOn.Format(time.DateOnly)
	}
	return strings.Join(append(parts, string(r.Status), read), ", ")
}

func (t *text) structures() {
	any := false
	for i, l := range t.plan.Legs {
		for _, s := range l.Structures {
			any = true
			t.structure(fmt.Sprintf("leg %d, %s", i+1, s.At), s)
		}
	}
	for _, a := range t.plan.Avoided {
		for _, s := range a.Structures {
			any = true
			t.structure("avoided", s)
		}
	}
	for at, f := range t.plan.All() {
		if at.Leg == 0 && f.Topic == finding.Structure {
			any = true
			t.line("  %s%s: %s: %s. Ask %s.", marked(f.Invented), outcome(f.Outcome), t.in.Say(f.Place), t.in.Summary(f), t.in.Ask(f))
			for _, r := range f.Citations {
				t.row(r)
			}
		}
	}
	lacks := slices.Contains(t.plan.About.Lacks, network.Structures)
	switch {
	case !any && lacks:
		t.line("  none was given for this way, and the network knows none: what hangs over it is UNKNOWN")
	case lacks:
		t.line("  Only the structures that were given are listed; the network knows no others, which does not mean that there are none.")
	case !any:
		t.line("  the network has none over this way, which does not mean that there are none")
	default:
		t.line("  Those that were given and those that the network has are listed; there may be others.")
		var kinds []string
		for _, k := range network.OverheadKinds() {
			kinds = append(kinds, k.String())
		}
		t.line("  Below, those without a usable height come in this order of risk: %s.", strings.Join(kinds, ", "))
	}
}

func (t *text) structure(where string, s standing.Passing) {
	says := append(slices.Clone(s.Others), s.Sum(), s.Why)
	if s.Doubt.String() != s.Why.String() {
		says = append(says, s.Doubt)
	}
	read := "never read"
	if !s.ReadOn.IsZero() {
		read = "read " + s.ReadOn.Format(time.DateOnly)
	}
	ask := ""
	if len(s.Settles) > 0 {
		ask = ". Ask the office of " + codes(slices.DeleteFunc([]string{s.Jurisdiction}, func(c string) bool { return c == "" })) + " named below"
	}
	source := strings.TrimSuffix(s.Source+", "+s.Section, ", ")
	t.line("  %s%s: %s (%s), %s: %s [%s, %s, %s]%s", marked(s.Invented()), outcome(s.Outcome), s.Name, s.ID, where, t.in.All(says), source, s.Status, read, ask)
}

// onRoads writes what the signs of the roads ask for, each once, with the legs
// it stands on; unknowns are listed with the others.
func (t *text) onRoads() {
	any := false
	for at, f := range t.plan.All() {
		passed := f.Outcome == finding.Unknown || f.Outcome == finding.Clear
		if at.Leg == 0 || passed || ofLimits(f) || f.Topic == finding.Structure {
			continue
		}
		if !any {
			t.heading("Signs and roads")
			any = true
		}
		what := strings.TrimSpace(f.Rule + " " + t.in.Say(f.Place))
		t.line("  %s%s: %s, %s: %s. Ask %s.", marked(f.Invented), outcome(f.Outcome), what, about(at), t.in.Summary(f), t.in.Ask(f))
	}
}

// about says what of the plan a finding is about.
func about(at trip.Where) string {
	switch {
	case at.Rig:
		return "the rig on this way"
	case at.Leg > 0:
		return fmt.Sprintf("leg %d", at.Leg)
	default:
		return "trip"
	}
}

// whom is who is asked first, for comparison.
func whom(f finding.Finding) string {
	i := slices.IndexFunc(f.Settles, func(s finding.Step) bool { return !s.Whom.None() })
	if i < 0 {
		return ""
	}
	return f.Settles[i].Whom.String()
}

// at tells whether a place is this one.
func at(place say.Remark) func(say.Remark) bool {
	return func(other say.Remark) bool { return place.String() == other.String() }
}

// unknowns writes each unknown that is not about a limit once, with the legs
// it stands on.
func (t *text) unknowns() {
	type entry struct {
		f      finding.Finding
		places []say.Remark
		legs   []string
	}
	var list []entry
	add := func(f finding.Finding, leg string) {
		if f.Outcome != finding.Unknown || ofLimits(f) {
			return
		}
		for i := range list {
			e := &list[i]
			if alike := same(e.f, f) && whom(e.f) == whom(f); alike && (at(e.f.Place)(f.Place) || f.Topic == finding.Structure) {
				if !slices.ContainsFunc(e.places, at(f.Place)) {
					e.places = append(e.places, f.Place)
				}
				e.legs = append(e.legs, leg)
				return
			}
		}
		list = append(list, entry{f, []say.Remark{f.Place}, []string{leg}})
	}
	for at, f := range t.plan.All() {
		add(f, about(at))
	}
	for _, e := range list {
		what := strings.TrimSpace(e.f.Rule + " " + strings.Join(t.in.Each(e.places), ", "))
		t.line("  %sUNKNOWN %s (%s): %s. Ask %s.", marked(e.f.Invented), what, strings.Join(slices.Compact(e.legs), ", "), t.in.Summary(e.f), t.in.Ask(e.f))
	}
	t.limitsToAsk()
}

// limitsToAsk says of each jurisdiction which limits are unknown, and whom to ask
// about those that are not clear.
func (t *text) limitsToAsk() {
	t.line("  For every limit above that is not clear, ask:")
	var order []string
	ask, open := map[string]string{}, map[string][]string{}
	for _, f := range t.plan.All() {
		code := f.Jurisdiction
		if !ofLimits(f) || t.in.Ask(f) == "" {
			continue
		}
		if ask[code] == "" {
			order, ask[code] = append(order, code), t.in.Ask(f)
		}
		if name := strings.ReplaceAll(f.Rule, "_", " "); f.Outcome == finding.Unknown && !slices.Contains(open[code], name) {
			open[code] = append(open[code], name)
		}
	}
	for _, code := range order {
		line := fmt.Sprintf("    %s: %s", codes(slices.DeleteFunc([]string{code}, func(s string) bool { return s == "" })), ask[code])
		if len(open[code]) > 0 {
			line += "; UNKNOWN: " + strings.Join(open[code], ", ")
		}
		t.line("%s", line)
	}
}

func (t *text) demands(d finding.Demands) {
	lines := t.demandLines(d)
	if len(lines) == 0 {
		t.line("  No row asks for anything so far. The unknowns above may.")
	}
	for _, s := range lines {
		t.line("  - %s", s)
	}
}

// demandLines says what is demanded, a line each.
func (t *text) demandLines(d finding.Demands) []string {
	var lines []string
	lines = append(lines, t.in.Each(d.Permits)...)
	for _, e := range []struct {
		n     int
		where string
	}{{d.EscortsFront, "in front"}, {d.EscortsRear, "behind"}, {d.EscortsAny, "place not stated"}} {
		if e.n > 0 {
			lines = append(lines, fmt.Sprintf("escort vehicles, %s: %d", e.where, e.n))
		}
	}
	if d.HeightPole {
		lines = append(lines, "a height pole vehicle ahead")
	}
	if d.Survey {
		lines = append(lines, "a survey of the route")
	}
	for _, h := range t.in.Each(d.Hours) {
		lines = append(lines, "hours of travel: "+h)
	}
	for _, c := range t.in.Each(d.Conditions) {
		lines = append(lines, "a person must read this condition of a rule: "+c)
	}
	return lines
}

func (t *text) timeAndFuel() {
	p := t.plan
	t.line("  driving %s", duration(p.Time))
	if !p.Fuel.Unknown.None() {
		t.line("  fuel UNKNOWN: %s", t.in.Say(p.Fuel.Unknown))
	} else {
		t.line("  fuel %s to %s; drag, tires, air and climbs are not known well, so plan with the higher figure and a reserve", p.Fuel.Low, p.Fuel.High)
	}
	for i, l := range p.Legs {
		if !l.Fuel.Unknown.None() {
			t.line("    leg %d: %s, fuel UNKNOWN", i+1, duration(l.Time))
			continue
		}
		t.line("    leg %d: %s, fuel %s to %s", i+1, duration(l.Time), l.Fuel.Low, l.Fuel.High)
	}
}

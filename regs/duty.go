package regs

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Task is what a trip asks of a driver in one jurisdiction.
type Task struct {
	Jurisdiction string
	Use          limit.Use
	Unit, Rig    *measure.Mass // nil: not known
	AtLeast      bool          // both were worked out, not weighed: they may be more
	Driving      time.Duration // of the whole trip; 0: not known
	Line         orb.LineString
	At           time.Time
}

// Duty answers hours of driving, licence, brakes and inspection in one
// jurisdiction, by its own rows and those of its country. A row of a country
// binds, but never clears: what the jurisdiction asks beside it is not known.
// Nor does a row with a note, which a person must read.
//
// Hours are compared with the driving time of the whole trip alone: when the
// driver rests is not planned here.
func (t *Tables) Duty(task Task) []finding.Finding {
	var out []finding.Finding
	var missing []string
	for _, topic := range duty.Thresholds() {
		if found := t.threshold(task, topic); found != nil {
			out = append(out, *found)
		} else {
			missing = append(missing, string(topic))
		}
	}
	hours := t.driving(task)
	out = append(out, hours...)
	if len(hours) == 0 {
		missing = append(missing, "hours of driving")
	}
	if len(missing) > 0 {
		out = append(out, finding.Finding{
			Rule: "duty", Jurisdiction: task.Jurisdiction, Outcome: finding.Unknown, Ask: askDuty(task.Jurisdiction),
			Summary: fmt.Sprintf("the table has no row for %s %s", strings.Join(missing, ", "), in(task.Jurisdiction)),
		})
	}
	return out
}

// askDuty names whom to ask; permit offices do not answer for drivers.
func askDuty(code string) string {
	return "the offices of " + code + " for driver licences and for carrier safety"
}

// IsDuty tells whether a finding is about the driver or the making of the rig.
func IsDuty(f finding.Finding) bool {
	return f.Rule == "duty" || f.Rule == "hours of driving" || slices.Contains(duty.Thresholds(), duty.Topic(f.Rule))
}

// dutyRows lists the rows of a topic for a jurisdiction and for its country.
func (t *Tables) dutyRows(code string, topic duty.Topic) []*duty.Row {
	var out []*duty.Row
	for _, key := range slices.Compact([]string{code, code[:min(2, len(code))]}) {
		for _, r := range t.duty[key] {
			if r.Topic == topic {
				out = append(out, r)
			}
		}
	}
	return out
}

// canClear tells whether a row that does not bind settles that nothing is
// asked.
func (t *Tables) canClear(r *duty.Row, task Task) bool {
	return r.Firm(task.At, t.Term) && !rows.IsRival(r.ID, r.Status) && r.Jurisdiction == task.Jurisdiction && len(r.Jurisdiction) > 2 && r.Note == ""
}

func (task Task) asked() duty.Case {
	c := duty.Case{Use: task.Use, Unit: task.Unit, Rig: task.Rig, UnitAtLeast: task.AtLeast, RigAtLeast: task.AtLeast, MostNorth: 90, MostSouth: -90} // a way that is not known may be anywhere
	if len(task.Line) > 0 {
		c.MostNorth, c.MostSouth = -90, 90
	}
	if task.Rig == nil && task.Unit != nil {
		c.Rig, c.RigAtLeast = task.Unit, true
	}
	for _, p := range task.Line {
		c.MostNorth, c.MostSouth = max(c.MostNorth, p.Lat()), min(c.MostSouth, p.Lat())
	}
	return c
}

// threshold answers one topic of mass, nil where no row speaks of it.
func (t *Tables) threshold(task Task, topic duty.Topic) *finding.Finding {
	found := t.dutyRows(task.Jurisdiction, topic)
	if len(found) == 0 {
		return nil
	}
	f := finding.Finding{Rule: string(topic), Jurisdiction: task.Jurisdiction, Outcome: finding.Unknown, Ask: askDuty(task.Jurisdiction)}
	var said []string
	settled := true
	for _, r := range found {
		applies, hangs := r.Binds(task.asked())
		row := r.Finding(r.ID, t.Revision, published(r))
		row.Words, row.Decides = r.Note, applies == limit.Yes
		f.Citations = append(f.Citations, row)
		f.Invented = f.Invented || r.Status == finding.Invented
		settled = settled && t.canClear(r, task) && (r.Use == "" || r.Use == task.Use)
		switch {
		case applies == limit.No:
		case applies == limit.Yes || r.Firm(task.At, t.Term):
			f.Outcome = finding.Conditional
			f.Demands = f.Demands.Union(finding.Demands{Conditions: []say.Remark{say.Text(fmt.Sprintf("%s %s: %s", topic, in(task.Jurisdiction), r.Demand))}})
			said = append(said, strings.Join(append([]string{r.Demand}, hangs...), ", "))
		default:
			said = append(said, strings.Join(append([]string{"perhaps " + r.Demand}, hangs...), ", "))
		}
	}
	switch {
	case f.Outcome == finding.Conditional:
		f.Summary = fmt.Sprintf("%s: %s", topic, strings.Join(said, "; "))
	case settled && len(said) == 0:
		f.Outcome, f.Ask = finding.Clear, ""
		for i := range f.Citations { // that none of them binds is what clears
			f.Citations[i].Decides = true
		}
		f.Summary = fmt.Sprintf("%s: the rig is within the masses from which the table asks for more; the offices there decide", topic)
	default:
		f.Summary = strings.TrimSuffix(fmt.Sprintf("%s is not settled: no verified row clears it; %s", topic, strings.Join(said, "; ")), "; ")
	}
	return &f
}

func published(r *duty.Row) string {
	var out []string
	if r.UnitOver != nil {
		out = append(out, "unit over "+r.UnitOver.String())
	}
	if r.RigOver != nil {
		out = append(out, "rig over "+r.RigOver.String())
	}
	switch {
	case r.Free:
		out = append(out, "no hours")
	case r.Worded:
		out = append(out, "no mass named")
	case r.OfHours():
		out = append(out, fmt.Sprintf("%g h", r.Hours.Hours()))
	}
	if r.Days > 0 {
		out = append(out, fmt.Sprintf("in %d days", r.Days))
	}
	return strings.Join(out, ", ")
}

// driving answers the hours of driving, nil where no row speaks of them. Rows
// that surely do not bind are left out; that none binds is settled only where
// all of them may clear.
func (t *Tables) driving(task Task) []finding.Finding {
	f := finding.Finding{Rule: "hours of driving", Jurisdiction: task.Jurisdiction, Outcome: finding.Unknown, Ask: askDuty(task.Jurisdiction)}
	var bound []*duty.Row
	var on, freed []string
	var others, freeing []finding.Citation
	any, settled := false, true
	for _, topic := range duty.Hours() {
		for _, r := range t.dutyRows(task.Jurisdiction, topic) {
			any, settled = true, settled && t.canClear(r, task)
			applies, hangs := r.Binds(task.asked())
			row := r.Finding(r.ID, t.Revision, published(r))
			row.Words, row.Decides = r.Note, true
			if r.Free && applies != limit.No {
				freed = append(freed, strings.Join(append([]string{r.Demand}, hangs...), ", "))
				row.Decides = false
				freeing = append(freeing, row)
				continue
			}
			if applies == limit.No {
				others = append(others, row)
				continue
			}
			bound = append(bound, r)
			f.Citations = append(f.Citations, row)
			f.Invented = f.Invented || r.Status == finding.Invented
			for _, h := range hangs {
				if !slices.Contains(on, h) {
					on = append(on, h)
				}
			}
		}
	}
	switch {
	case !any:
		return nil
	case len(bound) > 0:
		f.Outcome = finding.Conditional
		f.Summary = task.bound(bound, on)
		f.Demands.Conditions = []say.Remark{say.Text(strings.Replace(f.Summary, "hours of driving", "hours of driving "+in(task.Jurisdiction), 1))}
	case settled:
		f.Outcome, f.Ask, f.Citations = finding.Clear, "", others // that none of them binds is what clears
		f.Invented = slices.ContainsFunc(others, func(r finding.Citation) bool { return r.Status == finding.Invented })
		f.Summary = "hours of driving: no row of the table binds such a rig; the offices there decide"
	default:
		f.Summary = strings.Join(append([]string{"hours of driving are not settled: no verified row of its own says that none bind such a rig"}, freed...), "; ")
		f.Citations = freeing
	}
	return []finding.Finding{f}
}

// bound says what rows of hours ask, and whether the trip is longer than one
// shift.
func (task Task) bound(found []*duty.Row, on []string) string {
	var said []string
	beyond := false
	for _, r := range found {
		said = append(said, r.Demand)
		beyond = beyond || r.Topic == duty.Driving && task.Driving > r.Hours
	}
	words := strings.Join(said, "; ")
	if len(on) > 0 {
		words = strings.Join(on, ", ") + ": " + words
	}
	switch {
	case task.Driving == 0:
		return "hours of driving: " + words + "; how long the trip takes is not known"
	case beyond:
		minutes := int(math.Ceil(task.Driving.Minutes()))
		return fmt.Sprintf("hours of driving: the trip needs %d h %02d min at the wheel, more than one shift; %s", minutes/60, minutes%60, words)
	}
	return "hours of driving: " + words
}

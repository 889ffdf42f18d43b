package standing

import (
	"fmt"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// access judges who may use a road. otherwise is what holds where no sign says
// anything.
//
// For each mode that the rig may be, the sign of the most specific mode counts;
// of several modes the strictest. A sign under a condition counts where it is
// stricter and the condition may hold on the way.
func (t *traveller) access(j *judgement, r network.Record, key judged, otherwise network.Word) {
	said := map[network.Word]network.Sign{}
	bases := make([]network.Sign, len(t.modes))
	for i, m := range t.modes {
		word, sign := r.Access(m, key.reverse, otherwise)
		bases[i], bases[i].Word = sign, word
		if _, known := said[word]; !known {
			said[word] = sign
		}
	}
	t.conditional(j, r, key, bases)
	t.hazmat(j, r, key.reverse)
	t.unread(j, r, key.reverse)
	for _, word := range []network.Word{network.Refused, network.Permission, network.Destination, network.Discouraged} {
		if sign, ok := said[word]; ok {
			j.word(word, fmt.Sprintf("access for %s", sign.For), sign.For, t.net.Text(sign.Text))
		}
	}
}

// word says what an access word means.
func (j *judgement) word(w network.Word, what string, whom network.Mode, text string) {
	switch w {
	case network.Refused:
		j.close("access", "the road is closed to "+whom.String(), text)
	case network.Permission:
		j.ends = true
		j.say(note{rule: "access", outcome: finding.Unknown, text: text, summary: what + " is by permission: whether you have it is not known"})
	case network.Destination:
		j.ends = true
		j.say(note{rule: "access", outcome: finding.Conditional, text: text, summary: what + " is only to or from a place on it",
			demands: finding.Demands{Conditions: []say.Remark{say.That("sign.ends_only")}}})
	case network.Discouraged:
		j.say(note{rule: "access", outcome: finding.Review, text: text, summary: what + " is discouraged; a person must decide"})
	}
}

// unread says which access signs are not understood, whatever others say.
func (t *traveller) unread(j *judgement, r network.Record, reverse bool) {
	for _, s := range r.Signs {
		if s.Subject == network.Access && s.Word == network.Unread && s.Bound.Binds(reverse) && (t.isFor(s.For) || s.For == network.Hazmat) {
			j.say(note{rule: "access", outcome: finding.Unknown, text: t.net.Text(s.Text),
				summary: fmt.Sprintf("access for %s is stated in words that are not understood", s.For)})
		}
	}
}

// conditional judges the signs that hold under a condition, where they are
// stricter than what holds without for a mode that they are for; bases has that
// for each mode.
func (t *traveller) conditional(j *judgement, r network.Record, key judged, bases []network.Sign) {
	for _, s := range r.Signs {
		if s.Subject != network.Access || s.When == 0 || s.Word == network.Unread || !s.Bound.Binds(key.reverse) {
			continue
		}
		stricter := false
		for i, m := range t.modes {
			// A sign of a more specific mode counts before one under a condition.
			chain := m.Chain()
			at, of := slices.Index(chain, s.For), slices.Index(chain, bases[i].For)
			stricter = stricter || s.Word > bases[i].Word && at >= 0 && (bases[i].Text == 0 || of < 0 || at <= of)
		}
		if stricter {
			j.say(t.atHours(j, s, key.zone))
		}
	}
}

// atHours judges one access sign under a condition.
func (t *traveller) atHours(j *judgement, s network.Sign, zone string) note {
	when, what := t.net.Text(s.When), fmt.Sprintf("access for %s is %s", s.For, s.Word)
	n := note{rule: "access at hours", text: t.net.Text(s.Text) + " @ (" + when + ")"}
	switch t.during(when, zone) {
	case window.Open:
		n.shuts = s.Word == network.Refused
		j.ends = j.ends || s.Word == network.Permission || s.Word == network.Destination
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", when)}}
		n.summary = what + " at hours that the trip may meet: " + when
	case window.Closed:
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", when)}}
		n.summary = what + " at other hours than those planned: " + when
	default:
		n.outcome, n.summary = finding.Unknown, what+" under a condition that could not be decided, or that a late trip may meet: "+when
	}
	if s.Word == network.Refused && t.sometime(when, zone) {
		j.hours, n.when = true, when
	}
	return n
}

// hazmat says what signs ask of those who carry hazardous goods: a unit with
// propane aboard may count among them.
func (t *traveller) hazmat(j *judgement, r network.Record, reverse bool) {
	if t.hazmatAboard == No {
		return
	}
	signs := slices.DeleteFunc(slices.Clone(r.Signs), func(s network.Sign) bool {
		return s.Subject != network.Access || s.For != network.Hazmat || s.Word <= network.Allowed || !s.Bound.Binds(reverse)
	})
	refused := slices.IndexFunc(signs, func(s network.Sign) bool { return s.Word == network.Refused && s.When == 0 })
	if refused >= 0 && t.hazmatAboard == Yes {
		j.shut = true
		j.say(note{rule: "hazardous goods", outcome: finding.Forbidden, text: t.net.Text(signs[refused].Text), summary: "the road is closed to hazardous goods", shuts: true})
		return
	}
	for _, s := range signs {
		if t.hazmatAboard == Yes {
			j.say(note{rule: "hazardous goods", outcome: finding.Unknown, text: t.net.Text(s.Text),
				summary: "hazardous goods are restricted: whether the rig may pass with them is not known"})
			return
		}
		j.say(note{rule: "hazardous goods", outcome: finding.Unknown, text: t.net.Text(s.Text),
			summary: "hazardous goods are restricted: whether propane aboard counts is not known; empty and secured cylinders may be asked for"})
		return
	}
}

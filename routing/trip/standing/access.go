package standing

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// access judges who of some modes may use a road. otherwise is what holds where no
// sign says anything.
//
// For each mode that the rig may be, the sign of the most specific mode counts;
// of several modes the strictest. A sign under a condition counts where it is
// stricter and the condition may hold on the way.
func (t *traveller) access(j *judgement, r network.Record, key judged, modes []network.Mode, otherwise network.Word) {
	said := map[network.Word]network.Sign{}
	bases := make([]network.Sign, len(modes))
	for i, m := range modes {
		word, sign := r.Access(m, key.reverse, otherwise)
		bases[i], bases[i].Word = sign, word
		if _, known := said[word]; !known {
			said[word] = sign
		}
	}
	t.conditional(j, r, key, modes, bases)
	t.unread(j, r, key.reverse, modes)
	for _, word := range []network.Word{network.Refused, network.Permission, network.Destination, network.Discouraged} {
		if sign, ok := said[word]; ok {
			j.word(word, sign.For, t.net.Text(sign.Text))
		}
	}
}

// word says what an access word means.
func (j *judgement) word(w network.Word, whom network.Mode, text string) {
	n := note{topic: finding.Sign, rule: "access", text: text}
	switch w {
	case network.Refused:
		j.close("access", say.That("access.closed", "mode", whom), text)
		return
	case network.Permission:
		j.ends = true
		n.outcome, n.reason, n.says = finding.Unknown, finding.NotGiven, say.That("access.by_permission", "mode", whom)
	case network.Destination:
		j.ends = true
		n.outcome, n.says = finding.Conditional, say.That("access.ends_only", "mode", whom)
		n.demands.Conditions = []say.Remark{say.That("sign.ends_only")}
	case network.Discouraged:
		n.outcome, n.reason, n.says = finding.Review, finding.Practice, say.That("access.discouraged", "mode", whom)
	}
	j.say(n)
}

// unread says which access signs are not understood, whatever others say.
func (t *traveller) unread(j *judgement, r network.Record, reverse bool, modes []network.Mode) {
	for _, s := range r.Signs {
		if s.Subject == network.Access && s.Word == network.Unread && s.Bound.Binds(reverse) &&
			(isFor(modes, s.For) || s.For == network.Hazmat) {
			j.say(note{
				topic: finding.Sign, rule: "access", outcome: finding.Unknown, reason: finding.ToRead, text: t.net.Text(s.Text),
				says: say.That("access.not_understood", "mode", s.For),
			})
		}
	}
}

// conditional judges the signs that hold under a condition, where they are
// stricter than what holds without for a mode that they are for; bases has that
// for each mode.
func (t *traveller) conditional(j *judgement, r network.Record, key judged, modes []network.Mode,
	bases []network.Sign) {
	for _, s := range r.Signs {
		if s.Subject != network.Access || s.When == 0 || s.Word == network.Unread || !s.Bound.Binds(key.reverse) {
			continue
		}
		stricter := false
		for i, m := range modes {
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
	when := t.net.Text(s.When)
	says := window.ParseCondition(when).Says()
	n := note{
		topic: finding.Sign, rule: "access at hours", text: t.net.Text(s.Text) + " @ (" + when + ")",
		outcome: finding.Conditional,
		demands: finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", says)}},
	}
	switch t.during(when, zone) {
	case window.Open:
		n.shuts = s.Word == network.Refused
		j.ends = j.ends || s.Word == network.Permission || s.Word == network.Destination
		n.says = say.That("access.at_hours_met", "mode", s.For, "word", s.Word, "when", says)
	case window.Closed:
		n.says = say.That("access.at_other_hours", "mode", s.For, "word", s.Word, "when", says)
	default:
		n.outcome, n.reason, n.demands = finding.Unknown, finding.TimeOpen, finding.Demands{}
		n.says = say.That("access.at_hours_open", "mode", s.For, "word", s.Word, "when", says)
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
	n := note{topic: finding.Sign, rule: "hazardous goods", outcome: finding.Unknown, reason: finding.NotGiven}
	refused := slices.IndexFunc(signs, func(s network.Sign) bool { return s.Word == network.Refused && s.When == 0 })
	switch {
	case len(signs) == 0:
		return
	case refused >= 0 && t.hazmatAboard == Yes:
		j.shut = true
		n.outcome, n.reason, n.text, n.shuts = finding.Forbidden, finding.Exceeded, t.net.Text(signs[refused].Text), true
		n.says = say.That("hazmat.closed")
	case t.hazmatAboard == Yes:
		n.reason, n.text, n.says = finding.ToRead, t.net.Text(signs[0].Text), say.That("hazmat.restricted")
	default:
		n.text, n.says = t.net.Text(signs[0].Text), say.That("hazmat.propane")
	}
	j.say(n)
}

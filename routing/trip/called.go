package trip

import "wayhouse/regs/say"

// StopCalled is what a stop of the timetable is called. The ends of a given line are those of
// the legs.
func (p *Plan) StopCalled(stop int) say.Remark {
	label := p.Timetable.Journey.Stops[stop].Label
	switch {
	case len(p.Legs) == 0:
		return label
	case stop == 0:
		return say.Or(label, p.Legs[0].From)
	default:
		return say.Or(label, p.Legs[len(p.Legs)-1].To)
	}
}

package trip

import "wayhouse/regs/say"

// StopCalled is what a stop of the timetable is called. The ends of a given line are those of
// the legs.
func (p *Plan) StopCalled(stop int) say.Remark {
	label := p.Timetable.Journey.Stops[stop].Label
	from, to := p.Ends()
	if stop == 0 {
		return say.Or(label, from)
	}
	return say.Or(label, to)
}

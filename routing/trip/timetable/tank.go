package timetable

import (
	"slices"
	"sort"

	"wayhouse/regs/measure"
)

// Burnt is what is gone of a tank after a part of a section.
type Burnt struct {
	Way   measure.Distance // from where the section begins
	Share float64          // of what the tank holds above its reserve, at the worst; it may be above 1
}

// Burnt is the share of a tank that is gone after a part of a section; between two places that
// are known it grows evenly.
func (s Section) Burnt(way measure.Distance) float64 {
	i := sort.Search(len(s.Burns), func(i int) bool { return s.Burns[i].Way >= way })
	switch {
	case len(s.Burns) == 0 || way <= 0:
		return 0
	case i == len(s.Burns):
		return s.Burns[i-1].Share
	}
	var before Burnt
	if i > 0 {
		before = s.Burns[i-1]
	}
	of := s.Burns[i]
	return before.Share + (of.Share-before.Share)*float64((way-before.Way)/max(of.Way-before.Way, 1e-9))
}

// alike is within what shares of a tank are one: sums of many sections are no more exact.
const alike = 1e-9

// dry reports whether the tank, which was driven on since it was filled, does not last for
// another minute of a section.
func (p *pacer) dry(s Section, done minutes, each float64) bool {
	at := func(m minutes) float64 { return s.Burnt(measure.Distance(each * float64(m))) }
	return p.tanks && p.tank < 1 && at(done+1)-at(done) > p.tank+alike
}

// lasts are the minutes of a section, of those that are left of it, that the tank lasts for, at
// least one: no tank is filled more often, however small it is.
func (p *pacer) lasts(s Section, done, left minutes, each float64) minutes {
	if !p.tanks {
		return left
	}
	gone := s.Burnt(measure.Distance(each * float64(done)))
	down := sort.Search(int(left), func(m int) bool {
		return s.Burnt(measure.Distance(each*float64(done+minutes(m)+1)))-gone > p.tank+alike
	})
	return max(minutes(down), 1)
}

// fill takes fuel: the tank is full again, and the way until the next time begins.
func (p *pacer) fill(here step) {
	h := p.journey.Habits
	p.fuel, p.tank = until(Interval{Way: h.FuelEvery}, h.Fuel), 1
	p.standing(here, Fuel, up(h.Fuel))
}

// Burns reports whether what all the driving takes of a tank is known. Where it is not wholly
// known, nothing is filled up by it.
func (j *Journey) Burns() bool {
	return !slices.ContainsFunc(j.Drives, func(d Drive) bool {
		return slices.ContainsFunc(d, func(s Section) bool { return !s.Ferry && s.Length > 0 && len(s.Burns) == 0 })
	})
}

// BurnsAfter is what is gone of a tank along what of a section lies beyond a part of it.
func (s Section) BurnsAfter(way measure.Distance) (out []Burnt) {
	gone := s.Burnt(way)
	for i, b := range s.Burns {
		if b.Way > way || i == len(s.Burns)-1 {
			out = append(out, Burnt{max(b.Way-way, 0), max(b.Share-gone, 0)})
		}
	}
	return out
}

package drive

import "wayhouse/regs/measure"

// Descent is a long way down.
type Descent struct {
	At     measure.Distance // where it begins
	Length measure.Distance
	Drop   measure.Distance
	Grade  float64 // mean, positive
}

// steep is from which grade on a section counts as a descent, and level how long a
// rest from it may be: this project's choices.
const (
	steep = 0.03
	level = 100 // m
	// longDrop is from which drop on a descent of less than 5 % is long, this
	// project's choice.
	longDrop = 150 // m
)

// hills are grades with the length from which on a sign for trucks stands (Manual
// on Uniform Traffic Control Devices, 2009, section 2C.16: 5 % for 3,000 ft, 6 %
// for 2,000, 7 % for 1,000, 8 % for 750, 9 % for 500; from memory).
var hills = [...]struct {
	grade  float64
	length measure.Distance
}{
	{0.09, 500 * 0.3048}, {0.08, 750 * 0.3048}, {0.07, 1000 * 0.3048}, {0.06, 2000 * 0.3048}, {0.05, 3000 * 0.3048},
}

// slack keeps the rounding of a sum of sections from hiding one that is just long
// enough.
const slack = 1 - 1e-9

// long reports whether a descent is worth a caution.
func (d Descent) long() bool {
	for _, h := range hills {
		if d.Grade >= h.grade*slack && d.Length >= h.length*slack {
			return true
		}
	}
	return d.Drop >= longDrop*slack
}

// runs measures how far a way has been going down at each grade of hills or more,
// so that a gentle end does not hide a steep beginning from the mean.
type runs [len(hills)]measure.Distance

// add takes in a section and reports whether one has become long.
func (r *runs) add(s Section) (long bool) {
	for i, h := range hills {
		if -s.Grade < h.grade*slack {
			r[i] = 0
			continue
		}
		r[i] += s.Length
		long = long || r[i] >= h.length*slack
	}
	return long
}

// Descents lists the long descents of a way: sections of 3 % and more, with less
// than 100 m of rest between them, long by their mean grade or by a part of them
// that alone is steep enough.
func Descents(sections []Section) []Descent {
	var out []Descent
	var d Descent
	var at, rest measure.Distance // rest: since the last steep section
	var restDrop measure.Distance
	var steeper runs
	var part bool // a part alone is long
	flush := func() {
		if d.Length > 0 {
			if d.Grade = float64(d.Drop / d.Length); d.long() || part {
				out = append(out, d)
			}
		}
		d, rest, restDrop, part = Descent{}, 0, 0, false
	}
	for _, s := range sections {
		drop := -measure.Distance(s.Grade) * s.Length
		part = steeper.add(s) || part
		switch {
		case s.Grade <= -steep:
			if d.Length == 0 {
				d.At = at
			}
			d.Length += rest + s.Length
			d.Drop += restDrop + drop
			rest, restDrop = 0, 0
		case d.Length > 0:
			rest += s.Length
			restDrop += drop
			if rest >= level {
				flush()
			}
		}
		at += s.Length
	}
	flush()
	return out
}

// Brakes is what engine and brakes have to take on a descent at a speed: the energy
// in joules, and the power that it takes to hold the speed. The low end of what
// resists counts and the high end of the mass.
func (v Vehicle) Brakes(d Descent, w Weather, speed measure.Speed) (joules float64, power measure.Power) {
	var p place
	for c := range p {
		p[c] = -1
	}
	copy(p[:], v.Learnt.least())
	p[ByMass] = 1
	low := v.at(p, Weather{Air: w.Air})
	air, rolling, grade := low.against(Section{Length: d.Length, Grade: -d.Grade, Surface: Paved},
		Exactly(float64(speed*speed)), speed)
	force := max(-float64(air+rolling+grade), 0)
	return force * float64(d.Length), measure.Power(force * float64(speed))
}

package rig

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// Distribution is a hitch whose bars lever some of what rests on a ball onto the first
// axle of the tow vehicle and the axles of the unit. What is nil is not known.
type Distribution struct {
	Vertical, Towed *measure.Mass // its ratings
	// Returns is the share of what the coupling takes off the first axle that the bars
	// give back to it, as they are set.
	Returns *float64
}

// setting is how much bars return that nobody measured: nothing where they hang slack; a
// maker of such hitches asks for 50 to 100 % (an installation manual, step 7, read in
// part), and more than all is refused by the makers' test of 2008, SAE J2807 (a letter of
// a member of its committee, read).
var setting = Shares{Low: 0, Likely: 0.5, High: 1}

// Bars is what the bars of a hitch move.
type Bars struct {
	Returned Shares
	ToFirst  Estimate // onto the first axle of the tow vehicle
	ToUnit   Estimate // onto the axles of the unit
	Moment   float64  // newton metres that the bars transmit, as is likely
}

// leverage is where what bars move goes, as shares of what rests on the ball.
type leverage struct{ first, unit float64 }

// bars moves what rests on a ball by the bars of the hitch. With a moment M that they
// transmit, W on the ball b behind the middle of the rear axles, a wheelbase B, and the
// unit's axles L behind the ball, the unit's axles take M/L more, the first axle of the
// tow vehicle (M (1 + b/L) - W b) / B, and the rear axles the rest: a free body of each
// vehicle, worked out here. Bars that return a share f of the W b / B that the ball takes
// off the first axle transmit f W b / (1 + b/L).
func (s *Statics) bars(r Rig) {
	d, t, u := r.Tow.Truck.Distribution, r.Tow.Truck, r.Unit.Frame
	w, ok := s.Coupling.Value()
	if d == nil || !ok || w.Low < 0 || len(s.Tow) < 2 || len(s.Axles) == 0 || *t.CouplingAt <= rearOf(t) {
		return
	}
	arm := (*t.CouplingAt - rearOf(t)).Metres()
	long := axlesAt(u.Axles).Metres() / float64(len(u.Axles))
	of, f := leverage{arm / rearOf(t).Metres(), arm / (long + arm)}, setting
	if d.Returns != nil {
		f = Shares{*d.Returns, *d.Returns, *d.Returns}
	}
	s.Bars = &Bars{f, of.both(w, f, leverage.toFirst), of.both(w, f, leverage.toUnit), 0}
	s.Bars.Moment = s.Bars.ToUnit.Likely.Kilograms() * drive.Gravity * long
	s.barred(w, f, of)
}

func (l leverage) toFirst(w measure.Mass, f float64) measure.Mass { return times(f*l.first, w) }
func (l leverage) toUnit(w measure.Mass, f float64) measure.Mass  { return times(f*l.unit, w) }

// both are the ends of what is moved: most where most rests and most is returned.
func (l leverage) both(w Estimate, f Shares, moved func(leverage, measure.Mass, float64) measure.Mass) Estimate {
	return Estimate{moved(l, w.Low, f.Low), moved(l, w.Likely, f.Likely), moved(l, w.High, f.High)}
}

// barred puts what the bars move onto the axles. The first axle carries least where most
// rests on the ball and least is returned, the rear axles most.
func (s *Statics) barred(w Estimate, f Shares, of leverage) {
	first := s.Tow[0]
	s.Tow[0] = Estimate{
		first.Low + of.toFirst(w.High, f.Low), first.Likely + s.Bars.ToFirst.Likely, first.High + of.toFirst(w.Low, f.High),
	}
	n := len(s.Tow) - 1
	off := func(w measure.Mass, f float64) []measure.Mass { return share(of.toFirst(w, f)+of.toUnit(w, f), n) }
	low, likely, high := off(w.Low, f.High), off(w.Likely, f.Likely), off(w.High, f.Low)
	for i, rear := range s.Tow[1:] {
		s.Tow[i+1] = Estimate{rear.Low - low[i], rear.Likely - likely[i], rear.High - high[i]}
	}
	on, n := s.Bars.ToUnit, len(s.Axles)
	low, likely, high = share(on.Low, n), share(on.Likely, n), share(on.High, n)
	for i, axle := range s.Axles {
		s.Axles[i] = axle.Add(Estimate{low[i], likely[i], high[i]})
	}
	if gross, ok := s.TowGross.Value(); ok {
		s.TowGross = measure.Exactly(Estimate{
			gross.Low - of.toUnit(w.Low, f.High), gross.Likely - on.Likely, gross.High - of.toUnit(w.High, f.Low),
		})
	}
}

// times is a share of a mass, to the nearest unit.
func times(share float64, m measure.Mass) measure.Mass {
	return measure.Mass(math.Round(share * float64(m)))
}

package rig

import (
	"testing"

	"wayhouse/regs/measure"
)

const inch = 0.0254

// L. Vendrell, a mechanical engineer, on a calculator of tongue weight (Trailer/Body
// Builders, report of a presentation, read): ball to suspension 100 in, load 88 in behind
// the ball, the empty trailer 800 lb with 80 lb on the ball, 2,500 lb gross: 284 lb. (The
// page prints 11.86 % of it; 284 of 2,500 are 11.36.)
func TestTongueWeightOfACalculator(t *testing.T) {
	u := unitOf(Equalized, []float64{100 * inch},
		part("trailer", lb(800), 90*inch), // 80 lb of 800 on the ball
		part("load", lb(1700), 88*inch))
	s := balance(t, u, Tow{})
	near(t, "on the ball, lb", float64(of(s.Coupling).Likely)/float64(measure.Pound), 284, 0.01)
	near(t, "share", s.Share.Likely, 0.1136, 1e-5)
}

// An owner's forum on what a rack behind the bumper does (read): 100 lb 10 ft behind the
// axles of a trailer of 3,800 lb whose ball is 12 ft ahead of them take 83.3 of 400 lb off
// it: 316.7 lb.
func TestTongueWeightWithARack(t *testing.T) {
	const foot = 12 * inch
	u := unitOf(Equalized, []float64{12 * foot},
		part("trailer", lb(3800), 12*foot*(1-400.0/3800)), part("rack", lb(100), 22*foot))
	s := balance(t, u, Tow{})
	near(t, "on the ball, lb", float64(of(s.Coupling).Likely)/float64(measure.Pound), 316.7, 0.05)
}

// A maker of axles on where to put them, first example (read): 1,025 lb on the coupling,
// 7,200 lb on the axles 264 in behind it. It moves them 6.5 in forward to leave 10 % of
// 8,225 lb; the balance of moments has 843 lb there, 10.25 %: its rule leaves out that the
// axles themselves come nearer.
func TestTongueWeightOfMovedAxles(t *testing.T) {
	centre := 264 * inch * 7200 / 8225
	for name, tc := range map[string]struct{ axles, pounds, share, within float64 }{
		"as it was": {264, 1025, 0.1246, 0.5}, "moved": {257.5, 843, 0.1025, 0.5},
	} {
		s := balance(t, unitOf(Equalized, []float64{tc.axles * inch}, part("all", lb(8225), centre)), Tow{})
		near(t, name+", lb", float64(of(s.Coupling).Likely)/float64(measure.Pound), tc.pounds, tc.within)
		near(t, name+", share", s.Share.Likely, tc.share, 0.0001)
	}
}

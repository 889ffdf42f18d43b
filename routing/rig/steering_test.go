package rig

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// Worked by hand: 1,000 kg on a ball 1.2 m behind the rear axle of a 4 m wheelbase take
// 300 of 2,000 kg off the first axle; 1,700 of 4,500 kg are left on it.
func TestSteeringByHand(t *testing.T) {
	u := unitOf(Equalized, []float64{6}, part("all", 2000*measure.Kilogram, 3))
	r, _ := Assemble(u, truck(2000*measure.Kilogram, 1500*measure.Kilogram, 4, 5.2), Overall{}, "")
	k, ok := r.Steering(r.Statics()).Value()
	if !ok {
		t.Fatal("not known")
	}
	near(t, "remains", k.Remains.Likely, 0.85, 1e-9)
	near(t, "share", k.Share.Likely, 1700.0/4500, 1e-9)
	if f := r.steers(r.Statics()); f.Outcome != finding.Unknown || f.Reason != finding.NotMeasured {
		t.Errorf("masses that nobody weighed: %+v", f)
	}
}

// Below 20 % of the tow vehicle on its first axle (Commission Regulation (EU) No
// 1230/2012, annex I, on the mass on steering axles, read in part) a person must look,
// and what was weighed above it is settled.
func TestSteersBy20Percent(t *testing.T) {
	for name, tc := range map[string]struct {
		front measure.Mass
		want  finding.Outcome
	}{"19.9 %": {995 * measure.Kilogram, finding.Review}, "20.1 %": {1005 * measure.Kilogram, finding.Clear}} {
		u := unitOf(Equalized, []float64{6}, part("all", 4000*measure.Kilogram, 5))
		tow := truck(2000*measure.Kilogram, 1500*measure.Kilogram, 4, 5.2)
		load := func(at float64, m measure.Mass) limit.AxleLoad {
			return limit.AxleLoad{At: measure.Length(at * float64(measure.Metre)), Mass: measure.Exactly(m)}
		}
		r, err := Assemble(u, tow, Overall{Loads: []limit.AxleLoad{
			load(0, tc.front), load(4, 5000*measure.Kilogram-tc.front), load(11.2, 3333*measure.Kilogram),
		}}, "")
		if err != nil {
			t.Fatal(err)
		}
		if f := r.steers(r.Statics()); f.Outcome != tc.want {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

// Whatever the parts weigh within their ends, what the first axle keeps and its share of
// the tow vehicle lie within theirs.
func TestSteeringEndsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		u.Coupling = Ball
		tow := truck(2400*measure.Kilogram, 1600*measure.Kilogram, 4, rapid.Float64Range(3.6, 6).Draw(t, "coupling"))
		wide := (Rig{Unit: u, Tow: tow})
		wide.Tow.Mass = mass(4000)
		all, ok := wide.Steering(wide.Statics()).Value()
		if !ok {
			return
		}
		for i := range u.Parts {
			m := u.Parts[i].Mass
			u.Parts[i].Mass = Exactly(measure.Mass(rapid.Int64Range(int64(m.Low), int64(m.High)).Draw(t, "mass")))
		}
		one := Rig{Unit: u, Tow: wide.Tow}
		k, ok := one.Steering(one.Statics()).Value()
		if !ok {
			return
		}
		for name, v := range map[string][2]Shares{"remains": {k.Remains, all.Remains}, "share": {k.Share, all.Share}} {
			if is, of := v[0].Likely, v[1]; is < of.Low-1e-9 || is > of.High+1e-9 {
				t.Fatalf("%s: %v is not within %+v", name, is, of)
			}
		}
	})
}

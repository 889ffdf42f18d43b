package api_test

import (
	"net/http"
	"strings"
	"testing"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// axleOf is a running gear of one axle.
func axleOf(fields object) []object {
	axle := object{"behind_coupling": "6 m"}
	for k, v := range fields {
		axle[k] = v
	}
	return []object{axle}
}

// Ontario's 2.6 m is of the vehicle (Official MTO Truck Handbook, ch. III): a house of
// 2.44 m on tires of 2.685 m is beyond it, however its tires are described.
func TestAHouseOnWiderTiresIsAsWideAsThose(t *testing.T) {
	for name, gear := range map[string]object{
		"track and tires": {"track": "2.45 m", "tire_width": "235 mm"}, "numbers": {"track_m": 2.45, "tire_width_m": 0.235},
		"measured": {"over_tires": "2.685 m"}, "a number, measured": {"over_tires_m": 2.685},
	} {
		unit := object{"kind": "recreational_trailer", "width": "2.44 m", "running_gear": axleOf(gear)}
		f := answerTo(t, checks(t, checkOf(unit)), "CA-ON", limit.Width).Findings[0]
		if f.Outcome != finding.Conditional || !strings.HasPrefix(f.Value, "2.685 m") {
			t.Errorf("%s: %s for %q", name, f.Outcome, f.Value)
		}
	}
	outline := []object{{"from": "-0.3 m", "to": "8 m", "left": "1.22 m", "right": "1.22 m", "bottom": "0.5 m", "top": "4 m"}}
	f := answerTo(t, checks(t, checkOf(object{"kind": "recreational_trailer", "outline": outline})), "CA-ON", limit.Width).Findings[0]
	if f.Outcome != finding.Unknown || !strings.HasPrefix(f.Value, "at least 2.44 m") {
		t.Errorf("tires not described: %s for %q: %s", f.Outcome, f.Value, f.Summary)
	}
	got := reported(t, object{"unit": object{"width": "2.44 m", "running_gear": axleOf(object{"over_tires": "2.685 m"})}}).Rig.UnitM
	if got.WidthM == nil || *got.WidthM != 2.685 || got.HouseM == nil || *got.HouseM != 2.44 || got.LeastM != nil {
		t.Errorf("%+v", got)
	}
}

// What is given of a load is never taken for its trailer.
func TestALoadIsNotItsTrailer(t *testing.T) {
	load := object{"kind": "load_on_trailer", "height": "4 m", "width": "2.5 m", "length": "9 m", "mass": "8 t", "coupling_to_rear": "10 m"}
	tow := object{"tow": object{"height": "3 m", "width": "2.4 m", "front_to_coupling": "6 m", "mass": "7 t"}}
	ask := func(trailer object) map[limit.Quantity]wire.Finding {
		if trailer != nil {
			load["trailer"] = trailer
		}
		d := checks(t, checkOf(load, tow))
		out := map[limit.Quantity]wire.Finding{}
		for _, a := range d.Answers {
			out[a.Quantity] = a.Findings[0]
		}
		return out
	}
	for q, want := range map[limit.Quantity]string{limit.TrailerLength: "", limit.Width: "at least 2.5 m", limit.GrossMass: "at least 15,000 kg", limit.CombinationLength: "16 m", limit.Height: "4 m"} {
		f := ask(nil)[q]
		if !strings.HasPrefix(f.Value, want) || want == "" && f.Value != "" || f.Outcome == finding.Clear && strings.HasPrefix(want, "at least") {
			t.Errorf("%s: %s for %q, want %q", q, f.Outcome, f.Value, want)
		}
	}
	for q, want := range map[limit.Quantity]string{limit.TrailerLength: "9.6 m", limit.Width: "2.6 m", limit.GrossMass: "17,500 kg"} {
		if f := ask(object{"length": "9.6 m", "width": "2.6 m", "mass_kg": 2500})[q]; !strings.HasPrefix(f.Value, want) {
			t.Errorf("with its trailer, %s: %q, want %q", q, f.Value, want)
		}
	}
	got := reported(t, object{"unit": load}).Rig
	if got.Load == nil || *got.Load.LengthM != 9 || got.Trailer == nil || *got.Trailer.MassKG != 2500 || *got.UnitM.MassKG != 10500 {
		t.Errorf("%+v", got)
	}
}

func TestRefusesTrailersAndTires(t *testing.T) {
	for name, tc := range map[string]struct {
		unit object
		want entry
	}{
		"no load on it":       {object{"trailer": object{"length": "9 m"}}, entry{"unit.trailer", "kind not given", "trailer of its own size", "load_on_trailer"}},
		"a bare number":       {object{"kind": "load_on_trailer", "trailer": object{"width": 2.5}}, entry{"unit.trailer.width", "2.5", "a number without a unit", "width_m"}},
		"absurd":              {object{"kind": "load_on_trailer", "trailer": object{"length": "90 m"}}, entry{"unit.trailer.length", "90 m", "outside 2 m (≈ 6 ft 6 3/4 in) to 40 m (≈ 131 ft 2 13/16 in)", "check the figure"}},
		"twice":               {object{"running_gear": axleOf(object{"over_tires": "2.5 m", "over_tires_m": 2.5})}, entry{"unit.running_gear[0].over_tires", "", "twice", "one"}},
		"less than the track": {object{"running_gear": axleOf(object{"over_tires": "2 m", "track": "2.1 m"})}, entry{"unit.running_gear[0].over_tires", "2 m", "no more than", "check the figure"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/rigs", text(object{"unit": tc.unit})), http.StatusUnprocessableEntity, tc.want)
		})
	}
}

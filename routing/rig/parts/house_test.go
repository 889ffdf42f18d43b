package parts

import "testing"

// What a house on wheels is furnished with and built of, each by what it is asked for: at
// least one entry answers to it. The list is the one of the requirements of this project.
func TestWhatAHouseHas(t *testing.T) {
	c := shipped(t)
	for what, ids := range map[string][]string{
		"solar": {"solar-panel"}, "batteries": {"battery-lfp-5kwh", "battery-lead-100ah"},
		"toilet": {"toilet-flush", "toilet-composting"}, "shower": {"shower-fibreglass"},
		"sink": {"sink-kitchen", "sink-bath"}, "counter": {"worktop-laminate", "worktop-wood"}, "sofa": {"sofa"},
		"stairs": {"stairs-storage"}, "insulated panels": {"sip-114mm", "sip-165mm"},
		"steel-stud walls":     {"wall-steel-92", "partition-steel-92"},
		"water and grey tanks": {"tank-water-plastic-per-100l", "water", "waste-water"},
	} {
		for _, id := range ids {
			if e := part(t, c, id); e.Low <= 0 || e.Typical < e.Low || e.High < e.Typical || e.Note == "" {
				t.Errorf("%s: %+v", what, e)
			}
		}
	}
}

// Design loads are a named high end, never the likely one: whatever has layers and a
// printed load is likely to weigh less than that, by its layers.
func TestDesignLoadsAreTheHighEnd(t *testing.T) {
	designed := 0
	for _, e := range shipped(t).All() {
		if e.Layers == "" || e.Published == "" {
			continue
		}
		designed++
		if e.Typical >= e.High || e.Low >= e.Typical {
			t.Errorf("%s: %v to %v, likely %v", e.ID, e.Low, e.High, e.Typical)
		}
	}
	if designed < 10 {
		t.Errorf("%d", designed)
	}
	// 22.5 kg/m2 of a metal roof by its own layers, as the requirements have it, where
	// 68 is what it is designed for.
	if likely := part(t, shipped(t), "roof-metal-built").Typical.Kilograms(); likely < 18 || likely > 27 {
		t.Errorf("a metal roof as built: %v kg/m2", likely)
	}
}

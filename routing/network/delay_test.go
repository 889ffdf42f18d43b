package network_test

import (
	"encoding/binary"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// delayed is two roads of about 1.1 km in a row, the first with signals.
func delayed(t *testing.T) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	at := []orb.Point{{-75, 39}, {-75, 39.01}, {-75, 39.02}}
	for _, p := range at {
		b.Node(p)
	}
	for i := range at[1:] {
		if _, err := b.Edge(network.Edge{
			From: network.NodeID(i), To: network.NodeID(i + 1), Line: at[i : i+2], Class: network.Primary,
			Speed: 80 * measure.KilometrePerHour,
		}); err != nil {
			t.Fatal(err)
		}
	}
	b.Graph()
	signals := network.Delay{Signals: 1}
	signals.Set(20*time.Second, 40*time.Second)
	b.Slow(0, 50*measure.KilometrePerHour, signals, network.Delay{})
	b.Mark(0, network.BuiltUp)
	n, err := b.Finish(network.About{Name: "signals for tests", Caution: "for tests only", Carries: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// A network file keeps what delays traffic; a part of an arc has its share, and the
// time that searches reckon with holds the likely delay.
func TestDelays(t *testing.T) {
	made := delayed(t)
	n, err := network.Read(write(t, made))
	if err != nil {
		t.Fatal(err)
	}
	if err := n.Verify(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		arc          network.Arc
		part         measure.Distance
		likely, slow time.Duration
		signals      int
	}{
		{0, 1, 20 * time.Second, 40 * time.Second, 1}, {0, 0.5, 10 * time.Second, 20 * time.Second, 1}, {0, 0, 0, 0, 1},
		{1, 1, 0, 0, 0}, {2, 1, 0, 0, 0}, {3, 1, 0, 0, 0},
	} {
		p := n.Whole(tc.arc)
		p.End *= tc.part
		likely, slow := n.Delay(p)
		signals, stops := n.Controls(tc.arc)
		if likely != tc.likely || slow != tc.slow || signals != tc.signals || stops != 0 {
			t.Errorf("%v of arc %d: %v, %v slow, %d signals, %d stops", tc.part, tc.arc, likely, slow, signals, stops)
		}
		v, _ := n.Speed(tc.arc.Edge())
		want := time.Duration(float64(p.Length())/float64(v)*float64(time.Second)) + tc.likely
		if got := time.Duration(n.Millis(p, 0)) * time.Millisecond; got > want || want-got > time.Millisecond {
			t.Errorf("%v of arc %d takes %v, want %v", tc.part, tc.arc, got, want)
		}
	}
	if f := n.Record(n.RoadID(0)).Flags; !f.Has(network.BuiltUp) || n.Record(n.RoadID(1)).Flags.Has(network.BuiltUp) {
		t.Error("the built-up road is not marked, or the other is")
	}
	if err := n.Prepare(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	if err := n.Verify(t.Context(), nil); err != nil {
		t.Error(err)
	}
}

// Delays of other arcs than the file has roads are refused.
func TestDelaysOfOtherArcs(t *testing.T) {
	raw := write(t, delayed(t))
	i, row := rowOf(t, raw, "delay")
	binary.LittleEndian.PutUint64(raw[headBytes+i*rowBytes+24:], row.size/4*2) // what is left out is zero, as padding is
	repair(raw)
	_, err := network.Read(raw)
	if err == nil || !strings.Contains(err.Error(), "column \"delay\"") {
		t.Errorf("%v", err)
	}
}

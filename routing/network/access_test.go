package network

import (
	"slices"
	"testing"
)

func access(of Mode, w Word) Sign { return Sign{Subject: Access, For: of, Word: w} }

// The most specific sign counts, one of this direction before one of both, and of
// several alike the strictest. Signs under a condition and words that are not
// understood are judged elsewhere.
func TestRecordAccess(t *testing.T) {
	bound := func(s Sign, b Bound) Sign { s.Bound = b; return s }
	when := func(s Sign) Sign { s.When = 1; return s }
	for _, tc := range []struct {
		name    string
		signs   []Sign
		mode    Mode
		reverse bool
		want    Word
	}{
		{"nothing said", nil, Motorcars, false, Discouraged}, // what the test gives for nothing said
		{"for everyone", []Sign{access(Everyone, Refused)}, Motorcars, false, Refused},
		{"the more specific one, milder", []Sign{access(Everyone, Refused), access(Motorcars, Allowed)}, Motorcars, false, Allowed},
		{"the more specific one, stricter", []Sign{access(Motorcars, Permission), access(Everyone, Allowed)}, Motorcars, false, Permission},
		{"for others", []Sign{access(HeavyGoods, Refused)}, Motorcars, false, Discouraged},
		{"for what is narrower", []Sign{access(Articulated, Refused)}, HeavyGoods, false, Discouraged},
		{"two alike", []Sign{access(Vehicles, Destination), access(Vehicles, Permission), access(Vehicles, Allowed)}, Motorcars, false, Permission},
		{"this direction before both", []Sign{access(Vehicles, Refused), bound(access(Vehicles, Allowed), Along)}, Motorcars, false, Allowed},
		{"the other direction", []Sign{access(Vehicles, Refused), bound(access(Vehicles, Allowed), Along)}, Motorcars, true, Refused},
		{"under a condition", []Sign{when(access(Vehicles, Refused))}, Motorcars, false, Discouraged},
		{"not understood", []Sign{access(Vehicles, Unread)}, Motorcars, false, Discouraged},
		{"a height", []Sign{{Subject: MaxHeight, For: Vehicles, Word: Refused}}, Motorcars, false, Discouraged},
	} {
		for range 2 { // in either order
			got, sign := Record{Signs: tc.signs}.Access(tc.mode, tc.reverse, Discouraged)
			if got != tc.want {
				t.Errorf("%s: %v, want %v, by %+v", tc.name, got, tc.want, sign)
			}
			tc.signs = slices.Clone(tc.signs)
			slices.Reverse(tc.signs)
		}
	}
}

// Any rig may be a motorcar, a goods vehicle, a trailer and a heavy goods vehicle,
// so that one of them refused is enough to close a road to all; what is refused
// to some rigs only, or for an hour, or may be permitted, is not closed.
func TestRecordClosed(t *testing.T) {
	signs := func(s ...Sign) Record { return Record{Signs: s} }
	flags := func(f Flags) Record { return Record{Road: Road{Flags: f}} }
	one := access(Everyone, Refused)
	along, atHours, height := one, one, Sign{Subject: MaxHeight, State: Known, Value: 1}
	along.Bound, atHours.When = Along, 1
	for _, tc := range []struct {
		name           string
		record         Record
		along, against bool
	}{
		{"nothing said", Record{}, false, false},
		{"one-way along", flags(OnewayAlong), false, true},
		{"one-way against", flags(OnewayAgainst), true, false},
		{"one-way both ways, a slip of the source", flags(OnewayAlong | OnewayAgainst), true, true},
		{"one-way that changes", flags(OnewayVaries), false, false},
		{"access=no", signs(one), true, true},
		{"access=no along", signs(along), true, false},
		{"vehicle=no", signs(access(Vehicles, Refused)), true, true},
		{"motor_vehicle=no, hgv=yes: a rig may be a motorcar", signs(access(MotorVehicles, Refused), access(HeavyGoods, Allowed)), true, true},
		{"access=no, motor_vehicle=yes", signs(one, access(MotorVehicles, Allowed)), false, false},
		{"access=no, motorcar=yes, goods=yes, hgv=yes: no trailer", signs(one, access(Motorcars, Allowed), access(GoodsVehicles, Allowed), access(HeavyGoods, Allowed)), true, true},
		{"and trailer=yes", signs(one, access(Motorcars, Allowed), access(GoodsVehicles, Allowed), access(HeavyGoods, Allowed), access(Trailers, Allowed)), false, false},
		{"hgv=no: not every rig is one", signs(access(HeavyGoods, Refused)), false, false},
		{"trailer=no", signs(access(Trailers, Refused)), true, true},
		{"caravan=no: not every rig has one", signs(access(Caravans, Refused)), false, false},
		{"hgv_articulated=no: not every rig is one", signs(access(Articulated, Refused)), false, false},
		{"hazmat=no: not every rig carries any", signs(access(Hazmat, Refused)), false, false},
		{"access=private: whether one may is not known", signs(access(Everyone, Permission)), false, false},
		{"access=destination", signs(access(Everyone, Destination)), false, false},
		{"access=no at hours", signs(atHours), false, false},
		{"a low height, which a lower rig passes", signs(height), false, false},
		{"one-way, and closed the way it is open", Record{Road: Road{Flags: OnewayAlong}, Signs: []Sign{along}}, true, true},
	} {
		if got := tc.record.closed(false); got != tc.along {
			t.Errorf("%s: closed along the line: %t, want %t", tc.name, got, tc.along)
		}
		if got := tc.record.closed(true); got != tc.against {
			t.Errorf("%s: closed against it: %t, want %t", tc.name, got, tc.against)
		}
	}
}

// A block lets nobody through unless it says so, other things let everyone through
// unless they say so.
func TestRecordBarred(t *testing.T) {
	for _, tc := range []struct {
		name      string
		signs     []Sign
		otherwise Word
		want      bool
	}{
		{"a block", nil, Refused, true},
		{"a gate", nil, Allowed, false},
		{"a block that lets motor vehicles through", []Sign{access(MotorVehicles, Allowed)}, Refused, false},
		{"a block that lets motorcars through", []Sign{access(Motorcars, Allowed)}, Refused, true},
		{"a gate that stops motor vehicles", []Sign{access(MotorVehicles, Refused)}, Allowed, true},
		{"a gate by permission", []Sign{access(Everyone, Permission)}, Allowed, false},
	} {
		for _, reverse := range []bool{false, true} {
			if got := (Record{Signs: tc.signs}).barred(reverse, tc.otherwise); got != tc.want {
				t.Errorf("%s, against the line %t: barred %t, want %t", tc.name, reverse, got, tc.want)
			}
		}
	}
}

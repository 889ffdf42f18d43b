package regs

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
)

// Winnipeg on 21 June: the sun rises at 5:20 and sets at 21:41 on the clock
// there (our arithmetic by the equations of the NOAA for 2026; the day of the
// year moves them by less than a minute). An hour of the sun further east it
// sets at about 20:41.
var (
	winnipeg = orb.Point{-97.1384, 49.8951}
	east     = orb.Point{-82.1384, 49.8951}
	cdt      = time.FixedZone("CDT", -5*3600)
)

// on is a moment of 21 June 2027 on the clock of Winnipeg.
func on(clock string) time.Time {
	t, err := time.ParseInLocation("2006-01-02 15:04", "2027-06-21 "+clock, cdt)
	if err != nil {
		panic(err)
	}
	return t
}

// leg is a place in CA-XX that is left at a moment.
func leg(until time.Time, ends ...orb.Point) Stay {
	return Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true, Until: until, Ends: ends}
}

// A row that binds at night, by when the rig is on the way. A ban that does not
// come says what to keep; a demand that does not come asks nothing. Neither
// clears at any time: it speaks of a part of the day.
func TestRowsOfTheNight(t *testing.T) {
	const night = "sunset-sunrise"
	forbidden, conditional, unknown := finding.Forbidden, finding.Conditional, finding.Unknown
	for _, tc := range []struct {
		name        string
		from, until string
		ends        []orb.Point
		ban, demand finding.Outcome // of a rig beyond the row
	}{
		{"noon", "12:00", "13:00", []orb.Point{winnipeg}, conditional, unknown},
		{"night", "22:00", "23:00", []orb.Point{winnipeg}, forbidden, conditional},
		{"before sunrise", "04:00", "05:10", []orb.Point{winnipeg}, forbidden, conditional},
		{"into the day", "05:00", "06:00", []orb.Point{winnipeg}, forbidden, conditional},
		{"into the night", "21:00", "22:00", []orb.Point{winnipeg}, forbidden, conditional},
		{"just before sunset", "21:00", "21:38", []orb.Point{winnipeg}, conditional, unknown},
		{"just after sunrise", "05:23", "06:00", []orb.Point{winnipeg}, conditional, unknown},
		{"at both ends by day", "12:00", "13:00", []orb.Point{winnipeg, east}, conditional, unknown},
		{"night at one end", "21:00", "21:20", []orb.Point{winnipeg, east}, forbidden, conditional},
		{"night at the first end", "21:00", "21:20", []orb.Point{east, winnipeg}, forbidden, conditional},
		{"how long is not known", "12:00", "", []orb.Point{winnipeg}, conditional, conditional},
		{"where is not known", "12:00", "13:00", nil, conditional, conditional},
		{"at night, how long is not known", "23:00", "", []orb.Point{winnipeg}, conditional, conditional},
	} {
		var until time.Time
		if tc.until != "" {
			until = on(tc.until)
		}
		hangs := tc.ends == nil || tc.until == ""
		for outcome, want := range map[finding.Outcome]finding.Outcome{forbidden: tc.ban, conditional: tc.demand} {
			row := read(t, map[string]string{"outcome": string(outcome), "tier": "beyond", "when": night, "escorts_front": "1"})
			f := rule(t, of(row).Check(high(416), leg(until, tc.ends...), on(tc.from)), "height")
			shown, ok := shows(f, "row")
			if f.Outcome != want || !ok || exceeded(shown) != (want != unknown) {
				t.Errorf("%s, %s row: %s (%s) with %q, want %s", tc.name, outcome, f.Outcome, says(f), bears(shown), want)
			}
			if said := strings.Contains(says(f), "hangs.time("); said != hangs {
				t.Errorf("%s, %s row: hangs on the time %v, %q", tc.name, outcome, said, says(f))
			}
			if keep := slices.Contains(say.Strings(f.Demands.Hours), say.That("hours.not_during", "when", row.Times.Says()).String()); keep != (outcome == forbidden) {
				t.Errorf("%s, %s row: hours %q", tc.name, outcome, f.Demands.Hours)
			}
			if asks := f.Demands.EscortsFront == 1; asks != (want != unknown) {
				t.Errorf("%s, %s row: %d escorts", tc.name, outcome, f.Demands.EscortsFront)
			}
			legal := row
			legal.Tier = limit.Legal
			if below := rule(t, of(legal).Check(high(415), leg(until, tc.ends...), on(tc.from)), "height"); below.Outcome != unknown {
				t.Errorf("%s, %s row, not beyond: %s (%s)", tc.name, outcome, below.Outcome, says(below))
			}
		}
	}
}

// A sleeping row leaves a row of all times to clear, an awake one does not.
func TestClearBesideARowOfTheNight(t *testing.T) {
	night := read(t, map[string]string{"id": "night", "tier": "beyond", "when": "sunset-sunrise"})
	always := read(t, map[string]string{"id": "always", "threshold": "4.3 m"})
	for _, tc := range []struct {
		from, until string
		want        finding.Outcome
		ids         string
	}{{"12:00", "13:00", finding.Clear, "night always!"}, {"22:00", "23:00", finding.Conditional, "night! always"}} {
		f := rule(t, of(night, always).Check(high(420), leg(on(tc.until), winnipeg), on(tc.from)), "height")
		if f.Outcome != tc.want || ids(f) != tc.ids {
			t.Errorf("%s: %s by %q, want %s by %q", tc.from, f.Outcome, ids(f), tc.want, tc.ids)
		}
	}
}

// Times that are words hang on a person, however well the way is known.
func TestTimesThatAreWords(t *testing.T) {
	for _, when := range []string{"congested traffic", "spring load restrictions", "sunrise-sunset and wet"} {
		row := read(t, map[string]string{"outcome": "forbidden", "tier": "beyond", "when": when})
		f := rule(t, of(row).Check(high(416), leg(on("13:00"), winnipeg), on("12:00")), "height")
		if f.Outcome != finding.Conditional || !strings.Contains(says(f), say.That("hangs.time", "when", row.Times.Says()).String()) {
			t.Errorf("%q: %s, %q", when, f.Outcome, says(f))
		}
	}
	// Words beside hours that do not come decide nothing.
	row := read(t, map[string]string{"tier": "beyond", "when": "sunset-sunrise and wet"})
	if f := rule(t, of(row).Check(high(416), leg(on("13:00"), winnipeg), on("12:00")), "height"); f.Outcome != finding.Unknown {
		t.Errorf("wet nights, by day: %s, %q", f.Outcome, says(f))
	}
}

// A season is a time like another.
func TestRowsOfASeason(t *testing.T) {
	for when, want := range map[string]finding.Outcome{"Jun": finding.Forbidden, "Nov-Mar": finding.Conditional, "Jun 21": finding.Forbidden, "Jun 22-30": finding.Conditional} {
		row := read(t, map[string]string{"outcome": "forbidden", "tier": "beyond", "when": when})
		if f := rule(t, of(row).Check(high(416), leg(on("13:00"), winnipeg), on("12:00")), "height"); f.Outcome != want {
			t.Errorf("%s in June: %s, want %s", when, f.Outcome, want)
		}
	}
	// A leg that goes on past midnight meets the next day's season.
	row := read(t, map[string]string{"outcome": "forbidden", "tier": "beyond", "when": "Jun 22-30"})
	if f := rule(t, of(row).Check(high(416), leg(on("23:00").Add(2*time.Hour), winnipeg), on("23:00")), "height"); f.Outcome != finding.Forbidden {
		t.Errorf("from 23:00 to 1:00: %s, %q", f.Outcome, says(f))
	}
}

// Days on which a row holds are those of the place, and both ends count.
func TestValidityByTheDayOfThePlace(t *testing.T) {
	row := read(t, map[string]string{"valid_from": "2027-06-21", "valid_to": "2027-06-21"})
	for at, want := range map[time.Time]finding.Outcome{
		on("00:01").Add(-2 * time.Minute): finding.Unknown,
		on("00:01"):                       finding.Conditional,
		on("23:59"):                       finding.Conditional, // the next day in UTC
		on("23:59").Add(2 * time.Minute):  finding.Unknown,
	} {
		f := rule(t, of(row).Check(high(416), leg(at, winnipeg), at), "height")
		if f.Outcome != want {
			t.Errorf("%s: %s, want %s", at, f.Outcome, want)
		}
	}
}

// Rows of some roads: they bind where one of the roads is meant, and clear only
// where all are.
func TestRowsOfSomeRoads(t *testing.T) {
	one, two, open := roads.Road{Lanes: 1}, roads.Road{Lanes: 2}, roads.Road{}
	legal, ban := map[string]string{"roads": "lanes=2+"}, map[string]string{"roads": "lanes=2+", "outcome": "forbidden"}
	for _, tc := range []struct {
		name         string
		roads        []roads.Road
		below, above finding.Outcome // the legal row
		ban          finding.Outcome // beyond the ban
		says         string
	}{
		{"one meant", []roads.Road{two}, finding.Clear, finding.Conditional, finding.Forbidden, ""},
		{"all meant", []roads.Road{two, {Lanes: 3}}, finding.Clear, finding.Conditional, finding.Forbidden, ""},
		{"one of two meant", []roads.Road{one, two}, finding.Unknown, finding.Conditional, finding.Forbidden, "row.part(roads: lanes=2+)"},
		{"none meant", []roads.Road{one}, finding.Unknown, finding.Unknown, finding.Unknown, ""},
		{"one not known", []roads.Road{open}, finding.Unknown, finding.Conditional, finding.Review, "hangs.roads"},
		{"one not known, one not meant", []roads.Road{one, open}, finding.Unknown, finding.Conditional, finding.Review, "hangs.roads"},
		{"one not known, one meant", []roads.Road{open, two}, finding.Unknown, finding.Conditional, finding.Forbidden, "row.part(roads: lanes=2+)"},
		{"roads not known", nil, finding.Unknown, finding.Conditional, finding.Review, "hangs.roads"},
	} {
		place := Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true, Roads: tc.roads}
		below := rule(t, of(read(t, legal)).Check(high(415), place, june), "height")
		if shown, _ := shows(below, "row"); below.Outcome != tc.below || !strings.Contains(bears(shown), tc.says) {
			t.Errorf("%s, below: %s, %q; want %s that says %q", tc.name, below.Outcome, bears(shown), tc.below, tc.says)
		}
		if above := rule(t, of(read(t, legal)).Check(high(416), place, june), "height"); above.Outcome != tc.above {
			t.Errorf("%s, above: %s, want %s", tc.name, above.Outcome, tc.above)
		}
		if f := rule(t, of(read(t, ban)).Check(high(416), place, june), "height"); f.Outcome != tc.ban {
			t.Errorf("%s, a ban: %s, want %s", tc.name, f.Outcome, tc.ban)
		}
	}
}

// What a leg of one lane and one of more ask adds up (the two rows of width of
// Ontario have this shape).
func TestRowsOfDifferentRoadsAddUp(t *testing.T) {
	narrow := read(t, map[string]string{"id": "narrow", "roads": "lanes=1", "escorts_front": "1"})
	broad := read(t, map[string]string{"id": "broad", "roads": "lanes=2+", "threshold": "4.2 m", "escorts_rear": "1"})
	for _, tc := range []struct {
		roads       []roads.Road
		front, rear int
	}{{[]roads.Road{{Lanes: 1}}, 1, 0}, {[]roads.Road{{Lanes: 2}}, 0, 1}, {[]roads.Road{{Lanes: 2}, {Lanes: 1}}, 1, 1}, {nil, 1, 1}} {
		f := rule(t, of(narrow, broad).Check(high(430), Stay{Jurisdictions: []string{"CA-XX"}, Roads: tc.roads}, june), "height")
		if f.Demands.EscortsFront != tc.front || f.Demands.EscortsRear != tc.rear {
			t.Errorf("%+v: escorts %d and %d, want %d and %d", tc.roads, f.Demands.EscortsFront, f.Demands.EscortsRear, tc.front, tc.rear)
		}
	}
}

package window_test

import (
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/window"
)

const minute = time.Minute

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

// near tells whether two moments are no further apart than the tolerance.
func near(a, b time.Time, most time.Duration) bool { return a.Sub(b).Abs() <= most }

// crossings lists what the sun does on the days around a date, in UTC.
func crossings(sun func(time.Time) (time.Time, time.Time, bool), day time.Time) (rises, sets []time.Time) {
	for off := -1; off <= 1; off++ {
		if rise, set, ok := sun(day.AddDate(0, 0, off)); ok {
			rises, sets = append(rises, rise.UTC()), append(sets, set.UTC())
		}
	}
	return rises, sets
}

// onDate returns the moment that falls on a date of UTC.
func onDate(moments []time.Time, date string) (at time.Time, found int) {
	for _, m := range moments {
		if m.Format(time.DateOnly) == date {
			at, found = m, found+1
		}
	}
	return at, found
}

// Sunrise and sunset by the US Naval Observatory, times of UTC (SEEN in
// facts/engineering.md section 6.1, as stored in public test data, 2020). Its
// columns give what falls on that date of UTC: at west longitudes the sunset is
// that of the evening before on the clock of the place.
func TestSunObservatory(t *testing.T) {
	anchorage, auckland := orb.Point{-149.866667, 61.216667}, orb.Point{174.8, -36.833333}
	brasilia, singapore := orb.Point{-47.85, -15.8}, orb.Point{103.833333, 1.283333}
	for _, tc := range []struct {
		at              orb.Point
		zone            string
		date, rise, set string
	}{
		{anchorage, "America/Anchorage", "2020-01-05", "19:11", "00:57"},
		{anchorage, "America/Anchorage", "2020-02-15", "17:43", "02:43"},
		{anchorage, "America/Anchorage", "2020-03-25", "15:43", "04:27"},
		{anchorage, "America/Anchorage", "2020-04-15", "14:37", "05:21"},
		{anchorage, "America/Anchorage", "2020-06-25", "12:22", "07:42"},
		{anchorage, "America/Anchorage", "2020-09-25", "15:53", "03:51"},
		{anchorage, "America/Anchorage", "2020-12-15", "19:10", "00:40"},
		{auckland, "Pacific/Auckland", "2020-06-25", "19:34", "05:13"},
		{brasilia, "America/Sao_Paulo", "2020-12-15", "08:35", "21:39"},
		{singapore, "Asia/Singapore", "2020-06-25", "23:02", "11:13"},
	} {
		day, err := time.ParseInLocation(time.DateOnly, tc.date, zone(t, tc.zone))
		if err != nil {
			t.Fatal(err)
		}
		rises, sets := crossings(window.SunAt(tc.at), day)
		for _, one := range []struct {
			what    string
			moments []time.Time
			want    string
		}{{"sunrise", rises, tc.rise}, {"sunset", sets, tc.set}} {
			want, err := time.Parse("2006-01-02 15:04", tc.date+" "+one.want)
			if err != nil {
				t.Fatal(err)
			}
			got, n := onDate(one.moments, tc.date)
			if n != 1 || !near(got, want, minute) {
				t.Errorf("%s, %s %s: %d of them, %s; want %s", tc.zone, tc.date, one.what, n, got.Format(time.TimeOnly), one.want)
			}
		}
	}
}

// Civil twilight by the US Naval Observatory (SEEN, as above): on 25 September
// its dusk is that of the evening before on the clock of Anchorage, and in June
// it lasts all night.
func TestTwilightObservatory(t *testing.T) {
	anchorage, loc := orb.Point{-149.866667, 61.216667}, zone(t, "America/Anchorage")
	dawns, dusks := crossings(window.TwilightAt(anchorage), time.Date(2020, 9, 25, 0, 0, 0, 0, loc))
	dawn, _ := onDate(dawns, "2020-09-25")
	dusk, _ := onDate(dusks, "2020-09-25")
	if !near(dawn, time.Date(2020, 9, 25, 15, 10, 0, 0, time.UTC), minute) || !near(dusk, time.Date(2020, 9, 25, 4, 34, 0, 0, time.UTC), minute) {
		t.Errorf("dawn %s, dusk %s; want 15:10 and 04:34", dawn.Format(time.TimeOnly), dusk.Format(time.TimeOnly))
	}
	if dawn, dusk, ok := window.TwilightAt(anchorage)(time.Date(2020, 6, 15, 0, 0, 0, 0, loc)); ok {
		t.Errorf("15 June: dawn %v, dusk %v; want none", dawn, dusk)
	}
	if _, _, ok := window.SunAt(anchorage)(time.Date(2020, 6, 15, 0, 0, 0, 0, loc)); !ok {
		t.Error("15 June: the sun does rise and set there")
	}
}

// Canadian values worked out from the same formulas elsewhere (CALC in
// facts/engineering.md section 6.2): they test arithmetic, not truth. The days
// are those of the place; a sunset may fall on the next date of UTC.
func TestSunOfCanada(t *testing.T) {
	days := []string{"2026-03-20", "2026-06-21", "2026-09-23", "2026-12-21"}
	for _, tc := range []struct {
		name, zone string
		at         orb.Point
		want       [4][2]string // rise and set of each day; + is the next date
	}{
		{"Vancouver", "America/Vancouver", orb.Point{-123.1207, 49.2827}, [4][2]string{{"14:15", "+02:26"}, {"12:07", "+04:22"}, {"14:01", "+02:08"}, {"16:05", "+00:16"}}},
		{"Calgary", "America/Edmonton", orb.Point{-114.0719, 51.0447}, [4][2]string{{"13:38", "+01:50"}, {"11:21", "+03:55"}, {"13:24", "+01:32"}, {"15:37", "23:32"}}},
		{"Edmonton", "America/Edmonton", orb.Point{-113.4938, 53.5461}, [4][2]string{{"13:36", "+01:48"}, {"11:04", "+04:07"}, {"13:22", "+01:30"}, {"15:48", "23:16"}}},
		{"Winnipeg", "America/Winnipeg", orb.Point{-97.1384, 49.8951}, [4][2]string{{"12:31", "+00:42"}, {"10:20", "+02:41"}, {"12:17", "+00:24"}, {"14:24", "22:29"}}},
		{"Toronto", "America/Toronto", orb.Point{-79.3832, 43.6532}, [4][2]string{{"11:21", "23:30"}, {"09:36", "+01:03"}, {"11:06", "23:13"}, {"12:48", "21:44"}}},
		{"Ottawa", "America/Toronto", orb.Point{-75.6972, 45.4215}, [4][2]string{{"11:06", "23:15"}, {"09:14", "+00:55"}, {"10:51", "22:58"}, {"12:40", "21:22"}}},
		{"Halifax", "America/Halifax", orb.Point{-63.5752, 44.6488}, [4][2]string{{"10:17", "22:27"}, {"08:29", "+00:03"}, {"10:03", "22:10"}, {"11:48", "20:37"}}},
		{"Whitehorse", "America/Whitehorse", orb.Point{-135.0568, 60.7212}, [4][2]string{{"15:01", "+03:16"}, {"11:27", "+06:37"}, {"14:47", "+02:56"}, {"18:10", "23:47"}}},
	} {
		for i, date := range days {
			day, err := time.ParseInLocation(time.DateOnly, date, zone(t, tc.zone))
			if err != nil {
				t.Fatal(err)
			}
			rise, set, ok := window.SunAt(tc.at)(day)
			wantRise, wantSet := utc(t, date, tc.want[i][0]), utc(t, date, tc.want[i][1])
			if !ok || !near(rise, wantRise, minute) || !near(set, wantSet, minute) {
				t.Errorf("%s, %s: %s to %s; want %s", tc.name, date, rise.UTC().Format(time.DateTime), set.UTC().Format(time.DateTime), tc.want[i])
			}
			if rise.Format(time.DateOnly) != date || rise.Location() != day.Location() {
				t.Errorf("%s, %s: the sunrise %v is not one of that day on its clock", tc.name, date, rise)
			}
		}
	}
	for _, tc := range []struct {
		at   orb.Point
		date string
		want time.Duration
	}{ // day lengths of the same section, CALC
		{orb.Point{-113.4938, 53.5461}, "2026-06-21", 17*time.Hour + 2*minute + 53*time.Second},
		{orb.Point{-113.4938, 53.5461}, "2026-12-21", 7*time.Hour + 27*minute + 36*time.Second},
		{orb.Point{-135.0568, 60.7212}, "2026-12-21", 5*time.Hour + 37*minute + 43*time.Second},
		{orb.Point{-79.3832, 43.6532}, "2026-12-21", 8*time.Hour + 55*minute + 42*time.Second},
	} {
		rise, set, ok := window.SunAt(tc.at)(utc(t, tc.date, "00:00"))
		if got := set.Sub(rise); !ok || (got-tc.want).Abs() > minute {
			t.Errorf("%v on %s: the day lasts %s, want %s", tc.at, tc.date, got, tc.want)
		}
	}
}

func utc(t *testing.T, date, clock string) time.Time {
	t.Helper()
	days := 0
	if clock[0] == '+' {
		days, clock = 1, clock[1:]
	}
	at, err := time.Parse("2006-01-02 15:04", date+" "+clock)
	if err != nil {
		t.Fatal(err)
	}
	return at.AddDate(0, 0, days)
}

// Beyond the polar circles there are days without a sunrise; at the poles
// nothing is a number, and that must not be taken for one.
func TestPolarDayAndNight(t *testing.T) {
	const summer, winter, equinox = "2026-06-21", "2026-12-21", "2026-03-25"
	for _, tc := range []struct {
		name string
		lat  float64
		date string
		want bool
	}{
		{"Inuvik in summer", 68.36, summer, false},
		{"Inuvik in winter", 68.36, winter, false},
		{"Inuvik between", 68.36, equinox, true},
		{"Alert in summer", 82.50, summer, false},
		{"Alert in winter", 82.50, winter, false},
		{"Yellowknife in summer", 62.45, summer, true},
		{"Yellowknife in winter", 62.45, winter, true},
		{"the north pole", 90, equinox, false},
		{"the north pole in summer", 90, summer, false},
		{"the south pole", -90, winter, false},
		{"the equator", 0, summer, true},
	} {
		rise, set, ok := window.SunAt(orb.Point{-114, tc.lat})(utc(t, tc.date, "00:00"))
		if ok != tc.want {
			t.Errorf("%s: rises %v at %v, sets %v; want %v", tc.name, ok, rise, set, tc.want)
		}
	}
}

// altitude is how high the sun's centre stands, in degrees, by other formulas
// than those that are tested (The Astronomical Almanac, section C, Low precision
// formulas for the Sun, good to 0.01 degrees from 1950 to 2050; sidereal time as
// the US Naval Observatory gives it, Approximate Sidereal Time; from memory).
func altitude(at time.Time, p orb.Point) float64 {
	rad := func(d float64) float64 { return d * math.Pi / 180 }
	n := float64(at.Unix()-946728000) / 86400 // days from 2000-01-01 12:00
	l, g := 280.460+0.9856474*n, rad(357.528+0.9856003*n)
	lambda, tilt := rad(l+1.915*math.Sin(g)+0.020*math.Sin(2*g)), rad(23.439-0.0000004*n)
	declination := math.Asin(math.Sin(tilt) * math.Sin(lambda))
	ascension := math.Atan2(math.Cos(tilt)*math.Sin(lambda), math.Cos(lambda))
	hour := rad(15*(18.697374558+24.06570982441908*n)+p.Lon()) - ascension
	return 180 / math.Pi * math.Asin(math.Sin(rad(p.Lat()))*math.Sin(declination)+math.Cos(rad(p.Lat()))*math.Cos(declination)*math.Cos(hour))
}

// At what is called a sunrise the sun stands 0.833 degrees below the horizon,
// and 6 at dawn, wherever and whenever; between them it is up.
func TestSunStandsWhereItShould(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-66, 66).Draw(t, "lat")}
		day := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 7*365).Draw(t, "day"))
		for _, one := range []struct {
			sun  func(time.Time) (time.Time, time.Time, bool)
			want float64
		}{{window.SunAt(p), -0.833}, {window.TwilightAt(p), -6}} {
			rise, set, ok := one.sun(day)
			if !ok {
				continue
			}
			const most = 0.05
			if a, b := altitude(rise, p), altitude(set, p); math.Abs(a-one.want) > most || math.Abs(b-one.want) > most {
				t.Fatalf("%v on %s: the sun stands at %.3f and %.3f, want %.3f", p, day.Format(time.DateOnly), a, b, one.want)
			}
			if long := set.Sub(rise); long <= 0 || long >= 24*time.Hour || altitude(rise.Add(long/2), p) < one.want {
				t.Fatalf("%v on %s: from %v to %v", p, day.Format(time.DateOnly), rise, set)
			}
		}
	})
}

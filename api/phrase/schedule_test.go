package phrase

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/data"
	"wayhouse/regs/limit"
	"wayhouse/regs/window"
)

func TestScheduleInWords(t *testing.T) {
	for _, c := range []struct{ grammar, english, french string }{
		{"24/7", "at any time", "en tout temps"},
		{"Mo-Fr (sunrise-00:30)-(sunset+00:30); PH off",
			"from half an hour before sunrise to half an hour after sunset, Monday to Friday; except public holidays",
			"d'une demi-heure avant le lever du soleil à une demi-heure après le coucher du soleil, du lundi au vendredi; " +
				"sauf les jours fériés"},
		{"sunset-sunrise", "from sunset to sunrise the next day", "du coucher du soleil au lever du soleil le lendemain"},
		{"Mo-Th sunrise-sunset; Fr sunrise-14:00; PH off; PH -1 day 14:00-24:00 off",
			"from sunrise to sunset, Monday to Thursday; from sunrise to 14:00, Friday; except public holidays; " +
				"except from 14:00 to midnight, the day before a public holiday",
			"du lever du soleil au coucher du soleil, du lundi au jeudi; du lever du soleil à 14 h, le vendredi; " +
				"sauf les jours fériés; sauf de 14 h à minuit, la veille d'un jour férié"},
		{"00:00-08:00,09:30-24:00", "from 00:00 to 08:00 and from 09:30 to midnight", "de 0 h à 8 h et de 9 h 30 à minuit"},
		{"Mo-Fr 08:00-18:00; We 10:00-12:00",
			"from 08:00 to 18:00, Monday to Friday; in place of that, from 10:00 to 12:00, Wednesday",
			"de 8 h à 18 h, du lundi au vendredi; à la place, de 10 h à 12 h, le mercredi"},
		{"PH off; Mo-Fr 07:00-09:00", // the second rule has holidays too
			"except public holidays; in place of that, from 07:00 to 09:00, Monday to Friday",
			"sauf les jours fériés; à la place, de 7 h à 9 h, du lundi au vendredi"},
		{"Fr 22:00-06:00; Sa 10:00-12:00", // the second ends what the first has of Saturday
			"from 22:00 to 06:00 the next day, Friday; in place of that, from 10:00 to 12:00, Saturday",
			"de 22 h à 6 h le lendemain, le vendredi; à la place, de 10 h à 12 h, le samedi"},
		{"Mo-Fr 08:00-12:00 || Sa \"by call\"",
			"from 08:00 to 12:00, Monday to Friday; outside those hours, perhaps Saturday (“by call”)",
			"de 8 h à 12 h, du lundi au vendredi; en dehors de ces heures, peut-être le samedi («\u00a0by call\u00a0»)"},
		{"Tu[1,3] 18:00+", "from 18:00, with no end stated, the first and third Tuesday of the month",
			"de 18 h, sans fin indiquée, le premier et troisième mardi du mois"},
		{"Oct-Apr Mo-Fr 07:00-09:00", "from 07:00 to 09:00, Monday to Friday, October to April",
			"de 7 h à 9 h, du lundi au vendredi, du mois d'octobre au mois d'avril"},
		{"Dec 24-Jan 01,easter -2 days off", "except 24 December to 1 January and 2 days before Easter Sunday",
			"sauf du 24 décembre au 1er janvier et le 2e jour avant le dimanche de Pâques"},
		{"2026-2028 week 10-20/2 Sa (dusk-01:00)-26:00",
			"from one hour before civil dusk to 02:00 the next day, Saturday, weeks 10 to 20 of the year, one in 2, 2026 to 2028",
			"d'une heure avant le terme du crépuscule civil à 2 h le lendemain, le samedi, les semaines 10 à 20 de l'année, " +
				"une sur 2, de 2026 à 2028"},
	} {
		s, err := window.Parse(c.grammar)
		if err != nil {
			t.Fatal(err)
		}
		if got := []string{English().Say(s.Says()), French().Say(s.Says())}; !cmp.Equal(got, []string{c.english, c.french}) {
			t.Errorf("%s (- want, + got) %s", c.grammar, cmp.Diff([]string{c.english, c.french}, got))
		}
	}
}

// Of the times that shipped rows name, these alone are no hours and print in their own
// words; every text of hours is a schedule, or its row would not be read.
func TestTimesThatAreNoHours(t *testing.T) {
	var got []string
	note := func(c window.Condition) { got = append(got, c.Words...) }
	hours, limits := rowsOf(t, window.HoursTable().ReadCSV, "hours"), rowsOf(t, limit.Table().ReadCSV, "limits")
	for _, r := range hours {
		note(r.Times)
	}
	for _, r := range limits {
		note(r.Times)
	}
	slices.Sort(got)
	got = slices.DeleteFunc(slices.Compact(got), func(s string) bool { return s == "" })
	if want := []string{"congested traffic", "spring load restrictions"}; !cmp.Equal(got, want) {
		t.Errorf("(- want, + got) %s", cmp.Diff(want, got))
	}
}

func rowsOf[T, R any](t *testing.T, read func([]byte) ([]T, R, error), table string) []T {
	t.Helper()
	raw, err := data.Files.ReadFile("tables/" + table + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	all, _, err := read(raw)
	if err != nil || len(all) == 0 {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	return all
}

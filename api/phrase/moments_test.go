package phrase

import (
	"testing"
	"time"
	_ "time/tzdata"

	"wayhouse/regs/say"
)

// Times in French are written as the government of Québec writes them in text: "11 mai
// 2027", "8 h 00", "1er juin" (Office québécois de la langue française, Banque de
// dépannage linguistique: "Date et heure"), zones as the National Research Council of
// Canada abbreviates them: HAE, HNE.
func TestMoments(t *testing.T) {
	toronto, err := time.LoadLocation("America/Toronto")
	if err != nil {
		t.Fatal(err)
	}
	may := time.Date(2027, time.May, 11, 8, 0, 0, 0, toronto)
	january := time.Date(2027, time.January, 1, 17, 5, 0, 0, toronto)
	for _, tc := range []struct {
		got, want string
	}{
		{English().Moment(may), "2027-05-11 08:00 EDT"},
		{English().WeekdayMoment(may), "Tuesday 2027-05-11 08:00 EDT"},
		{English().Weekday(january), "Friday 2027-01-01"},
		{French().Moment(may), "11 mai 2027, 8 h 00 HAE"},
		{French().WeekdayMoment(may), "mardi 11 mai 2027, 8 h 00 HAE"},
		{French().WeekdayMoment(january), "vendredi 1er janvier 2027, 17 h 05 HNE"},
		{French().Weekday(january), "vendredi 1er janvier 2027"},
		{French().Moment(may.UTC()), "11 mai 2027, 12 h 00 UTC"},
		{French().Say(say.That("hours.next", "at", may)), "une telle plage s'ouvre de nouveau le 11 mai 2027, 8 h 00 HAE"},
		{French().Say(say.That("days.between", "from", say.Day(january), "to", say.Day(may))),
			"du 1er janvier 2027 au 11 mai 2027"},
	} {
		if tc.got != tc.want {
			t.Errorf("%q, want %q", tc.got, tc.want)
		}
	}
}

// Every month and weekday has its word in each language.
func TestWordsOfTimes(t *testing.T) {
	for at := time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC); at.Year() == 2027; at = at.AddDate(0, 0, 1) {
		en, fr := moment{at, English()}, moment{at, French()}
		if en.MonthWord() != at.Month().String() || en.WeekdayWord() != at.Weekday().String() {
			t.Errorf("%s: %s, %s", at, en.MonthWord(), en.WeekdayWord())
		}
		if fr.MonthWord() == en.MonthWord() || fr.WeekdayWord() == en.WeekdayWord() || fr.MonthWord() == "" {
			t.Errorf("%s: %s, %s", at, fr.MonthWord(), fr.WeekdayWord())
		}
	}
}

package phrase

import (
	"errors"
	"testing"

	"golang.org/x/text/language"

	"wayhouse/regs/measure"
)

func TestChoose(t *testing.T) {
	for _, tc := range []struct {
		lang, accept, units string
		want                language.Tag
		in                  measure.System
		field               string
	}{
		{"", "", "", language.English, measure.Both, ""},
		{"en", "", "metric", language.English, measure.Metric, ""},
		{"en-CA", "", "US", language.English, measure.Customary, ""},
		{"", "de, en;q=0.5", "", language.English, measure.Both, ""},
		{"fr", "en", "metric", language.French, measure.Metric, ""},
		{"fr-CA", "", "", language.French, measure.Both, ""},
		{"", "fr-CA, en;q=0.8", "", language.French, measure.Both, ""},
		{"", "en;q=0.8, fr-FR;q=0.9", "", language.French, measure.Both, ""},
		{"", "de, en;q=0.3, fr;q=0.2", "", language.English, measure.Both, ""},
		{"", "fr;q=0, en", "", language.English, measure.Both, ""},
		{"", "nonsense;q=x", "", language.English, measure.Both, ""},
		{"de", "", "", language.Und, 0, "lang"},
		{"not a tag", "", "", language.Und, 0, "lang"},
		{"", "", "furlongs", language.Und, 0, "units"},
	} {
		got, err := Choose(tc.lang, tc.accept, tc.units)
		var wrong *measure.FieldError
		if tc.field != "" {
			if !errors.As(err, &wrong) || wrong.Field != tc.field {
				t.Errorf("%+v: error %v", tc, err)
			}
			continue
		}
		if err != nil || got.Tag() != tc.want || got.units != tc.in {
			t.Errorf("%+v: %v in %v, %v", tc, got.Tag(), got.units, err)
		}
	}
}

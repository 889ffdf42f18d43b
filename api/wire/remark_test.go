package wire

import (
	"encoding/json"
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// word is a word of ours.
type word string

func (w word) Term() say.Code { return say.Code("word." + w) }

// Every kind of value that a remark may have keeps its meaning in JSON: quantities by
// their definitions (NIST SP 811, B.8: 1 ft is 0.3048 m, 1 lb is 0.45359237 kg), moments
// as RFC 3339 writes them.
func TestRemarksAsJSON(t *testing.T) {
	day := time.Date(2026, 7, 1, 8, 30, 0, 0, time.FixedZone("EDT", -4*3600))
	for _, tc := range []struct {
		value any
		want  string
	}{
		{"a sign", `"a sign"`},
		{[]string{"a", "b"}, `["a","b"]`},
		{word("height"), `"word.height"`},
		{[]say.Term{word("height"), word("width")}, `["word.height","word.width"]`},
		{say.Jurisdiction("CA-ON"), `"CA-ON"`},
		{3, `3`},
		{0.5, `0.5`},
		{measure.Foot, `{"unit":"m","value":0.3048}`},
		{measure.Pound, `{"unit":"kg","value":0.45359237}`},
		{finding.Of(measure.Foot), `{"unit":"m","value":0.3048}`},
		{finding.Of(measure.Pound).Least(), `{"at_least":true,"unit":"kg","value":0.45359237}`},
		{finding.Quantity{}, `null`},
		{measure.Distance(1500), `{"unit":"m","value":1500}`},
		{30 * measure.Litre, `{"unit":"L","value":30}`},
		{measure.Force(22), `{"unit":"N","value":22}`},
		{measure.Power(250_000), `{"unit":"kW","value":250}`},
		{550 * measure.Kilopascal, `{"unit":"kPa","value":550}`},
		{90 * time.Minute, `{"unit":"s","value":5400}`},
		{day, `"2026-07-01T08:30:00-04:00"`},
		{say.Day(day), `"2026-07-01"`},
		{say.Remark{Code: "a.b", Args: []say.Arg{{Name: "n", Value: 1}}}, `{"code":"a.b","values":{"n":1}}`},
		{[]say.Remark{{Code: "a"}, {}}, `[{"code":"a"}]`},
	} {
		raw, err := json.Marshal(newValue(tc.value, ""))
		if err != nil || string(raw) != tc.want {
			t.Errorf("%#v: %s, %v, want %s", tc.value, raw, err, tc.want)
		}
	}
}

// What rests on invented data carries its mark in every object.
func TestRemarksOfInventedData(t *testing.T) {
	why := say.Remark{Code: "b", Args: []say.Arg{{Name: "n", Value: 1}}}
	said := []say.Remark{{Code: "a", Args: []say.Arg{{Name: "why", Value: why}}}}
	raw, err := json.Marshal(newRemarks(said, InventedMark))
	const want = `[{"mark":"INVENTED","code":"a","values":{"mark":"INVENTED","why":` +
		`{"mark":"INVENTED","code":"b","values":{"mark":"INVENTED","n":1}}}}]`
	if err != nil || string(raw) != want {
		t.Errorf("%s, %v, want %s", raw, err, want)
	}
}

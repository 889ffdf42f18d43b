package limit

import (
	"errors"
	"os"
	"strings"
	"testing"

	"wayhouse/regs/rows"
)

// agreeing is a row with a published figure and a threshold.
func agreeing(q Quantity, published, threshold string) rows.Record {
	set := map[string]string{
		"id": "x", "jurisdiction": "XA-A", "kind": "all", "combination": "any", "quantity": string(q), "published": published, "threshold": threshold,
		"beyond": "over", "outcome": "conditional", "tier": "legal", "status": "invented", "source": "made up",
	}
	out := make(rows.Record, len(Table().Columns))
	for i, name := range Table().Columns {
		out[i] = set[name]
	}
	return out
}

// What is taken in has a threshold that is a figure of what was published: 13'6" is
// 13 ft 6 in and no 13.6 ft, and 4.15 m is not 4.51 m. What is kept stays readable.
func TestThresholdsAgreeWithWhatWasPublished(t *testing.T) {
	for _, tc := range []struct {
		q                    Quantity
		published, threshold string
		want                 bool
	}{
		{Height, "4.15 m", "4.15 m", true}, {Height, "4.15 metres (13 feet 6 inches as printed)", "4.15 m", true}, {Height, "up to 4.30", "4.3 m", true},
		{Height, "13'6\"", "13 ft 6 in", true}, {Height, "13'-6\"", "13 ft 6 in", true}, {Height, "13 ft 6 in", "162 in", true}, {Height, "13'6\"", "13.6 ft", false},
		{Height, "13 1/2'", "13 ft 6 in", true}, {Height, "13 1/2'", "13 ft", false}, {Height, "load 6 in above 13 ft 6 in", "14 ft", true}, {Height, "5.18 - 6.1 m", "5.18 m", true}, {Height, "over 8 m", "8.0 m", true},
		{Width, "12,5 m", "12.5 m", true}, {Width, "2.6 m or 8.6 ft", "2.6 m", true}, {Width, "102 in", "8.5 ft", true}, {Width, "16 ft incl. eaves", "16 ft", true},
		{Height, "4.15 m", "4.51 m", false}, {Height, "4.15 m", "4.2 m", false}, {Height, "14 ft", "14 m", false}, {Height, "13 ft 6 in", "13 ft 7 in", false},
		{Height, "4.30", "4.15 m", false}, {Height, "as posted", "4.15 m", true},
		{GrossMass, "63 500 kg", "63500 kg", true}, {GrossMass, "39,500", "39500 kg", true}, {GrossMass, "120,000 kilograms", "120000 kg", true}, {GrossMass, "80 000 lb", "80000 lb", true},
		{GrossMass, "80,000 pounds", "80000 lb", true}, {GrossMass, "80 000 lb", "80000 kg", false}, {GrossMass, "63 500 kg", "65300 kg", false}, {GrossMass, "63.5 t", "63500 kg", true},
		{TireLoadPerWidth, "10 kg per mm of tire width", "10 kg/mm", true}, {TireLoadPerWidth, "500 lb per inch", "600 lb/in", false},
		{BridgeFormula, "W = 500 [LN/(N-1) + 12N + 36]", "500 lb (L N/(N-1) + 12 N + 36), L in ft", true},
	} {
		r := agreeing(tc.q, tc.published, tc.threshold)
		err := Table().Check(r)
		var cell *rows.CellError
		if (err == nil) != tc.want || err != nil && (!errors.As(err, &cell) || cell.Column != "threshold" || cell.Value != tc.threshold || !strings.Contains(cell.Problem.String(), "published")) {
			t.Errorf("%s %q, %q: %v, want %t", tc.q, tc.published, tc.threshold, err, tc.want)
		}
		if _, err := Table().Row(1, r); err != nil {
			t.Errorf("%q, %q, as it is kept: %v", tc.published, tc.threshold, err)
		}
	}
}

// Every shipped row agrees with itself.
func TestShippedThresholdsAgree(t *testing.T) {
	raw, err := os.ReadFile("../../data/tables/limits.csv")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Table().Records(raw); err != nil {
		t.Error(err)
	}
}

package api_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// A margin that nobody has set yet is not priced, and the customer reads that of transport alone.
func TestCustomerReadsOfNoMargin(t *testing.T) {
	of := object{"customer_copy": true}
	q := priced(t, of)
	said := q["quote"].(object)
	said["rates_csv"] = strings.ReplaceAll(said["rates_csv"].(string), "margin,,percent,12", "margin,,percent,")
	style := regexp.MustCompile(`(?s)<style>.*?</style>`)
	for _, accept := range []string{"application/json", "text/csv", "text/plain", "text/html"} {
		w := askQuote(t, q, "Accept", accept)
		expect(t, w, http.StatusOK, accept)
		for _, never := range []string{"margin", "contingency"} {
			if strings.Contains(style.ReplaceAllString(w.Body.String(), ""), never) {
				t.Errorf("%s has %q", accept, never)
			}
		}
		if !strings.Contains(w.Body.String(), "Transport") {
			t.Errorf("%s says nothing of transport", accept)
		}
	}
}

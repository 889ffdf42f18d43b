package api

import (
	"testing"

	"wayhouse/api/export"
)

// The example of RFC 9110, section 12.5.1, and its table of qualities.
func TestQualityOfTheStandard(t *testing.T) {
	const header = "text/*;q=0.3, text/plain;q=0.7, text/plain;format=flowed, text/plain;format=fixed;q=0.4, */*;q=0.5"
	for media, want := range map[string]float64{"text/plain": 0.7, "text/html": 0.3, "image/jpeg": 0.5} {
		if got := quality(header, media); got != want {
			t.Errorf("%s: %g, want %g", media, got, want)
		}
	}
}

func TestAccepted(t *testing.T) {
	for _, tc := range []struct{ header, want string }{
		{"", "json"},
		{"*/*", "json"},
		{"application/json", "json"},
		{"APPLICATION/GEO+JSON", "geojson"},
		{"text/plain; charset=utf-8", "text"},
		{"text/*, application/json;q=0.9", "text"},
		{"application/*", "json"},
		{"application/json;q=0, application/*", "geojson"},
		{"application/json;q=0.2, application/geo+json;q=0.3", "geojson"},
		{"text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "html"}, // a browser
		{"text/plain;q=much", ""},
		{"image/*", "svg"},
		{"*/*;q=0", ""},
		{"text/html", "html"},
		{"nonsense", ""},
	} {
		got := ""
		if f := accepted(tc.header, export.Formats()); f != nil {
			got = f.Name
		}
		if got != tc.want {
			t.Errorf("%q: %q, want %q", tc.header, got, tc.want)
		}
	}
}

package data

import (
	"strings"
	"testing"
)

func TestSources(t *testing.T) {
	for _, s := range Sources() {
		if s.ID == "" || s.Name == "" || s.From == "" || s.Date == "" || s.Attribution == "" || s.Licence == "" {
			t.Errorf("%+v leaves something out", s)
		}
		if s.LicenceFile == "" {
			continue
		}
		if raw, err := Files.ReadFile(s.LicenceFile); err != nil || len(raw) < 100 {
			t.Errorf("%s: licence of %d bytes, %v", s.ID, len(raw), err)
		}
	}
}

// Section 4 of the GeoGratis licence must be passed on.
func TestRoadsLicence(t *testing.T) {
	raw, err := Files.ReadFile("roads/GEOGRATIS-LICENCE.txt")
	if err != nil || !strings.Contains(string(raw), "4.0 WARRANTY, LIABILITY, INDEMNITY") {
		t.Errorf("%v", err)
	}
}

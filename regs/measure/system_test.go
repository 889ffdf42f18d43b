package measure

import "testing"

// Every word reads back as its system, and no other word is one.
func TestSystems(t *testing.T) {
	for i, word := range Systems() {
		var s System
		if err := s.UnmarshalText([]byte(word)); err != nil || s != System(i) || s.String() != word {
			t.Errorf("%s: %v, %v", word, s, err)
		}
		if b, err := s.MarshalText(); err != nil || string(b) != word {
			t.Errorf("%v: %s, %v", s, b, err)
		}
	}
	for _, word := range []string{"", "SI", "Metric", "imperial", "both "} {
		if s, err := ParseSystem(word); err == nil {
			t.Errorf("%q reads as %v", word, s)
		}
	}
	if _, err := System(3).MarshalText(); err == nil {
		t.Error("a fourth system has a word")
	}
}

package wire

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"wayhouse/regs/say"
)

// RepeatedKeys finds the keys that stand twice in an object of a JSON text, in the
// same letters or in capitals and small ones (RFC 8259, section 4: what a reader
// makes of them is not foreseeable; the one in use takes the last). Each error
// names the key, both values and their places. Within "properties", as
// GeoJSON has them, capitals make another key. It is asked about texts that
// can be read; of others it finds what it can.
func RepeatedKeys(raw []byte) []FieldError {
	s := keyScan{raw: raw, d: json.NewDecoder(bytes.NewReader(raw))}
	s.d.UseNumber()
	_, _ = s.value("", false)
	return s.found
}

// keyScan reads a JSON text and keeps what it finds.
type keyScan struct {
	raw   []byte
	d     *json.Decoder
	found []FieldError
}

// keyAt is a key of an object with its value, as far as it is shown.
type keyAt struct {
	name, value string
	after       int64 // where the text before the key ends
}

// value reads one value and returns it as it is shown.
func (s *keyScan) value(path string, foreign bool) (string, error) {
	token, err := s.d.Token()
	if err != nil {
		return "", err
	}
	switch token {
	case json.Delim('{'):
		return "{...}", s.object(path, foreign)
	case json.Delim('['):
		for i := 0; s.d.More(); i++ {
			if _, err := s.value(fmt.Sprintf("%s[%d]", path, i), foreign); err != nil {
				return "", err
			}
		}
		_, err := s.d.Token()
		return "[...]", err
	}
	return shown(token), nil
}

// shown is a value as an error shows it.
func shown(token json.Token) string {
	switch v := token.(type) {
	case string:
		return fmt.Sprintf("%q", Short(v))
	case nil:
		return "null"
	default:
		return fmt.Sprint(Short(fmt.Sprint(v)))
	}
}

// object reads the rest of an object. Foreign keys are those that this program
// gives no meaning.
func (s *keyScan) object(path string, foreign bool) error {
	seen := map[string]keyAt{}
	for s.d.More() {
		after := s.d.InputOffset()
		token, err := s.d.Token()
		if err != nil {
			return err
		}
		key := keyAt{name: token.(string), after: after} // a key is a text, or Token has failed
		own := strings.TrimPrefix(path+"."+key.name, ".")
		if key.value, err = s.value(own, foreign || key.name == "properties"); err != nil {
			return err
		}
		folded := key.name
		if !foreign {
			folded = Folded(key.name)
		}
		if first, twice := seen[folded]; twice {
			s.found = append(s.found, RepeatedKey(own, first.name, key.name, first.value, key.value, s.place(first),
				s.place(key)))
			continue
		}
		seen[folded] = key
	}
	_, err := s.d.Token()
	return err
}

// place says where a key begins.
func (s *keyScan) place(k keyAt) say.Remark {
	before := s.raw[:int(k.after)+bytes.IndexByte(s.raw[k.after:], '"')]
	return PlaceIn(1+bytes.Count(before, []byte("\n")), len(before)-bytes.LastIndexByte(before, '\n'))
}

// PlaceIn is a place in a text, counted from 1; columns are bytes.
func PlaceIn(line, column int) say.Remark {
	return say.That("error.place", "line", line, "column", column)
}

// Folded is a key without its capitals: two that fold to the same are taken for
// one by the decoder of JSON.
func Folded(key string) string { return strings.ToLower(strings.ToUpper(key)) }

// RepeatedKey is the error of a key that stands twice.
func RepeatedKey(field, first, second, value, other string, at, there say.Remark) FieldError {
	e := FieldError{
		Field:   field,
		Problem: say.That("error.key_twice", "value", value, "at", at, "other", other, "there", there),
		Fix:     say.That("fix.keep_one"),
	}
	if first != second {
		e.Problem = say.That("error.keys_alike", "key", first, "value", value, "at", at, "second", second, "other", other,
			"there", there)
		e.Fix = say.That("fix.keep_letters")
	}
	return e
}

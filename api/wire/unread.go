package wire

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"regexp"
	"strconv"
	"strings"

	"wayhouse/regs/say"
)

// NoJSON says why the library could not read a JSON text, and where.
func NoJSON(raw []byte, err error) say.Remark {
	var syntax *json.SyntaxError
	if !errors.As(err, &syntax) {
		return say.Of(err)
	}
	before := raw[:max(0, min(int(syntax.Offset)-1, len(raw)))]
	at := PlaceIn(1+bytes.Count(before, []byte("\n")), len(before)-bytes.LastIndexByte(before, '\n'))
	if int(syntax.Offset) >= len(raw) {
		return say.That("error.json_end", "at", at)
	}
	return say.That("error.json_sign", "sign", string(raw[syntax.Offset-1:syntax.Offset]), "at", at)
}

// noXML says why an XML text could not be read.
func noXML(d *xml.Decoder, err error) error {
	var ours say.Error
	if errors.As(err, &ours) {
		return say.Err(say.That("error.unread", "why", ours.Remark()))
	}
	line, _ := d.InputPos()
	return say.Err(say.That("error.unread_at_line", "line", line))
}

// NoYAML says why the library could not read a YAML text, and in which line.
func NoYAML(err error) say.Remark {
	why, line := err.Error(), 0
	if m := yamlLine.FindStringSubmatch(why); m != nil {
		line, _ = strconv.Atoi(m[1]) // digits
	}
	return say.That("error.no_yaml", "line", line, "why", yamlSlip(why))
}

var yamlLine = regexp.MustCompile(`line (\d+)`)

// yamlSlip is what the reader of YAML says, which has no more than a text for it: of
// slips that are often made in words of ours, of any other nothing.
func yamlSlip(why string) say.Remark {
	_, what, _ := strings.Cut(why, "yaml: ")
	for text, slip := range map[string]say.Remark{
		"expected ',' or '}'":            say.That("error.yaml_brace"),
		"expected ',' or ']'":            say.That("error.yaml_bracket"),
		"expected key":                   say.That("error.yaml_indent"),
		"expected '-' indicator":         say.That("error.yaml_indent"),
		"mapping values are not allowed": say.That("error.yaml_colon"),
		"could not find expected ':'":    say.That("error.yaml_no_colon"),
		"found a tab character":          say.That("error.yaml_tab"),
		"cannot start any token":         say.That("error.yaml_sign"),
		"unexpected end of stream":       say.That("error.yaml_end"),
		"already set in map":             say.That("error.yaml_twice"),
	} {
		if strings.Contains(what, text) {
			return slip
		}
	}
	return say.Remark{}
}

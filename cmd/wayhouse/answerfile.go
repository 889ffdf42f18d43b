package main

import (
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"wayhouse/regs/say"

	"go.yaml.in/yaml/v3"
)

// Answers go into a text by line and column, so that the rest of it stays as it was
// written. What was written is read again: a text that does not say what it should is
// refused, and nothing is lost.

// errForm is a form that answers are not written into.
var errForm = say.Err(say.That("error.form_not_written"))

// yamlText is a text with its nodes.
type yamlText struct {
	lines []string
	root  *yaml.Node
}

func parseText(text []byte) (*yamlText, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		return nil, err
	}
	if len(doc.Content) != 1 || doc.Content[0].Kind != yaml.MappingNode || doc.Content[0].Style&yaml.FlowStyle != 0 {
		return nil, errForm
	}
	return &yamlText{strings.Split(strings.TrimRight(string(text), "\n"), "\n"), doc.Content[0]}, nil
}

func (t *yamlText) bytes() []byte { return []byte(strings.Join(t.lines, "\n") + "\n") }

var segment = regexp.MustCompile(`[^.\[\]]+|\[\d+\]`)

// setField gives a field a value, as YAML writes it.
func setField(text []byte, path, value string) ([]byte, error) {
	t, err := parseText(text)
	if err != nil {
		return nil, err
	}
	names := segment.FindAllString(path, -1)
	at, rest := t.root, names
	var parent *yaml.Node
	for len(rest) > 0 {
		child := under(at, rest[0])
		if child == nil {
			break
		}
		parent, at, rest = at, child, rest[1:]
	}
	if len(rest) == 0 {
		err = t.replace(parent, at, value)
	} else {
		err = t.insert(at, rest, value)
	}
	if err != nil {
		return nil, err
	}
	return t.checked(text, names, value)
}

// under is what a field or a place of a list holds; nil for nothing.
func under(n *yaml.Node, name string) *yaml.Node {
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == name {
				return n.Content[i+1]
			}
		}
	case yaml.SequenceNode:
		if i, err := strconv.Atoi(strings.Trim(name, "[]")); err == nil && strings.HasPrefix(name, "[") &&
			i < len(n.Content) {
			return n.Content[i]
		}
	}
	return nil
}

// replace writes a value in the place of a scalar of one line.
func (t *yamlText) replace(parent, n *yaml.Node, value string) error {
	if n.Kind != yaml.ScalarNode || n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 || n.Value == "" && n.Style == 0 {
		return errForm
	}
	line := []rune(t.lines[n.Line-1])
	before, after := line[:n.Column-1], string(line[n.Column-1:])
	end := len(after)
	switch {
	case n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
		if end = 1 + strings.Index(after[1:], after[:1]) + 1; end == 1 || strings.Contains(after[1:end-1], `\`) {
			return errForm
		}
	case parent.Style&yaml.FlowStyle != 0:
		if i := strings.IndexAny(after, ",}]"); i >= 0 {
			end = i
		}
	default:
		if i := strings.Index(after, " #"); i >= 0 {
			end = i
		}
	}
	t.lines[n.Line-1] = string(before) + value + after[end:]
	return nil
}

// insert adds a field to a mapping, with the mappings that it stands in.
func (t *yamlText) insert(in *yaml.Node, names []string, value string) error {
	if in.Kind != yaml.MappingNode || slices.ContainsFunc(names, func(s string) bool { return s[0] == '[' }) {
		return errForm
	}
	if in.Style&yaml.FlowStyle != 0 {
		return t.insertFlow(in, strings.Join(names, ": {")+": "+value+strings.Repeat("}", len(names)-1))
	}
	indent := strings.Repeat(" ", in.Column-1)
	var add []string
	for i, name := range names {
		add = append(add, indent+strings.Repeat("  ", i)+name+":")
	}
	add[len(add)-1] = strings.Replace(add[len(add)-1]+" "+value, " \n", "\n", 1)
	t.lines = slices.Insert(t.lines, lastLine(in), add...)
	return nil
}

// insertFlow adds a field before the brace that closes a mapping in braces, on the line of
// that brace. A comment between its lines may hold a brace too: such a text is refused.
func (t *yamlText) insertFlow(in *yaml.Node, field string) error {
	quote, depth := rune(0), 0
	for at := in.Line - 1; at < len(t.lines); at++ {
		line, from := []rune(t.lines[at]), 0
		if at == in.Line-1 {
			from = in.Column - 1
		}
		for i := from; i < len(line); i++ {
			switch c := line[i]; {
			case quote != 0:
				if c == quote {
					quote = 0
				}
			case c == '#' && (i == 0 || line[i-1] == ' '):
				return errForm
			case c == '"' || c == '\'':
				quote = c
			case c == '{':
				depth++
			case c == '}':
				if depth--; depth > 0 {
					continue
				}
				if len(in.Content) > 0 {
					field = ", " + field
				}
				t.lines[at] = strings.TrimRight(string(line[:i]), " ") + field + string(line[i:])
				return nil
			}
		}
	}
	return errForm
}

// lastLine is the line on which a node ends, as far as its parts tell.
func lastLine(n *yaml.Node) int {
	last := n.Line
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		last += strings.Count(strings.TrimRight(n.Value, "\n"), "\n") + 1
	}
	for _, child := range n.Content {
		last = max(last, lastLine(child))
	}
	return last
}

// appendItem adds an item to a list, which it begins where there is none.
func appendItem(text []byte, path, item string) ([]byte, error) {
	t, err := parseText(text)
	if err != nil {
		return nil, err
	}
	names := segment.FindAllString(path, -1)
	at := t.root
	for i, name := range names {
		child := under(at, name)
		if child == nil {
			return setField(text, path, "\n"+strings.Repeat("  ", i+1)+"- "+item)
		}
		at = child
	}
	if at.Kind != yaml.SequenceNode || at.Style&yaml.FlowStyle != 0 || len(at.Content) == 0 {
		return nil, errForm
	}
	dash := strings.Repeat(" ", max(at.Content[0].Column-len("- ")-1, 0)) + "- "
	t.lines = slices.Insert(t.lines, lastLine(at), dash+item)
	return t.checked(text, append(names, fmt.Sprintf("[%d]", len(at.Content))), item)
}

// checked is the new text, if all that it says beside the old one is the value of a field.
func (t *yamlText) checked(old []byte, names []string, value string) ([]byte, error) {
	var was, is, want any
	out := t.bytes()
	if yaml.Unmarshal(old, &was) != nil || yaml.Unmarshal(out, &is) != nil ||
		yaml.Unmarshal([]byte(value), &want) != nil ||
		!reflect.DeepEqual(with(was, names, want), is) {
		return nil, errForm
	}
	return out, nil
}

// with is a value with a field set.
func with(in any, names []string, value any) any {
	if len(names) == 0 {
		return value
	}
	if list, ok := in.([]any); ok {
		i, _ := strconv.Atoi(strings.Trim(names[0], "[]"))
		if i == len(list) {
			list = append(list, nil)
		}
		if i < len(list) {
			list[i] = with(list[i], names[1:], value)
		}
		return list
	}
	fields, ok := in.(map[string]any)
	if !ok {
		fields = map[string]any{}
	}
	fields[names[0]] = with(fields[names[0]], names[1:], value)
	return fields
}

// plain is a text that needs no quotes anywhere in YAML.
var plain = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_.\-]*$`)

// scalar writes a value: a number and a word as they are, everything else in quotes.
func scalar(value string) string {
	var number any
	if err := yaml.Unmarshal([]byte(value), &number); err == nil {
		switch number.(type) {
		case int, float64, bool:
			return value
		}
	}
	if plain.MatchString(value) {
		if _, isText := number.(string); isText {
			return value
		}
	}
	return quoted(value)
}

// quoted writes a text in double quotes.
func quoted(text string) string {
	raw, _ := json.Marshal(text) // a text
	return string(raw)
}

package main

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// A file with two heights would read as one of them.

// onceInYAML refuses a file in which a key stands twice in one object, in whatever
// letters. The text is known to be readable.
func onceInYAML(path string, raw []byte) error {
	var doc yaml.Node
	if err := yaml.Unmarshal(raw, &doc); err != nil {
		return nil // the reader says what is wrong with it
	}
	return onceInNode(path, "", &doc)
}

func onceInNode(path, at string, n *yaml.Node) error {
	if n.Kind != yaml.MappingNode {
		for i, child := range n.Content {
			under := at
			if n.Kind == yaml.SequenceNode {
				under = fmt.Sprintf("%s[%d]", at, i)
			}
			if err := onceInNode(path, under, child); err != nil {
				return err
			}
		}
		return nil
	}
	seen := map[string][2]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		field := strings.TrimPrefix(at+"."+key.Value, ".")
		if first, twice := seen[wire.Folded(key.Value)]; twice {
			return inFile(path, wire.RepeatedKey(field, first[0].Value, key.Value, shownNode(first[1]), shownNode(value),
				placeOf(first[0]), placeOf(key)))
		}
		seen[wire.Folded(key.Value)] = [2]*yaml.Node{key, value}
		// of GeoJSON, without a meaning here; those twice in the same letters the reader refuses
		if key.Value == "properties" {
			continue
		}
		if err := onceInNode(path, field, value); err != nil {
			return err
		}
	}
	return nil
}

func placeOf(n *yaml.Node) say.Remark { return wire.PlaceIn(n.Line, n.Column) }

func shownNode(n *yaml.Node) string {
	switch n.Kind {
	case yaml.ScalarNode:
		return fmt.Sprintf("%q", n.Value)
	case yaml.SequenceNode:
		return "[...]"
	default:
		return "{...}"
	}
}

// onceInJSON is onceInYAML for JSON.
func onceInJSON(path string, raw []byte) error {
	if twice := wire.RepeatedKeys(raw); len(twice) > 0 {
		return inFile(path, twice[0])
	}
	return nil
}

func inFile(path string, e wire.FieldError) error {
	return &measure.FieldError{Field: path + ", field " + e.Field, Problem: e.Problem, Fix: e.Fix}
}

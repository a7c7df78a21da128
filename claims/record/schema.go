package record

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Schema gives the JSON Schema (draft 07) of a record, for editors and other
// tools. It is made from the tables of keys that the loader goes by. It is a
// little wider than the loader: whether a quantity makes sense, words decode and
// dates follow each other is for the loader to say.
func Schema() []byte {
	root := object(recordKeys)
	root.Schema = "http://json-schema.org/draft-07/schema#"
	root.ID = fmt.Sprintf("urn:gainsay:record:%d", Version)
	root.Title = "A record of one cable, for gainsay"
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(root); err != nil {
		panic(err) // it holds nothing that cannot be encoded
	}
	return b.Bytes()
}

// SchemaName is what a draft expects the schema's file to be called.
const SchemaName = "gainsay.schema.json"

// shape is a JSON Schema.
type shape struct {
	Schema      string     `json:"$schema,omitempty"`
	ID          string     `json:"$id,omitempty"`
	Title       string     `json:"title,omitempty"`
	Description string     `json:"description,omitempty"`
	Type        []string   `json:"type,omitempty"`
	Enum        []any      `json:"enum,omitempty"`
	Pattern     string     `json:"pattern,omitempty"`
	Examples    []string   `json:"examples,omitempty"`
	Items       *shape     `json:"items,omitempty"`
	Required    []string   `json:"required,omitempty"`
	AnyOf       []*shape   `json:"anyOf,omitempty"`
	Properties  properties `json:"properties,omitempty"`
	// Additional is false where no key but those listed may stand, or the shape
	// that others have.
	Additional any `json:"additionalProperties,omitempty"`
}

// property is one key of an object; properties keep their order.
type property struct {
	name  string
	shape *shape
}

type properties []property

// MarshalJSON writes an object with the keys in order.
func (ps properties) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, p := range ps {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := json.Marshal(p.name)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		var value bytes.Buffer
		enc := json.NewEncoder(&value)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(p.shape); err != nil {
			return nil, err
		}
		b.Write(bytes.TrimSpace(value.Bytes()))
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// object is the shape of a mapping with a table of keys. A key without a value is
// silence, except where it is required.
func object[T any](table []key[T]) *shape {
	s := &shape{Type: []string{"object"}, Additional: false}
	for i := range table {
		k := &table[i]
		p := *k.shape()
		p.Description = k.help
		if k.required {
			s.Required = append(s.Required, k.name)
		} else {
			p = p.orSilent()
		}
		s.Properties = append(s.Properties, property{k.name, &p})
	}
	return s
}

// orSilent lets a shape be null too.
func (s shape) orSilent() shape {
	switch {
	case s.AnyOf != nil:
		s.AnyOf = append(append([]*shape{}, s.AnyOf...), &shape{Type: []string{"null"}})
	case s.Enum != nil:
		s.Enum = append(append([]any{}, s.Enum...), nil)
	default:
		s.Type = append(append([]string{}, s.Type...), "null")
	}
	return s
}

// anyText is any single value, since YAML makes numbers and truths of some texts.
func anyText() *shape { return &shape{Type: []string{"string", "number", "boolean"}} }

// someText is a single value that is not empty.
func someText() *shape {
	return &shape{Type: []string{"string", "number", "boolean"}, Pattern: `\S`}
}

func exampleText(example string) *shape {
	s := anyText()
	s.Examples = []string{example}
	return s
}

// amountShape is a text with a number and a unit.
func amountShape(s sign, hint string) *shape {
	pattern := `^(?=.*[0-9])(?=.*[^0-9\s.,eE+−-])`
	if s != anySign {
		pattern = `^(?!\s*[−-])(?=.*[0-9])(?=.*[^0-9\s.,eE+−-])`
	}
	return &shape{Type: []string{"string"}, Pattern: pattern, Examples: []string{hint}}
}

func truthShape() *shape { return &shape{Enum: []any{true, false, "true", "false"}} }

func accuracyShape() *shape {
	return &shape{Type: []string{"string"}, Pattern: "[0-9]", Examples: []string{"0.05 % + 20 µV"}}
}

func dateShape() *shape {
	return &shape{Type: []string{"string"}, Pattern: `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`, Examples: []string{"2026-10-05"}}
}

// aboutShape is a mapping with any keys.
func aboutShape() *shape {
	other := anyText().orSilent()
	return &shape{Type: []string{"object"}, Additional: &other}
}

func namesShape(names []string) *shape {
	s := &shape{}
	for _, n := range names {
		s.Enum = append(s.Enum, n)
	}
	return s
}

// orList is one value or a list of them.
func orList(item *shape) *shape {
	return &shape{AnyOf: []*shape{item, {Type: []string{"array"}, Items: item}}}
}

// readingShape is a reading: a current and a drop.
func readingShape() *shape {
	s := object(readingKeys)
	for _, drop := range []string{"vbus", "ground", "loop"} {
		s.AnyOf = append(s.AnyOf, &shape{Required: []string{drop}})
	}
	return s
}

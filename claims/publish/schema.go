package publish

import "embed"

// schemas are written by the package's tests from the structs and their comments.
//
//go:embed schema/*.json
var schemas embed.FS

// schemaNames are the outputs with a schema: those of check, decode, shelf, ohms,
// ports, rules, layout, compose and sample.
var schemaNames = []string{"report", "decode", "shelf", "ohms", "ports", "rules", "layout", "compose", "sample"}

// Schemas lists the JSON forms that have a schema: "report" is what check prints,
// the others are called like their commands.
func Schemas() []string { return append([]string(nil), schemaNames...) }

// Schema gives the JSON Schema (draft 07) of one object of a form that Schemas
// lists, and reports false for any other name. Keys and values that a schema does
// not know may come with a later version; those it requires stay.
func Schema(name string) ([]byte, bool) {
	text, err := schemas.ReadFile("schema/" + name + ".schema.json")
	return text, err == nil
}

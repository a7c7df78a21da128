package main

import (
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
)

var schemaCommand = command{
	name:    "schema",
	summary: "print the JSON Schema of a record, or of what --json prints",
	usage:   "[options] [NAME]",
	help: `
Prints a JSON Schema (draft 07). That of a record, which is printed where
nothing is named, is made from the same table of keys as the reader of records.
An editor that knows schemas completes keys and marks mistakes while a record is
written; a record made by 'gainsay draft' points to
` + record.SchemaName + ` in its own folder.

The others are for one object, or one line, of what a command prints with
--json: report is that of check, the others are called like their commands. What
a schema requires stays; later versions may add keys, and values to lists of
values. Names:
` + strings.Join(schemaNames(), ", ") + `.

Example:
  gainsay schema report > report.schema.json
`,
	flags: func(fs *pflag.FlagSet) { outputFlag(fs) },
	run:   runSchema,
}

// recordSchema names the record's schema among the others.
const recordSchema = "record"

func schemaNames() []string { return append([]string{recordSchema}, publish.Schemas()...) }

func runSchema(e *env, fs *pflag.FlagSet) int {
	name := recordSchema
	switch fs.NArg() {
	case 0:
	case 1:
		name = fs.Arg(0)
	default:
		e.fail("schema: name one schema: %s", strings.Join(schemaNames(), ", "))
		return exitUndone
	}
	text, ok := record.Schema(), true
	if name != recordSchema {
		if text, ok = publish.Schema(name); !ok {
			e.fail("schema: no schema is called %q; the names are %s", publish.Plain(name), strings.Join(schemaNames(), ", "))
			return exitUndone
		}
	}
	done, ok := e.toFile("schema", fs)
	if !ok {
		return exitUndone
	}
	e.out.Write(text)
	if !done(true) {
		return exitUndone
	}
	return exitDone
}

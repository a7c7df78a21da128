package main

import (
	"github.com/spf13/pflag"

	"example.com/gainsay/claims/record"
)

var schemaCommand = command{
	name:    "schema",
	summary: "print the JSON Schema of a record, for editors",
	usage:   "[options]",
	help: `
Prints the JSON Schema (draft 07) of a record. It is made from the same table of
keys as the reader of records. An editor that knows schemas completes keys and
marks mistakes while a record is written; a record made by 'gainsay draft' points
to ` + record.SchemaName + ` in its own folder.

Example:
  gainsay schema > ` + record.SchemaName + `
`,
	flags: func(fs *pflag.FlagSet) { outputFlag(fs) },
	run:   runSchema,
}

func runSchema(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() > 0 {
		e.fail("schema: takes no argument; the schema goes to stdout, or to a file with -o")
		return exitUndone
	}
	done, ok := e.toFile("schema", fs)
	if !ok {
		return exitUndone
	}
	e.out.Write(record.Schema())
	if !done(true) {
		return exitUndone
	}
	return exitDone
}

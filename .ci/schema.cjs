// Holds gainsay.schema.json against records with an independent validator. Run by
// .ci/run, which installs the packages; arguments: the folder of the packages, the
// schema, the list of records, then YAML files whose documents must all be valid.
"use strict";
const fs = require("fs"), path = require("path");
const [modules, schemaFile, listFile, ...yamlFiles] = process.argv.slice(2);
const need = (name) => require(path.join(modules, "node_modules", name));
const Ajv = need("ajv").default, YAML = need("yaml");

const schema = JSON.parse(fs.readFileSync(schemaFile, "utf8"));
const ajv = new Ajv({ strict: true, allowUnionTypes: true, strictTypes: false, strictRequired: false, allErrors: true });
if (!ajv.validateSchema(schema)) throw new Error("the schema is none: " + ajv.errorsText());
const validate = ajv.compile(schema);

let failed = 0, counts = { valid: 0, refused: 0, documents: 0 };
const fail = (text) => { failed++; console.log(text); };
for (const line of fs.readFileSync(listFile, "utf8").trim().split("\n")) {
  const one = JSON.parse(line), got = validate(one.record);
  counts[got ? "valid" : "refused"]++;
  if (got !== one.schema) fail(`${one.about}: valid is ${got}, want ${one.schema}: ${ajv.errorsText(validate.errors)}`);
}
for (const file of yamlFiles) {
  for (const doc of YAML.parseAllDocuments(fs.readFileSync(file, "utf8"))) {
    counts.documents++;
    // "null" as a key is a word here, as it is to the loader, not YAML's null.
    YAML.visit(doc, { Pair(_, pair) { if (pair.key && pair.key.value === null) pair.key.value = "null"; } });
    if (doc.errors.length || !validate(doc.toJS())) fail(`${file}: ${doc.errors[0] || ajv.errorsText(validate.errors)}`);
  }
}
console.log(`${counts.valid} valid, ${counts.refused} refused, ${counts.documents} documents of example files`);
if (counts.valid < 20 || counts.refused < 25 || counts.documents < 60) fail("too few were looked at");
process.exit(failed ? 1 : 0);

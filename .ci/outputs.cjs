// Holds the schemas of the outputs against outputs with an independent validator.
// Run by .ci/run; arguments: the folder of the packages, the folder that has
// NAME.schema.json and NAME.jsonl for each output.
//
// Each object must be valid, have no key that its schema does not name, stay valid
// with a key more, and be refused once a required key is gone, a value is of another
// type, or a text is none of its list. Each key of a schema must be in some output.
"use strict";
const fs = require("fs"), path = require("path");
const [modules, folder] = process.argv.slice(2);
const Ajv = require(path.join(modules, "node_modules", "ajv")).default;

let failed = 0;
const fail = (text) => { if (++failed <= 20) console.log(text); };
const copy = (v) => JSON.parse(JSON.stringify(v));

// closed is a schema that allows no keys but those it names.
function closed(schema) {
  const s = copy(schema);
  for (const d of Object.values(s.definitions)) d.additionalProperties = false;
  return s;
}

// places are the objects and values within an object: what holds it, and its key.
function* places(v) {
  for (const key of Object.keys(v)) {
    yield [v, key];
    if (v[key] && typeof v[key] === "object") yield* places(v[key]);
  }
}

const otherType = (v) => typeof v === "string" ? 12345 : Array.isArray(v) ? {} : v && typeof v === "object" ? [] : "text";

const seenKeys = new Set(), allKeys = new Set(), unproven = new Map();
for (const file of fs.readdirSync(folder).filter((f) => f.endsWith(".schema.json")).sort()) {
  const name = file.replace(".schema.json", "");
  const schema = JSON.parse(fs.readFileSync(path.join(folder, file), "utf8"));
  const compile = (s) => new Ajv({ strict: true, strictRequired: false, allErrors: false }).compile(s);
  const valid = compile(schema), exact = compile(closed(schema));
  for (const [d, def] of Object.entries(schema.definitions)) for (const k of Object.keys(def.properties)) allKeys.add(`${name}: ${d}.${k}`);
  const lines = fs.readFileSync(path.join(folder, name + ".jsonl"), "utf8").trim().split("\n");
  const n = { objects: 0, keys: 0, refused: 0 }, tried = new Set();
  for (const line of lines) {
    const object = JSON.parse(line);
    n.objects++;
    if (!valid(object)) fail(`${name}: ${JSON.stringify(valid.errors[0])}: ${line.slice(0, 300)}`);
    else if (!exact(object)) fail(`${name}: ${JSON.stringify(exact.errors)}: ${line.slice(0, 300)}`);
    // Each place of the output is spoilt once, in the first object that has it.
    const walk = (v, at) => {
      for (const key of Object.keys(v)) {
        const here = `${at}.${Array.isArray(v) ? "[]" : key}`;
        if (!tried.has(here)) {
          tried.add(here);
          n.keys++;
          const old = v[key];
          v[key] = otherType(old);
          if (valid(object)) fail(`${name}: ${here} may be ${JSON.stringify(v[key])}`);
          else n.refused++;
          v[key] = old;
        }
        if (v[key] && typeof v[key] === "object") walk(v[key], here);
      }
    };
    walk(object, "");
    object.a_key_to_come = [1];
    if (!valid(object)) fail(`${name}: a key more is refused: ${JSON.stringify(valid.errors[0])}`);
    delete object.a_key_to_come;
  }
  // Required keys and lists of values, by definition.
  for (const [d, def] of Object.entries(schema.definitions)) {
    const one = compile({ ...schema, anyOf: [{ $ref: `#/definitions/${d}` }] });
    const isOne = compile({ ...closed(schema), anyOf: [{ $ref: `#/definitions/${d}` }] });
    const required = new Set(def.required), lists = new Set(Object.keys(def.properties).filter((k) => def.properties[k].enum));
    const sample = (o) => {
      if (!isOne(o)) return;
      for (const k of Object.keys(o)) seenKeys.add(`${name}: ${d}.${k}`);
      for (const k of [...required]) {
        const { [k]: gone, ...rest } = o;
        if (gone === undefined) continue;
        required.delete(k);
        if (one(rest)) fail(`${name}: a ${d} may be without ${k}`);
        else n.refused++;
      }
      for (const k of [...lists]) {
        if (!(k in o)) continue;
        lists.delete(k);
        if (one({ ...o, [k]: typeof o[k] === "string" ? "none of these" : 99 })) fail(`${name}: ${k} of a ${d} may be anything`);
        else n.refused++;
      }
    };
    for (const line of lines) {
      const object = JSON.parse(line);
      sample(object);
      for (const [holder, key] of places(object)) {
        const v = holder[key];
        if (v && typeof v === "object" && !Array.isArray(v)) sample(v);
      }
    }
    // A definition that several outputs share is proven by one of them.
    if (!required.size) unproven.set(d, "");
    else if (unproven.get(d) !== "") unproven.set(d, `${name}: no output has a ${d} with ${[...required]}`);
  }
  console.log(`${name}: ${n.objects} objects, ${n.keys} places, ${n.refused} spoilt ones refused`);
  if (!n.objects || n.refused < n.keys) fail(`${name}: too few were looked at`);
}
for (const why of unproven.values()) if (why) fail(why);
// Only a rule at fault makes the one; no rule ends with a version yet.
const notYet = ["report: Report.broken", "rules: Window.until"];
const unseen = [...allKeys].filter((k) => !seenKeys.has(k) && !notYet.includes(k));
if (unseen.length) fail(`no output has ${unseen.join(", ")}`);
console.log(`${allKeys.size} keys of all schemas; in no output: ${notYet.join(", ")}`);
process.exit(failed ? 1 : 0);

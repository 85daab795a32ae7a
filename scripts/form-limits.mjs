// Writes what the API allows in the fields of each request, for the desk's forms: lengths, ranges and what must be there.
import { readFileSync, writeFileSync } from 'node:fs';

const [from, to] = process.argv.slice(2);
const { paths, components } = JSON.parse(readFileSync(from, 'utf8'));

const bodies = new Set();
for (const operations of Object.values(paths))
  for (const { requestBody } of Object.values(operations)) {
    const name = requestBody?.content?.['application/json']?.schema?.$ref?.split('/').at(-1);
    if (name) bodies.add(name);
  }

/** A field that may be null is limited by what it is otherwise. */
const plain = (schema) => schema.anyOf?.find(({ type }) => type !== 'null') ?? schema;

const limitsOf = ({ properties = {}, required = [] }) =>
  Object.fromEntries(
    Object.entries(properties).flatMap(([name, schema]) => {
      const { maxLength, minimum, maximum } = plain(schema);
      const limit = { ...(required.includes(name) && { required: true }), maxLength, minimum, maximum };
      return Object.values(limit).some((value) => value !== undefined) ? [[`#/${name}`, limit]] : [];
    }),
  );

const limits = Object.fromEntries([...bodies].sort().map((name) => [name, limitsOf(components.schemas[name])]));
writeFileSync(to, JSON.stringify(limits));

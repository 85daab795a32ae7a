// Writes what the API allows in the fields of each request, for the desk's forms: lengths, ranges, how many, and what must be there.
import { readFileSync, writeFileSync } from 'node:fs';

const [from, to] = process.argv.slice(2);
const { paths, components } = JSON.parse(readFileSync(from, 'utf8'));

const named = (schema) => (schema.$ref ? components.schemas[schema.$ref.split('/').at(-1)] : schema);

/** A field that may be null, or empty as a fixed word, is limited by what it is otherwise. */
const alternatives = (schema) =>
  (named(schema).anyOf ?? [schema]).map(named).filter((one) => one.type !== 'null' && one.const === undefined);

/** What every whole number is limited by is no limit of this field. */
const told = (number) => (Math.abs(number) < Number.MAX_SAFE_INTEGER ? number : undefined);

/** The limits of an object's fields by their pointers, those of a list's lines under "*". */
function limitsOf({ properties = {}, required = [] }, at = '#') {
  return Object.entries(properties).flatMap(([name, schema]) => {
    const [first = {}, ...others] = alternatives(schema);
    const { maxLength, maxItems, minimum, maximum } = first;
    const limit = {
      ...(at === '#' && required.includes(name) && { required: true }), // a line that is left empty is not sent
      ...{ maxLength, maxItems, minimum: told(minimum), maximum: told(maximum) },
    };
    const own = Object.values(limit).some((value) => value !== undefined) ? [[`${at}/${name}`, limit]] : [];
    if (others.length > 0) return own; // which of them it is, is seen only when it is sent
    const lines = first.items ? limitsOf(named(first.items), `${at}/${name}/*`) : [];
    return [...own, ...limitsOf(first, `${at}/${name}`), ...lines];
  });
}

const operations = Object.entries(paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, operation]) => ({ path, method, ...operation })),
);
const bodies = new Set(
  operations.flatMap(({ requestBody }) => {
    const ref = requestBody?.content?.['application/json']?.schema?.$ref;
    return ref ? [ref.split('/').at(-1)] : [];
  }),
);
/** What can be looked for in a list: words, and no more than so many. */
const searches = operations.flatMap(({ path, method, parameters = [] }) => {
  const limits = parameters
    .filter(({ in: where, name, schema }) => where === 'query' && /^(q|search)$/.test(name) && schema.maxLength)
    .map(({ name, schema }) => [`?${name}`, { maxLength: schema.maxLength }]);
  return method === 'get' && limits.length > 0 ? [[`GET ${path}`, Object.fromEntries(limits)]] : [];
});

const limits = Object.fromEntries([
  ...[...bodies].sort().map((name) => [name, Object.fromEntries(limitsOf(components.schemas[name]))]),
  ...searches,
]);
writeFileSync(to, JSON.stringify(limits));

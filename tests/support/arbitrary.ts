import fc, { type Arbitrary } from 'fast-check';

export interface JsonSchema {
  $ref?: string;
  type?: string;
  enum?: unknown[];
  const?: unknown;
  anyOf?: JsonSchema[];
  oneOf?: JsonSchema[];
  allOf?: JsonSchema[];
  properties?: Record<string, JsonSchema>;
  required?: string[];
  items?: JsonSchema;
  format?: string;
  pattern?: string;
  minLength?: number;
  maxLength?: number;
  minItems?: number;
  maxItems?: number;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
}

export interface World {
  schemas: Record<string, JsonSchema>;
  /** Ids that may fit a field of this name. */
  ids(field: string): string[];
}

const JUNK = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    '',
    ' ',
    0,
    -1,
    1.5,
    1e308,
    2 ** 53,
    true,
    [],
    {},
    '\u0000',
    "'; DROP TABLE person; --",
  ),
  fc.constantFrom<unknown>('\u202e', '9'.repeat(400), '2026-02-30', '0000-01-01', '9999-12-31T23:59:59Z', '-0', 'NaN', [
    [],
  ]),
  fc.jsonValue({ maxDepth: 2 }),
);

/** What a schema allows; now and then, in some place, what it does not. `field` is the name under which it stands. */
export function arbitrary(schema: JsonSchema, world: World, field = ''): Arbitrary<unknown> {
  return fc.oneof({ arbitrary: fitting(schema, world, field, 0), weight: 2 }, fitting(schema, world, field, 8));
}

/** @param junk in how many of a hundred places stands what the schema forbids */
function fitting(schema: JsonSchema, world: World, field: string, junk: number): Arbitrary<unknown> {
  const proper = allowed(schema, world, field, junk);
  return junk === 0 ? proper : fc.oneof({ arbitrary: proper, weight: 100 - junk }, { arbitrary: JUNK, weight: junk });
}

function allowed(schema: JsonSchema, world: World, field: string, junk: number): Arbitrary<unknown> {
  const choices = schema.anyOf ?? schema.oneOf ?? schema.allOf;
  if (schema.$ref) return fitting(world.schemas[schema.$ref.split('/').pop() ?? ''] ?? {}, world, field, junk);
  if (choices) return fc.oneof(...choices.map((each) => fitting(each, world, field, junk)));
  if (schema.enum) return fc.constantFrom(...schema.enum);
  if ('const' in schema) return fc.constant(schema.const);
  switch (schema.type) {
    case 'object':
      return object(schema, world, junk);
    case 'array': {
      const { minItems: minLength = 0, maxItems = 4, items = {} } = schema;
      return fc.array(fitting(items, world, field, junk), {
        minLength,
        maxLength: Math.max(minLength, Math.min(maxItems, 4)),
      });
    }
    case 'string':
      return text(schema, world, field);
    case 'integer':
      return fc.oneof(
        fc.integer({ min: bounds(schema).min, max: Math.min(bounds(schema).max, Math.max(200, bounds(schema).min)) }),
        fc.integer(bounds(schema)),
      );
    case 'number':
      return fc.double({ ...bounds(schema), noNaN: true });
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    default:
      return JUNK;
  }
}

function object({ properties = {}, required = [] }: JsonSchema, world: World, junk: number): Arbitrary<unknown> {
  const fields = Object.entries(properties).map(
    ([name, schema]) => [name, fitting(schema, world, name, junk)] as const,
  );
  return fc.record(Object.fromEntries(fields), { requiredKeys: required });
}

function bounds({ minimum, maximum, exclusiveMinimum, exclusiveMaximum }: JsonSchema) {
  const min = minimum ?? (exclusiveMinimum === undefined ? -1000 : exclusiveMinimum + 1);
  const max = maximum ?? (exclusiveMaximum === undefined ? 1000 : exclusiveMaximum - 1);
  return { min: Math.max(min, -(2 ** 31)), max: Math.max(Math.min(max, 2 ** 31 - 1), min) };
}

function text(schema: JsonSchema, world: World, field: string): Arbitrary<string> {
  const { format, pattern, minLength = 0, maxLength = 60 } = schema;
  switch (format) {
    case 'uuid': {
      const known = world.ids(field);
      return known.length > 0 ? fc.oneof({ arbitrary: fc.constantFrom(...known), weight: 9 }, fc.uuid()) : fc.uuid();
    }
    case 'date':
      return moment().map((at) => at.slice(0, 10));
    case 'date-time':
      return moment();
    case 'email':
      return fc.nat(1e6).map((n) => `someone${n}@example.org`);
    default: {
      const max = Math.min(maxLength, 60);
      const drawn = pattern
        ? fc.stringMatching(new RegExp(pattern), { maxLength: max })
        : fc.string({ minLength, maxLength: max });
      return drawn.map((each) => each.slice(0, max).padEnd(Math.min(minLength, max), 'x'));
    }
  }
}

/** Mostly near the days of which the demo tells. */
const moment = () =>
  fc
    .oneof(
      {
        arbitrary: fc.date({ min: new Date('2026-01-01'), max: new Date('2026-06-01'), noInvalidDate: true }),
        weight: 9,
      },
      fc.date({ min: new Date('0001-01-01'), max: new Date('9999-12-31'), noInvalidDate: true }),
    )
    .map((at) => at.toISOString());

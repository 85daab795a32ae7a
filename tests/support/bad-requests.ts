import { z } from 'zod';

type Json = { [name: string]: unknown };

const EXAMPLES: Record<string, unknown> = {
  uuid: '0199a0a0-0000-7000-8000-000000000000',
  email: 'ines@example.org',
  date: '2026-03-31',
  'date-time': '2026-03-31T18:30:00Z',
  time: '18:30:00',
};

/** What fits no field, or only a field of another kind. */
const WRONG: readonly unknown[] = [
  undefined,
  null,
  true,
  '',
  'neither this nor that',
  'x'.repeat(5000),
  '2026-02-30',
  '1850-01-01',
  '12.3456789',
  -1,
  0,
  1.5,
  1e15,
  Number.NaN,
  [],
  [null],
  Array(20).fill('0199a0a0-0000-7000-8000-000000000000'),
  Array(1000).fill({}),
  {},
  { notAField: 1 },
];

/** A request as the contract describes it, with one thing in it wrong: each place in turn, each in many ways. */
export function* badRequests(contract: z.ZodType): Generator<unknown> {
  const root = z.toJSONSchema(contract, { io: 'input', unrepresentable: 'any' }) as Json;
  const defs = (root.$defs ?? {}) as Record<string, Json>;
  for (const sample of samplesOf(root, defs)) yield* spoilt(sample);
}

/** Values that have every field, one for each kind that a field of several kinds may be. */
function samplesOf(schema: Json, defs: Record<string, Json>, depth = 0): unknown[] {
  if (depth > 12) return [null];
  const inner = (each: unknown) => samplesOf(each as Json, defs, depth + 1);
  if (typeof schema.$ref === 'string') return inner(defs[schema.$ref.replace('#/$defs/', '')] ?? {});
  const ways = (schema.anyOf ?? schema.oneOf) as Json[] | undefined;
  if (ways) return ways.flatMap(inner);
  if (schema.const !== undefined) return [schema.const];
  if (Array.isArray(schema.enum)) return [schema.enum[0]];
  switch (schema.type) {
    case 'object': {
      const fields = Object.entries((schema.properties ?? {}) as Record<string, Json>).map(
        ([name, each]) => [name, inner(each)] as const,
      );
      const kinds = Math.max(1, ...fields.map(([, values]) => values.length));
      return Array.from({ length: kinds }, (_, i) =>
        Object.fromEntries(fields.map(([name, values]) => [name, values[i % values.length]])),
      );
    }
    case 'array':
      return inner(schema.items ?? {}).map((item) => [item]);
    case 'integer':
    case 'number':
      return [Math.max(1, Number(schema.minimum ?? 1))];
    case 'boolean':
      return [true];
    case 'null':
      return [null];
    default:
      return [EXAMPLES[String(schema.format)] ?? '12'];
  }
}

function* spoilt(value: unknown): Generator<unknown> {
  yield* WRONG;
  if (Array.isArray(value)) {
    for (const [i, item] of value.entries()) for (const bad of spoilt(item)) yield value.with(i, bad);
  } else if (typeof value === 'object' && value !== null) {
    yield { ...value, notAField: 1 };
    for (const [name, field] of Object.entries(value)) for (const bad of spoilt(field)) yield { ...value, [name]: bad };
  }
}

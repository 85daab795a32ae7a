import type { JsonSchema } from './arbitrary.js';

/** Signs of which long texts are known to be dear: each is a case that some reader of text takes long over. */
export const DEAR_SIGNS: Record<string, string> = {
  letters: 'a',
  blanks: ' ',
  'digits and points': '1.',
  'letters and points': 'a.',
  'signs and at signs': '!@',
  'Chinese letters': '漢',
  'letters with a mark of their own': 'a\u0301',
  'marks alone, out of order': '\u0301\u0323',
  'half flags': '\u{1f1ec}',
  'joined people': '👩\u200d',
  'halves of a sign': '\ud800',
  'commas and quotes': '",',
};

export function textOf(sign: string, length: number): string {
  const text = sign.repeat(Math.ceil(length / sign.length)).slice(0, length);
  return sign === ' ' ? text.replace(/^ (.*) $/, '1$1!') : text; // blanks alone would be trimmed away
}

type Schemas = Record<string, JsonSchema>;

/** The text that a place of a schema is given, undefined for a plain one; and how long a list is, lists within it aside. */
export interface Lengths {
  text(schema: JsonSchema): string | undefined;
  items: number;
}

/** A value that a schema describes, with the texts and lists that `lengths` says; of several forms the first that is not null. */
export function longValue(schema: JsonSchema, schemas: Schemas, lengths: Lengths): unknown {
  const inner = (each: JsonSchema, within = lengths) => longValue(each, schemas, within);
  if (schema.$ref) return inner(schemas[schema.$ref.split('/').pop() ?? ''] ?? {});
  const choices = (schema.anyOf ?? schema.oneOf ?? schema.allOf)?.filter(({ type }) => type !== 'null');
  if (choices) return inner(choices.find(({ const: only }) => only === undefined) ?? choices[0] ?? {});
  if ('const' in schema) return schema.const;
  switch (schema.type) {
    case 'object':
      return Object.fromEntries(Object.entries(schema.properties ?? {}).map(([name, each]) => [name, inner(each)]));
    case 'array':
      return Array.from({ length: lengths.items }, () => inner(schema.items ?? {}, { ...lengths, items: 1 }));
    case 'string':
      return lengths.text(schema) ?? plainText(schema);
    case 'boolean':
      return false;
    case 'integer':
    case 'number':
      return schema.minimum ?? 1;
    default:
      return null;
  }
}

function plainText({ enum: one, format, pattern, minLength = 0 }: JsonSchema): string {
  if (one) return String(one[0]);
  if (format === 'uuid') return '0199a0a0-0000-7000-8000-000000000000';
  if (format === 'date') return '2026-03-02';
  if (format === 'date-time') return '2026-03-02T09:00:00Z';
  if (format === 'email') return 'someone@example.org';
  return pattern?.includes('\\d') ? '1' : 'x'.repeat(Math.max(1, minLength));
}

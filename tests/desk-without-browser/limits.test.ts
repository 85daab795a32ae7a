import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { reader } from '../../src/desk/forms/parse.js';

const SEGMENT = {
  required: ['targetC'],
  properties: { targetC: { type: 'integer', minimum: 20, maximum: 1400 } },
};
const SCHEDULE = {
  required: ['name'],
  properties: {
    name: { type: 'string', maxLength: 80 },
    note: {
      anyOf: [
        { type: 'string', const: '' },
        { type: 'string', maxLength: 300 },
      ],
    },
    cone: { anyOf: [{ type: 'string', maxLength: 10 }, { type: 'null' }] },
    fired: { type: 'integer', minimum: 0, maximum: Number.MAX_SAFE_INTEGER },
    segments: { type: 'array', maxItems: 50, items: { $ref: '#/components/schemas/Segment' } },
    either: { anyOf: [{ properties: { a: { maxLength: 1 } } }, { properties: { a: { maxLength: 2 } } }] },
  },
};
const OPENAPI = {
  components: { schemas: { Segment: SEGMENT, Schedule: SCHEDULE } },
  paths: {
    '/api/schedules': {
      post: {
        requestBody: { content: { 'application/json': { schema: { $ref: '#/components/schemas/Schedule' } } } },
      },
      get: {
        parameters: [
          { in: 'query', name: 'q', schema: { type: 'string', maxLength: 60 } },
          { in: 'query', name: 'after', schema: { type: 'string', maxLength: 4000 } },
        ],
      },
    },
  },
};

function limitsOf(document: object) {
  const [from, to] = ['openapi.json', 'limits.json'].map((name) => join(folder, name)) as [string, string];
  writeFileSync(from, JSON.stringify(document));
  execFileSync(process.execPath, ['scripts/form-limits.mjs', from, to]);
  return JSON.parse(readFileSync(to, 'utf8'));
}
const folder = mkdtempSync(join(tmpdir(), 'limits-'));

describe('limits from the API', () => {
  test('are told by pointer: lengths, ranges, how many, in lines too', () => {
    expect(limitsOf(OPENAPI)).toEqual({
      Schedule: {
        '#/name': { required: true, maxLength: 80 },
        '#/note': { maxLength: 300 },
        '#/cone': { maxLength: 10 },
        '#/fired': { minimum: 0 },
        '#/segments': { maxItems: 50 },
        '#/segments/*/targetC': { minimum: 20, maximum: 1400 },
      },
      'GET /api/schedules': { '?q': { maxLength: 60 } },
    });
  });
});

describe('a whole number as it is typed', () => {
  const typed = (text: string, limit = {}) => {
    const read = reader('GBP', () => limit);
    return [read.whole('/benches', text), read.faults.map(({ detail }) => detail)];
  };

  test('is refused outside what the API allows, and told which numbers may be', () => {
    const limit = { minimum: 1, maximum: 200 };
    expect(typed('200', limit)).toEqual([200, []]);
    expect(typed('1', limit)).toEqual([1, []]);
    expect(typed('201', limit)).toEqual([201, ['Write a whole number from 1 to 200.']]);
    expect(typed('0', limit)).toEqual([0, ['Write a whole number from 1 to 200.']]);
    expect(typed('many', limit)).toEqual([0, ['Write a whole number from 1 to 200.']]);
    expect(typed('13', { maximum: 12 })).toEqual([13, ['Write a whole number of at most 12.']]);
    expect(typed('3', { minimum: 4 })).toEqual([3, ['Write a whole number of at least 4.']]);
  });

  test('has no limit where the API names none', () => {
    expect(typed('9999999')).toEqual([9_999_999, []]);
    expect(typed('2.5')).toEqual([0, ['Write a whole number, for example 12.']]);
  });
});

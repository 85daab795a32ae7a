import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { listFaults } from '../../src/http/validation.js';
import { badRequests } from '../support/bad-requests.js';
import { requestContracts } from '../support/request-contracts.js';

const NO_BETTER_WORDS = 'must be written another way: see the description of this field';

const faultsOf = (schema: z.ZodType, value: unknown) => {
  const { error } = schema.safeParse(value);
  return error ? listFaults(error.issues) : [];
};

/** What is wrong with a single value, in words. */
const said = (schema: z.ZodType, value: unknown) => faultsOf(schema, value).map(({ detail }) => detail);

describe('what is wrong is said in our words', () => {
  test.each<[string, z.ZodType, unknown, string]>([
    ['what is missing', z.string(), undefined, 'is required'],
    ['a missing choice', z.enum(['bisque', 'glaze', 'lustre']), undefined, 'is required: bisque, glaze or lustre'],
    ['another choice', z.enum(['bisque', 'glaze', 'lustre']), 'raku', 'must be bisque, glaze or lustre'],
    ['another constant', z.literal(true), false, 'must be true'],
    ['a number for text', z.string(), 5, 'must be text'],
    ['text for a number', z.number(), '5', 'must be a number'],
    ['text in an address', z.coerce.number(), 'five', 'must be a number'],
    ['a fraction', z.int(), 1.5, 'must be a whole number'],
    ['text for yes or no', z.boolean(), 'yes', 'must be true or false'],
    ['one for many', z.array(z.string()), 'one', 'must be a list'],
    ['text for an object', z.strictObject({}), 'text', 'must be an object with fields of its own'],
    ['what must be left out', z.never(), 1, 'must be left out'],
    ['empty text', z.string().min(1), '', 'must not be empty'],
    ['short text', z.string().min(8), 'short', 'must have at least 8 characters'],
    ['long text', z.string().max(1200), 'x'.repeat(1201), 'must have at most 1,200 characters'],
    ['text of another length', z.string().length(3), 'EURO', 'must have exactly 3 characters'],
    ['too small a number', z.number().min(15), 3, 'must be at least 15'],
    ['too large a number', z.number().max(1_000_000), 2e6, 'must be at most 1,000,000'],
    ['nothing where there must be more', z.number().gt(0), 0, 'must be more than zero'],
    ['a number at its bound', z.number().lt(50), 50, 'must be less than 50'],
    ['a list without entry', z.array(z.int()).min(1), [], 'must have at least one entry'],
    ['a list too long', z.array(z.int()).max(2), [1, 2, 3], 'must have at most 2 entries'],
    ['a step between', z.number().multipleOf(5), 7, 'must be a multiple of 5'],
    ['a step of one', z.number().multipleOf(1), 7.5, 'must be a whole number'],
    ['no address for mail', z.email(), 'ines', 'must be an email address, for example hello@studio.example'],
    ['no id', z.uuid(), 'ines', 'must be an id, as the lists show it'],
    ['no such day', z.iso.date(), '2026-02-30', 'must be a day of the calendar, for example 2026-03-31'],
    [
      'no time zone',
      z.iso.datetime({ offset: true }),
      '2026-03-31T18:30:00',
      'must be a day and time with its time zone, for example 2026-03-31T18:30:00Z',
    ],
    ['another beginning', z.string().startsWith('R-'), 'C-1', 'must begin with R-'],
    ['another end', z.string().endsWith('.csv'), 'a.pdf', 'must end with .csv'],
    ['what is left unsaid', z.string().includes('@'), 'a', 'must have @ in it'],
    ['a name that is none', z.partialRecord(z.enum(['a']), z.int()), { b: 1 }, 'is not a field of this request'],
    ['a key of another form', z.record(z.string().max(1), z.int()), { bb: 1 }, 'has a name that is not allowed here'],
    [
      'an element of another form',
      z.map(z.any(), z.int()),
      new Map([[{}, 'x']]),
      'has an entry that is not allowed here',
    ],
    [
      'a day too late',
      z.date().max(new Date('2026-03-31T00:00:00Z')),
      new Date('2027-01-01'),
      'must be no later than 2026-03-31T00:00:00.000Z',
    ],
    ['a pattern without words', z.string().regex(/^a$/), 'b', NO_BETTER_WORDS],
    ['a rule without words', z.string().refine(() => false), 'b', NO_BETTER_WORDS],
    ['a rule with words', z.string().refine(() => false, 'must rhyme'), 'b', 'must rhyme'],
  ])('%s', (_, schema, value, words) => expect(said(schema, value)[0]).toBe(words));

  test('a field too many is named itself', () => {
    const schema = z.strictObject({ items: z.array(z.strictObject({ name: z.string() })) });
    expect(faultsOf(schema, { items: [{ name: 'a', 'a/b~c': 1, other: 2 }] })).toEqual([
      { pointer: '#/items/0/a~1b~0c', detail: 'is not a field of this request' },
      { pointer: '#/items/0/other', detail: 'is not a field of this request' },
    ]);
  });
});

describe('of several kinds that a field may be', () => {
  const Wear = z.union([z.int().min(0), z.strictObject({ costMinor: z.int(), firings: z.int().min(1) })]);

  test('the one that was meant is judged', () => {
    expect(faultsOf(z.strictObject({ wear: Wear }), { wear: { costMinor: 5, firings: 0 } })).toEqual([
      { pointer: '#/wear/firings', detail: 'must be at least 1' },
    ]);
    expect(faultsOf(z.strictObject({ wear: Wear }), { wear: -1 })).toEqual([
      { pointer: '#/wear', detail: 'must be at least 0' },
    ]);
  });

  test('all are named where it is none of them', () => {
    expect(said(Wear, 'much')).toEqual(['must be a number, or an object with fields of its own']);
    expect(said(Wear, undefined)).toEqual(['is required']);
    expect(said(z.union([z.int(), z.boolean()], { error: 'must be a sum or nothing' }), 'much')).toEqual([
      'must be a sum or nothing',
    ]);
  });

  test('those that a word decides between are listed', () => {
    const Paid = z.discriminatedUnion('how', [
      z.strictObject({ how: z.literal('cash') }),
      z.strictObject({ how: z.literal('voucher'), code: z.string() }),
    ]);
    expect(faultsOf(Paid, { how: 'cheque' })).toEqual([{ pointer: '#/how', detail: 'must be cash or voucher' }]);
    expect(faultsOf(Paid, { how: 'voucher' })).toEqual([{ pointer: '#/code', detail: 'is required' }]);
  });
});

const ZODS_OWN = /\b(invalid|expected|received|too (big|small)|unrecogni[sz]ed|input|nan)\b/i;
const AMERICAN =
  /\b\w*(color|labor|center|gray|catalog|program[^m\s]\w*|[^aeiou\s]ize[ds]?|izing|favor|mold|license[ds]?)\b/i;

describe('no contract of a request', async () => {
  // a picture is bytes, not fields
  const contracts = (await requestContracts()).filter(({ name }) => !/\/(photos|logo) body$/.test(name));

  test('is left out', () => {
    expect(contracts.length).toBeGreaterThan(100);
    expect(contracts.filter(({ name }) => name.endsWith(' body')).length).toBeGreaterThan(50);
  });

  test.each(contracts.map(({ name, schema }) => [name, schema] as const))('lets zod speak: %s', (_, schema) => {
    const sentences = new Set<string>();
    for (const bad of badRequests(schema)) for (const sentence of said(schema, bad)) sentences.add(sentence);
    expect(sentences.size).toBeGreaterThan(0);
    const wrong = [...sentences].filter(
      (each) => ZODS_OWN.test(each) || AMERICAN.test(each) || each === NO_BETTER_WORDS,
    );
    expect(wrong).toEqual([]);
    for (const sentence of sentences) expect(sentence).toMatch(/^\p{L}/u);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { assertSeen, etagOf, matchesStrongly, matchesWeakly } from '../../src/http/etag.js';
import { Problem } from '../../src/problems.js';

const record = fc.dictionary(fc.string(), fc.jsonValue());

describe('an entity tag', () => {
  test('is strong, by the syntax of RFC 9110 s.8.8.3', () => {
    fc.assert(fc.property(fc.jsonValue(), (shown) => /^"[\x21\x23-\x7e]+"$/.test(etagOf(shown))));
  });

  test('is the same whatever the order of the fields, as jsonb brings its own', () => {
    const turned = (value: unknown): unknown =>
      Array.isArray(value)
        ? value.map(turned)
        : typeof value === 'object' && value !== null
          ? Object.fromEntries(
              Object.entries(value)
                .reverse()
                .map(([name, inner]) => [name, turned(inner)]),
            )
          : value;
    fc.assert(fc.property(record, (shown) => etagOf(turned(shown)) === etagOf(shown)));
  });

  test('is another for another content, also where only the order of a list differs', () => {
    expect(
      new Set([{ a: [1, 2] }, { a: [2, 1] }, { a: ['1', '2'] }, { a: [1, 2], b: null }, {}].map(etagOf)).size,
    ).toBe(5);
  });
});

// The examples of RFC 9110 s.13.1.1 and s.13.1.2, and the table of s.8.8.3.2
describe('a comparison by RFC 9110', () => {
  test.each([
    ['"xyzzy"', '"xyzzy"', true, true],
    ['"xyzzy", "r2d2xxxx", "c3piozzzz"', '"r2d2xxxx"', true, true],
    ['*', '"xyzzy"', true, true],
    ['*', null, false, false],
    ['"xyzzy"', null, false, false],
    ['W/"xyzzy"', '"xyzzy"', false, true],
    ['W/"xyzzy", W/"r2d2xxxx", W/"c3piozzzz"', '"c3piozzzz"', false, true],
    ['W/"1", "1"', '"1"', true, true],
    ['"1"', '"2"', false, false],
    ['"a,b"', '"a,b"', true, true],
    ['"a,b"', '"a"', false, false],
    [' ,"1",, "2" ,', '"2"', true, true],
    ['""', '""', true, true],
  ])('%s against %s', (header, current, strongly, weakly) => {
    expect(matchesStrongly(header, current)).toBe(strongly);
    expect(matchesWeakly(header, current)).toBe(weakly);
  });

  test.each(['', ',', 'xyzzy', '"xyzzy', '"a" "b"', '*, "a"', '"a", *', 'w/"a"', 'W/ "a"', '"a"b"', '"a b"', '"a",b'])(
    'is refused where the header cannot be read: %s',
    (header) => {
      for (const compare of [matchesStrongly, matchesWeakly])
        expect(() => compare(header, '"a"')).toThrow(expect.objectContaining({ type: 'malformed', status: 400 }));
    },
  );

  test('is made in time whatever is sent', () => {
    const before = process.cpuUsage();
    expect(() => matchesStrongly(`${'"a" ,'.repeat(3000)}x`, '"a"')).toThrow(Problem);
    expect(() => matchesStrongly(`"a"${' ,'.repeat(3000)}x`, '"a"')).toThrow(Problem);
    expect(() => matchesStrongly(`"a"${' '.repeat(8000)}x`, '"a"')).toThrow(Problem);
    expect(process.cpuUsage(before).user / 1e6).toBeLessThan(1); // seconds of its own, whatever else the machine does
  });
});

describe('a change', () => {
  const refusal = (headers: Parameters<typeof assertSeen>[0], current: string | null) => {
    try {
      assertSeen(headers, current);
      return null;
    } catch (error) {
      return (error as Problem).type;
    }
  };

  test.each([
    [{}, '"1"', 'tag-required'],
    [{}, null, 'tag-required'],
    [{ 'if-none-match': '"1"' }, '"1"', 'tag-required'],
    [{ 'if-match': '"1"' }, '"1"', null],
    [{ 'if-match': '*' }, '"1"', null],
    [{ 'if-match': '"0"' }, '"1"', 'changed-meanwhile'],
    [{ 'if-match': 'W/"1"' }, '"1"', 'changed-meanwhile'],
    [{ 'if-match': '*' }, null, 'changed-meanwhile'],
    [{ 'if-none-match': '*' }, null, null],
    [{ 'if-none-match': ' * ' }, '"1"', 'changed-meanwhile'],
    [{ 'if-match': '"1"', 'if-none-match': '*' }, '"1"', 'changed-meanwhile'],
    [{ 'if-match': '"1"', 'if-none-match': '"2"' }, '"1"', null],
  ])('with %j of %s is refused as %s', (headers, current, type) => {
    expect(refusal(headers, current)).toBe(type);
  });
});

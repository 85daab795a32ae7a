import { expect, test } from 'vitest';
import { placeAfter } from '../../src/desk/pages/sign-in/place-after.js';

const ORIGIN = 'https://studio.example';

test.each(['/', '/money', '/courses/plans?kind=private#top', '/courses/results/0199a0a0-0000-7000-8000-000000000000'])(
  'after signing in, %s is gone to',
  (then) => expect(placeAfter(then, ORIGIN)).toBe(then),
);

test.each([
  undefined,
  '',
  'owes',
  '//evil.example',
  '/\t/evil.example',
  '\t//evil.example',
  '/\n/evil.example',
  '/\r\n/evil.example',
  '\\\\evil.example',
  '/\\evil.example',
  '/\t\\evil.example',
  '/.//evil.example',
  '/..//evil.example',
  '/%2e//evil.example',
  'https://evil.example',
  'https:evil.example',
  'javascript:alert(1)',
  'data:text/html,x',
  '/\t/[',
])('%j leads nowhere but to Today', (then) => expect(placeAfter(then, ORIGIN)).toBe('/'));

test.each(['/%2f/evil.example', '/%5cevil.example', '/%09/evil.example'])('%s stays here', (then) => {
  expect(new URL(placeAfter(then, ORIGIN), ORIGIN).origin).toBe(ORIGIN);
});

import { expect, test } from 'vitest';
import { placeLabels } from '../../src/desk/pages/courses/pricing/place-labels.js';

test('labels that have room stay where they belong', () => {
  expect(placeLabels([60, 200, 400], 100, 600)).toEqual([60, 200, 400]);
  expect(placeLabels([], 100, 600)).toEqual([]);
});

test('two that would touch are pushed apart, and none is cut off on a phone', () => {
  expect(placeLabels([10], 100, 328)).toEqual([50]);
  expect(placeLabels([229, 272], 100, 328)).toEqual([178, 278]); // the second would be cut off, and so pushes the first back
  expect(placeLabels([300, 310, 320], 100, 328)).toEqual([78, 178, 278]);
});

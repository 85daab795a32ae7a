import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { asStored, type QuoteInputs, readStored } from '../../../src/studio/pricing/quote-versions.js';
import { comparePrices, comparePrivatePrices } from '../../../src/trade/pricing/compare-prices.js';
import { isFiring, usedAs } from '../../../src/trade/pricing/cost-lines.js';
import {
  cheapestChanges,
  coursePrice,
  type PriceInputs,
  sensitivities,
} from '../../../src/trade/pricing/course-price.js';
import { dearer, fullerLoads } from '../../../src/trade/pricing/input-changes.js';
import type { PlannedFiring } from '../../../src/trade/pricing/price-inputs.js';
import type { PrivateInputs } from '../../../src/trade/pricing/private-price.js';
import { planAt, planPrivateAt } from '../../../src/trade/pricing/variance.js';

// Rows as the program stored them while it told cost lines apart by their keys, and the figures that it then made of them.
const frozen = (name: string) => JSON.parse(readFileSync(new URL(`version-1/${name}.json`, import.meta.url), 'utf8'));
const FIRINGS: PlannedFiring[] = frozen('firings');
const [COURSE, GROUP, FIGURES] = [frozen('course'), frozen('group'), frozen('figures')];

const course = readStored(COURSE, FIRINGS) as PriceInputs;
const group = readStored(GROUP, FIRINGS) as PrivateInputs;
/** A group's lines changed as a course's are; it has no more of what those look at. */
const changed = (inputs: PrivateInputs, change: (all: PriceInputs) => PriceInputs) =>
  change(inputs as unknown as PriceInputs) as unknown as PrivateInputs;
const effects = ({ rows }: ReturnType<typeof comparePrices>) => rows.map((row) => [row.key, row.effectMinor]);

describe('a price saved without a version', () => {
  test('has every line as it was, and what each pays for', () => {
    for (const [before, after] of [
      [COURSE, course],
      [GROUP, group],
    ] as const)
      expect(after).toMatchObject(before);
    const { materialId } = course.lines[0] as { materialId: string };
    expect(course.lines.map(({ kind }) => kind)).toEqual([
      ...['material', 'material', 'material', 'material', 'firing', 'firing', 'room', 'advertising', 'sunk'],
      ...['input-vat', 'input-vat', 'input-vat'],
    ]);
    expect(course.lines.slice(0, 4)).toMatchObject([
      { use: 'clay', isReclaim: false, key: `clay-${materialId}` },
      { use: 'clay', isReclaim: true, materialId },
      { use: 'glaze', isReclaim: false },
      { use: 'other', isReclaim: false },
    ]);
    expect(course.lines.filter(isFiring)).toMatchObject(FIRINGS.map((firing) => ({ firing, wholeLoads: false })));
    expect(group.lines.filter(isFiring)).toMatchObject(FIRINGS.map((firing) => ({ firing, wholeLoads: true })));
  });

  test('makes the same figures as it did', () => {
    expect(coursePrice(course).fairPriceMinor).toBe(FIGURES.fairPriceMinor);
    expect(sensitivities(course).map(({ key, deltaMinor }) => [key, deltaMinor])).toEqual(FIGURES.sensitivities);
    expect(cheapestChanges(course, 6000).map(({ key, to }) => [key, to])).toEqual(FIGURES.cheapest);
    const plan = (lines: ReturnType<typeof planAt>) => lines.map(({ key, amountMinor }) => [key, amountMinor]);
    expect(plan(planAt(course, 7, 12_000))).toEqual(FIGURES.plan);
    const prices = { groupMinor: 24_000, perHeadAboveMinor: 2500 };
    expect(plan(planPrivateAt(group, 4, prices))).toEqual(FIGURES.groupPlan);
  });

  test('is compared as it was', () => {
    expect(effects(comparePrices(course, dearer(course, usedAs('clay'), 50)))).toEqual(FIGURES.dearerClay);
    expect(effects(comparePrices(course, fullerLoads(course, 50)))).toEqual(FIGURES.fullerLoads);
    const firings = changed(group, (all) => dearer(all, isFiring, 50));
    expect(effects(comparePrivatePrices(group, firings))).toEqual(FIGURES.dearerFirings);
    const loads = changed(group, (all) => fullerLoads(all, 50)); // it pays for whole ones
    expect(effects(comparePrivatePrices(group, loads))).toEqual([]);
  });

  test('does not say which firing it was that the plan no longer has', () => {
    const [, second] = (readStored(COURSE, FIRINGS.slice(0, 1)) as PriceInputs).lines.filter(isFiring);
    expect(second).toMatchObject({ key: 'firing-2', firing: null });
  });
});

test('a price saved today is read as it was, whatever its keys, and with the firings that it had', () => {
  for (const inputs of [course, group]) {
    const other = { ...inputs, lines: inputs.lines.map((line, i) => ({ ...line, key: `line ${i}` })) };
    const stored = JSON.parse(JSON.stringify(asStored(other as QuoteInputs)));
    expect(stored.version).toBe(2);
    expect(readStored(stored, [])).toEqual(other);
  }
});

describe('what cannot be read', () => {
  const current = asStored(course);
  test.each<[string, unknown]>([
    ['nothing', null],
    ['a sentence', 'twelve pounds'],
    ['a list', [COURSE]],
    ['no lines', { ...COURSE, lines: undefined }],
    ['a line of a kind that there never was', { ...COURSE, lines: [{ ...COURSE.lines[0], key: 'wax' }] }],
    ['a quantity in words', { ...COURSE, lines: [{ ...COURSE.lines[0], quantity: 'two' }] }],
    ['a number in words', { ...COURSE, places: 'eight' }],
    ['a version that is not known yet', { ...current, version: 3 }],
    ['a version in words', { ...current, version: 'two' }],
    ['a first version under a later number', { ...COURSE, version: 2 }],
  ])('is told so: %s', (_, stored) => {
    expect(readStored(stored, FIRINGS)).toBeNull();
  });
});

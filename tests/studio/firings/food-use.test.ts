import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Finish, type FoodLayer, useOf } from '../../../src/studio/firings/food-use.js';
import { MaterialKind } from '../../../src/studio/materials/contract.js';

// That a manufacturer's words hold only for what they speak of is common practice of the trade; the limits behind such words are
// those of Council Directive 84/500/EEC art. 2(4), which only a laboratory's test of the ware can show to be met.
const asks = { coats: { least: 3, most: 3 }, way: 'brushed', firing: { fromC: 1210, toC: 1240 } } as const;
const statement = { quote: 'Suits food surfaces in three coats, brushed, at cone 6.', statedOn: '2025-06-01', asks };
const moss = {
  ...({ name: 'Moss satin', kind: 'glaze' } as const),
  ...{ firingRange: { fromC: 1180, toC: 1250 } },
  manufacturerStatement: statement,
} as const;
const layer: FoodLayer = { material: moss, coats: 3, way: 'brushed', firingsBefore: 1, homeMixed: false };
const past = (kind: 'bisque' | 'glaze' | 'lustre', topC: number, more: object = {}) => ({
  ...{ kind, topC, outcome: 'good' as const, failed: false },
  ...more,
});
const bisque = past('bisque', 1000);
const finish: Finish = {
  onFood: [layer],
  firings: [bisque, past('glaze', 1222)],
  ...{ bisqued: true, cameGlazed: false, lustred: false },
};
const withLayer = (changes: object) => ({ onFood: [{ ...layer, ...changes }] });
const saying = (changes: object) =>
  withLayer({ material: { ...moss, manufacturerStatement: { ...statement, ...changes } } });
const under = (kind: MaterialKind) => ({
  onFood: [{ ...layer, material: { ...moss, kind, manufacturerStatement: null } }, layer],
});

describe('what a piece may be used for', () => {
  test('is what the glaze’s manufacturer says, dated and as theirs, where all is exactly as they state', () => {
    expect(useOf(finish)).toEqual({
      ...{ kind: 'statement', quote: statement.quote, glaze: 'Moss satin', on: '2025-06-01' },
    });
    for (const topC of [1210, 1240])
      expect(useOf({ ...finish, firings: [bisque, past('glaze', topC)] }).kind).toBe('statement');
  });

  test.each<[string, Partial<Finish>]>([
    ['they name no number of coats', { ...saying({ asks: { ...asks, coats: null } }) }],
    ['they name no way', saying({ asks: { ...asks, way: null } })],
    ['they name no firing, and it matured', saying({ asks: { ...asks, firing: null } })],
    ['a firing stopped short, and the next did not', { firings: [bisque, past('glaze', 1100), past('glaze', 1222)] }],
    [
      'it was bisqued before it came',
      { firings: [past('glaze', 1222)], onFood: [{ ...layer, firingsBefore: 0 }], bisqued: true },
    ],
  ])('holds also where %s', (_, changes) => {
    expect(useOf({ ...finish, ...changes }).kind).toBe('statement');
  });

  test.each<[string, Partial<Finish>]>([
    ['there is lustre', { lustred: true }],
    ['glazes are layered', { onFood: [layer, { ...layer, material: { ...moss, name: 'Snow' } }] }],
    ['one glaze was put on twice', { onFood: [layer, layer] }],
    ...(['underglaze', 'oxide', 'stain', 'slip', 'wax', 'glass'] as const).map((kind): [string, Partial<Finish>] => [
      `${kind} lies beneath the glaze`,
      under(kind),
    ]),
    ['what has a statement is no glaze', withLayer({ material: { ...moss, kind: 'underglaze' } })],
    ['nobody noted a glaze', { onFood: [] }],
    ['the manufacturer says nothing', withLayer({ material: { ...moss, manufacturerStatement: null } })],
    ['nobody entered what the statement asks for', saying({ asks: null })],
    ['it was mixed here', withLayer({ homeMixed: true })],
    ['it has a coat too few', withLayer({ coats: 2 })],
    ['it has a coat too many', withLayer({ coats: 4 })],
    ['it was dipped', withLayer({ way: 'dipped' })],
    ['nobody noted how it was put on', withLayer({ way: null })],
    [
      'there is no range, so that no firing can be held against it',
      withLayer({
        material: {
          ...moss,
          firingRange: null,
          manufacturerStatement: { ...statement, asks: { ...asks, firing: null } },
        },
      }),
    ],
    ['it was fired too cool', { firings: [bisque, past('glaze', 1209)] }],
    ['it was fired too hot', { firings: [bisque, past('glaze', 1241)] }],
    ['it was once fired too hot', { firings: [bisque, past('glaze', 1241), past('glaze', 1222)] }],
    [
      'a firing failed, and nobody knows how hot it went',
      { firings: [bisque, past('glaze', 1222, { outcome: 'refire', failed: true }), past('glaze', 1222)] },
    ],
    ['it came out to be fired again', { firings: [bisque, past('glaze', 1222, { outcome: 'refire' })] }],
    ['it was never glaze fired', { firings: [bisque] }],
    ['it went into a bisque firing instead', { firings: [bisque, past('bisque', 1222)] }],
    [
      'it was glaze fired before this glaze was put on',
      {
        ...withLayer({ firingsBefore: 2 }),
        firings: [bisque, past('glaze', 1222), past('glaze', 1222)],
      },
    ],
    ['it was fired once, raw', { firings: [past('glaze', 1222)], ...withLayer({ firingsBefore: 0 }), bisqued: false }],
    ['it came glazed by somebody else', { cameGlazed: true }],
  ])('is decorative where %s', (_, changes) => {
    expect(useOf({ ...finish, ...changes })).toEqual({ kind: 'decorative' });
  });

  test('is never more than decorative without a statement, whatever else holds', () => {
    const glaze = fc.record({
      material: fc.record({
        name: fc.string(),
        kind: fc.constantFrom(...MaterialKind.options),
        firingRange: fc.constant(moss.firingRange),
        manufacturerStatement: fc.constant(null),
      }),
      coats: fc.integer({ min: 1, max: 20 }),
      way: fc.constantFrom('brushed' as const, null),
      firingsBefore: fc.integer({ min: 0, max: 2 }),
      homeMixed: fc.boolean(),
    });
    fc.assert(
      fc.property(
        fc.array(glaze, { maxLength: 3 }),
        fc.integer({ min: 600, max: 1300 }),
        fc.boolean(),
        (onFood, topC, lustred) => {
          const firings = [bisque, past('glaze', topC)];
          expect(useOf({ ...finish, onFood, firings, lustred }).kind).toBe('decorative');
        },
      ),
    );
  });
});

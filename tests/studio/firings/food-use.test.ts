import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Finish, useOf } from '../../../src/studio/firings/food-use.js';

const statement = { quote: 'Suits food surfaces when fired as told on the label.', statedOn: '2025-06-01' };
const moss = { name: 'Moss satin', firingRange: { fromC: 1180, toC: 1250 }, makerStatement: statement };
const finish: Finish = { onFood: [moss], glazedAtC: 1222, lustred: false };

describe('what a piece may be used for', () => {
  test('is what the glaze’s maker says, dated and as theirs, where that glaze alone was fired as they ask', () => {
    expect(useOf(finish)).toEqual({
      ...{ kind: 'statement', quote: statement.quote, glaze: 'Moss satin', on: '2025-06-01' },
    });
    for (const glazedAtC of [1180, 1250]) expect(useOf({ ...finish, glazedAtC }).kind).toBe('statement');
  });

  test.each([
    ['there is lustre', { lustred: true }],
    ['glazes are layered', { onFood: [moss, { ...moss, name: 'Snow' }] }],
    ['one glaze was put on twice', { onFood: [moss, moss] }],
    ['nobody noted a glaze', { onFood: [] }],
    ['the maker says nothing', { onFood: [{ ...moss, makerStatement: null }] }],
    [
      'the maker gives no range, so that no firing can be held against it',
      { onFood: [{ ...moss, firingRange: null }] },
    ],
    ['it was fired too cool', { glazedAtC: 1179 }],
    ['it was fired too hot', { glazedAtC: 1251 }],
    ['it was never glaze fired', { glazedAtC: null }],
  ])('is decorative where %s', (_, changes) => {
    expect(useOf({ ...finish, ...changes })).toEqual({ kind: 'decorative' });
  });

  test('is never more than decorative without a statement, whatever else holds', () => {
    const glaze = fc.record({
      name: fc.string(),
      firingRange: fc.constant(moss.firingRange),
      makerStatement: fc.constant(null),
    });
    fc.assert(
      fc.property(
        fc.array(glaze, { maxLength: 3 }),
        fc.integer({ min: 600, max: 1300 }),
        fc.boolean(),
        (onFood, glazedAtC, lustred) => {
          expect(useOf({ onFood, glazedAtC, lustred }).kind).toBe('decorative');
        },
      ),
    );
  });
});

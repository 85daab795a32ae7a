import { describe, expect, test } from 'vitest';
import { type Fireable, type FiringHeat, outsideRange } from '../../../src/trade/materials/firing-range.js';

const body: Fireable = { name: 'Grey body', kind: 'clay', firingRange: { fromC: 1200, toC: 1240 } };
const glaze: Fireable = { name: 'Moss', kind: 'glaze', firingRange: { fromC: 1200, toC: 1240 } };
const firing = (kind: FiringHeat['kind'], topC: number): FiringHeat => ({ name: `${kind} ${topC}`, kind, topC });

describe('whether a material may go through a firing', () => {
  // what bisque, glaze and lustre firings do to ware is common practice of the trade
  test.each([
    [body, firing('bisque', 1000), null],
    [body, firing('bisque', 1250), 'goes to 1250'],
    [body, firing('glaze', 1199), 'goes only to 1199'],
    [body, firing('glaze', 1200), null],
    [body, firing('glaze', 1240), null],
    [body, firing('glaze', 1241), 'goes to 1241'],
    [body, firing('lustre', 760), null],
    [glaze, firing('bisque', 1250), null], // it is not on the ware yet
    [glaze, firing('glaze', 1080), 'goes only to 1080'],
    [glaze, firing('glaze', 1260), 'goes to 1260'],
    [glaze, firing('lustre', 760), null],
    [{ ...glaze, firingRange: null }, firing('glaze', 1400), null],
  ])('%#', (material, heat, reason) => {
    const answer = outsideRange(material, heat);
    if (reason === null) expect(answer).toBeNull();
    else expect(answer).toContain(reason);
  });

  test('the sentence names the material, its range and the firing', () => {
    expect(outsideRange(glaze, firing('glaze', 1080))).toBe(
      'Moss fires at 1200 to 1240 °C, and "glaze 1080" goes only to 1080 °C.',
    );
  });
});

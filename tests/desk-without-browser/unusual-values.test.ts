import { describe, expect, test } from 'vitest';
import { formatterFor } from '../../src/desk/format/formatter.js';
import type { PlanBody, Workshop } from '../../src/desk/pages/courses/plans/queries.js';
import { unusual } from '../../src/desk/pages/courses/plans/unusual-values.js';
import { litreInWords } from '../../src/desk/pages/shelf/mixes/litre-weight.js';
import type { Mix } from '../../src/desk/pages/shelf/mixes/queries.js';

const formatter = formatterFor({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });
const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const workshop = { studio: { offcutsPercent: '10', remakesPercent: '20' } } as Workshop;
const mug = {
  ...{ form: 'mug', size: { widthMm: 120, depthMm: 88, heightMm: 95 }, wetMassGrams: 450, perStudent: 2 },
  ...{ clayId: 'clay', glaze: { materialId: 'moss', gramsPerDm2: '4.5' }, tileId: null },
};
const hints = (changes: object, minutes = 150) => {
  const body = { pieces: [{ ...mug, ...changes }], sessions: [{ purpose: 'making', minutes }] } as unknown as PlanBody;
  return unusual({ body, faults: [] }, workshop, formatter).map(plain);
};

describe('a plan’s own figures against published ones', () => {
  test('are told of only where they leave them', () => {
    expect(hints({})).toEqual([]);
    expect(hints({ glaze: { materialId: 'moss', gramsPerDm2: '8' } })).toEqual([
      'Check the coating of the mug: 8 g per dm² is thicker than the 2.6 to 6 g that are published for a finished coating. Weigh a tile before and after.',
    ]);
    expect(hints({ wetMassGrams: 45 })[0]).toMatch(/^Check the clay of the mug: 45 g is less than 227 g/);
    // 2 * 450 g * 1.1 * 1.2 in a quarter of an hour
    expect(hints({}, 15)[0]).toMatch(/^Check the clay: 1.2 kg for each student is more than the 340 g/);
  });
});

describe('a litre that was weighed', () => {
  const batch = { parts: [], addWaterMl: 0, litreGrams: 1450, yieldQuantity: 2000 };
  const mix = { product: { unit: 'ml' } } as unknown as Mix;
  const said = (typed: string, measured = 0) => plain(litreInWords(typed, batch, measured, mix, formatter));

  test('says how much water to add or to let go, and in which ways such glaze is put on', () => {
    // 2 l · (1540 - 1450) / 450
    expect(said('1540')).toMatch(/^Add 400 ml of water, .* By published figures glaze of that weight is .*dipped/);
    expect(said('1405', 1000)).toMatch(/thinner than the recipe’s 1,450 g: .* take 100 ml of clear water off/);
    expect(said('1405')).toContain('outside all published figures');
    expect(said('1450')).toContain('It weighs what the recipe says.');
    expect(said('990')).toMatch(/^A litre weighs from 1001 to 4000 g/);
  });
});

import { describe, expect, test } from 'vitest';
import { fieldOf, minorFrom, studioOf, textOf, USUAL } from '../../src/desk/entry/studio-text';
import { Studio } from '../../src/studio/settings/contract.js';

const RATE = '01a21267-8221-7568-b82e-2400e67231d2';
const TYPED = { ...USUAL, name: 'Alder Lane Pottery', addressLines: '7 Alder Lane\n\n Ostlemere ' };

describe('the studio as it is typed', () => {
  test('what is usual needs only a name and an address to be taken', () => {
    const studio = Studio.parse(studioOf(TYPED, 2, RATE));
    expect(studio).toMatchObject({ addressLines: ['7 Alder Lane', 'Ostlemere'], email: null, cardFixedMinor: 20 });
    expect(studio).toMatchObject({ enrolmentAlpha: '7', enrolmentBeta: '3', poorAtMost: '0.1' });
  });

  test('shown and saved again it stays what it was', () => {
    const odd = { enrolmentAlpha: '6', enrolmentBeta: '3', poorAtMost: '0.125', emptySpace: 'spread' as const };
    const studio = { ...studioOf(TYPED, 2, RATE), ...odd };
    expect(studioOf(textOf(studio, 2), 2, RATE)).toEqual(studio);
  });

  test('what is no figure is refused by its field', () => {
    const typed = { ...TYPED, wagePerHour: 'twenty', certainty: 'very', poorPercent: '', storageDays: 'long' };
    const { error } = Studio.safeParse(JSON.parse(JSON.stringify(studioOf(typed, 2, RATE))));
    const fields = error?.issues.map(({ path }) => fieldOf(`#/${path.join('/')}`));
    expect(new Set(fields)).toEqual(new Set(['wagePerHour', 'fillPercent', 'poorPercent', 'storageDays']));
  });
});

describe('an amount that somebody types', () => {
  test.each([
    ['12', 2, 1200],
    ['12.5', 2, 1250],
    ['0,20', 2, 20],
    ['150', 0, 150],
  ])('%s with %i digits is %i', (text, digits, minor) => {
    expect(minorFrom(text, digits)).toBe(minor);
  });
  test.each(['', '12.345', '-1', 'twelve', '1e3'])('"%s" is none', (text) => {
    expect(minorFrom(text, 2)).toBeNaN();
  });
});

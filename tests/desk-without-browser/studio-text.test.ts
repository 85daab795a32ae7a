import { describe, expect, test } from 'vitest';
import { amountFaults, fieldOf, studioOf, textOf, USUAL } from '../../src/desk/pages/studio/settings/form-values';
import { Studio } from '../../src/studio/settings/contract.js';

const RATE = '01a21267-8221-7568-b82e-2400e67231d2';
const TYPED = { ...USUAL, name: 'Alder Lane Pottery', addressLines: '7 Alder Lane\n\n Ostlemere ' };

describe('the studio as it is typed', () => {
  test('what is usual needs only a name and an address to be taken', () => {
    const studio = Studio.parse(studioOf(TYPED, RATE));
    expect(studio).toMatchObject({ addressLines: ['7 Alder Lane', 'Ostlemere'], email: null, cardFixedMinor: 20 });
    expect(studio).toMatchObject({ enrolmentAlpha: '7', enrolmentBeta: '3', poorAtMost: '0.1' });
  });

  test('shown and saved again it stays what it was', () => {
    const odd = { enrolmentAlpha: '6', enrolmentBeta: '3', poorAtMost: '0.125', emptySpace: 'spread' as const };
    const studio = { ...studioOf(TYPED, RATE), ...odd };
    expect(studioOf(textOf(studio, 2), RATE)).toEqual(studio);
  });

  test('what is no figure is refused by its field', () => {
    const typed = { ...TYPED, wagePerHour: 'twenty', certainty: 'very', poorPercent: '', storageDays: 'long' };
    const { error } = Studio.safeParse(JSON.parse(JSON.stringify(studioOf(typed, RATE))));
    const fields = error?.issues.map(({ path }) => fieldOf(`#/${path.join('/')}`));
    expect(new Set(fields)).toEqual(new Set(['wagePerHour', 'fillPercent', 'poorPercent', 'storageDays']));
  });

  test('an amount is refused by its field with what to write, before anything is sent', () => {
    expect(amountFaults(TYPED)).toEqual([]);
    expect(amountFaults({ ...TYPED, wagePerHour: '12.', invoiceLimit: '1.250' })).toEqual([
      { pointer: '#/wagePerHourMinor', detail: expect.stringContaining('"12." can\'t be read as a number') },
      { pointer: '#/invoiceLimitMinor', detail: '"1.250" can be read in two ways. Write 1250 or 1.25.' },
    ]);
    // a currency that is none is the server's to refuse
    expect(amountFaults({ ...TYPED, currency: 'Pounds' })).toEqual([]);
    expect(studioOf({ ...TYPED, currency: 'JPY', cardFixed: '20' }, RATE).cardFixedMinor).toBe(20);
  });
});

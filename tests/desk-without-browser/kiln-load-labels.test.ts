import { expect, test } from 'vitest';
import { between } from '../../src/desk/pages/courses/pricing/kiln-loads.js';
import { wordsIn } from '../../src/desk/pages/courses/pricing/labels.js';

const words = wordsIn({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });
const load = {
  ...{ kilnId: 'k', kiln: 'Front kiln', scheduleId: 's', schedule: 'Bisque', perStudent: '0.1', ifFull: '0.8' },
  from: '2027-03-01T18:00:00Z',
};

test('a firing is told by when it can begin, when it must be cold, and what is to spare', () => {
  const told = (outBy: string | null, spareHours: number | null) => between({ ...load, outBy, spareHours }, words);
  expect(told('2027-03-10T18:00:00Z', 110)).toBe('from 1 March 2027, cold by 10 March 2027: 4 days to spare');
  expect(told('2027-03-03T18:00:00Z', 14)).toBe('from 1 March 2027, cold by 3 March 2027: 14 hours to spare');
  expect(told('2027-03-02T08:00:00Z', -20)).toContain('it can’t be cold by 2 March 2027');
  expect(told(null, null)).toBe('from 1 March 2027; no session depends on it');
});

import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { studioFixture } from '../../support/fixtures.js';

const { owner, tutor } = await testApp();

test('a studio that is not set up yet is told so; an empty one has nothing to do', async () => {
  const refused = await owner.get('/api/today');
  expect(refused.statusCode).toBe(409);
  expect(refused.json().type).toBe('/problems/set-up-missing');

  await studioFixture(owner);
  const empty = {
    ...{ day: '2026-03-10', now: '2026-03-10T09:00:00.000Z' },
    ...{ sessions: [], nextSessionsOn: null, firings: [], kilns: [], orders: [], counts: [] },
    boards: ['drying', 'bisque', 'glazing', 'glaze', 'sorting', 'collection'].map((waiting) => ({
      ...{ waiting, pieces: [], inAll: 0, lateInAll: 0, next: null },
    })),
    collection: { makers: 0, told: 0, longestDays: null },
  };
  expect((await owner.get('/api/today')).json()).toEqual({
    ...empty,
    debts: {
      people: 0,
      dueMinor: 0,
      owedMinor: 0,
      firingPeople: 0,
      firingOwedMinor: 0,
      heldPeople: 0,
      heldMinor: 0,
      top: [],
    },
    refundsDue: [],
    mail: { failed: [] },
  });
  expect((await tutor.get('/api/today')).json()).toEqual({ ...empty, debts: null, refundsDue: null, mail: null });
});

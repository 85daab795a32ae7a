import { expect, test } from 'vitest';
import { RIGHTS, rightsOf } from '../../../src/http/rights.js';
import { testApp } from '../../support/app.js';
import { studioFixture } from '../../support/fixtures.js';

const { owner, tutor, ownerMember } = await testApp();

test('who am I tells name, rights and the day; the studio once there is one', async () => {
  const before = (await owner.get('/api/me')).json();
  expect(before).toMatchObject({ id: ownerMember.id, role: 'owner', studio: null, today: '2026-03-10' });
  expect(before.rights).toEqual([...RIGHTS]);
  await studioFixture(owner, { timeZone: 'Pacific/Kiritimati' }); // 14 hours ahead of UTC: at 09:00Z it is 23:00 there
  const after = (await tutor.get('/api/me')).json();
  expect(after.studio).toEqual({
    name: 'Alder Lane Pottery',
    currency: 'GBP',
    locale: 'en-GB',
    timeZone: 'Pacific/Kiritimati',
  });
  expect(after.rights).toEqual(RIGHTS.filter((right) => rightsOf('tutor').includes(right)));
  expect(after.rights).not.toContain('money:read');
});

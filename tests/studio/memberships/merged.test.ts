import { expect, test } from 'vitest';
import type { MergeOutcome } from '../../../src/studio/merges/contract.js';
import { testApp } from '../../support/app.js';
import { kindFixture, membershipFixture } from '../../support/fixtures/memberships.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner } = await testApp();

test('two entries of one person have one membership at a time; what was cancelled or has ended goes over', async () => {
  const { standard } = await studioFixture(owner);
  const kind = await kindFixture(owner, standard.id);
  const [stays, gone] = [await personFixture(owner), await personFixture(owner)];
  const merge = () => owner.post(`/api/people/${stays.id}/merges`, { otherId: gone.id });
  const { id } = await membershipFixture(owner, gone.id, kind.id, '2026-03-01');
  const later = await membershipFixture(owner, stays.id, kind.id, '2026-05-01');
  const refused = (await merge()).json();
  expect(refused).toMatchObject({ type: '/problems/both-there' });
  expect(refused.detail).toContain(`Both are members at the same time: ${kind.name} and ${kind.name}.`);
  expect((await owner.post(`/api/memberships/${later.id}/withdrawal`, { reason: 'There twice' })).statusCode).toBe(201);
  const outcome: MergeOutcome = (await merge()).json();
  expect(outcome.merge.moved).toContainEqual({ what: 'memberships', rows: 1 });
  expect(outcome.person.memberSince).toBe('2026-03-01');
  const { items } = (await owner.get(`/api/memberships?personId=${stays.id}`)).json();
  expect(items).toMatchObject([{ id, personId: stays.id, owedMinor: 6000 }]);
  // what was cancelled goes over as well, with who had it
  await expect(db.membership.update({ where: { id }, data: { personId: gone.id } })).rejects.toThrow(/WB030|23503/);
  const third = await personFixture(owner);
  const again = await owner.post(`/api/people/${third.id}/merges`, { otherId: stays.id });
  expect(again.json().merge.moved).toContainEqual({ what: 'memberships', rows: 2 });
});

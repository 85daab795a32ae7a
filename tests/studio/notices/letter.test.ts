import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { receiptFixture } from '../../support/fixtures/notices.js';

const { owner, tutor, db } = await testApp();

test('a letter is read with the words that are sent, by whoever sees money', async () => {
  const { noticeId, personId } = await receiptFixture(owner, await coursesFixture(owner));
  const { name } = await db.person.findUniqueOrThrow({ where: { id: personId } });
  const letter = (await owner.get(`/api/notices/${noticeId}`)).json();
  expect(letter).toMatchObject({ id: noticeId, personName: name, occasion: 'receipt', state: 'waiting' });
  expect(letter.subject).toContain('R-000001');
  expect(letter.text).toContain(`Dear ${name},`);
  expect(letter.text).toContain('£30');
  expect((await tutor.get(`/api/notices/${noticeId}`)).statusCode).toBe(403);
  expect((await owner.get(`/api/notices/${personId}`)).json().detail).toContain('Letters');
});

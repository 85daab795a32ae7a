import { beforeAll, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Found } from '../../../src/studio/reports/search/contract.js';
import { isCode, newCode, suggestCodes } from '../../../src/trade/text/ware-code.js';
import { testApp } from '../../support/app.js';
import { payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, stranger } = await testApp();
const person = (name: string, email: string | null = null) =>
  made<{ id: string; name: string }>(owner, '/api/people', { name, email, addressLines: ['3 Mill Row'] });
const search = async (q: string, who = owner): Promise<Found> => {
  const answer = await who.get(`/api/search?q=${encodeURIComponent(q)}`);
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json();
};

let zoe: { id: string };
let codes: string[];
let receiptNumber: string;
beforeAll(async () => {
  const home = await coursesFixture(owner);
  zoe = await person('Zoë Duvál', 'zoe@kiln.example');
  await person('Ada Zoellick');
  await person('Benzoe Hart');
  const course = await home.addCourse();
  await db.course.update({ where: { id: course.id }, data: { title: 'Zoetic bowls' } });
  const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, {
    ...{ payerId: zoe.id, attendeeIds: [zoe.id] },
  });
  receiptNumber = (await payFor(owner, booking, 1_000)).json().receiptNumber;
  const ware = [
    { form: 'mug', size: 'medium', description: 'Mug with a zoetrope', clayId: null, count: 2 },
    { form: 'bowl', size: 'medium', description: 'Bowl', clayId: null, count: 7 },
  ];
  const taken = await owner.post('/api/pieces', {
    ...{ makerId: zoe.id, courseId: null, firingPaidBy: 'maker', boardId: null, ware },
  });
  codes = taken.json().items.map(({ code }: { code: string }) => code);
});

test('people come by how their name begins, then by their words, then by what is inside', async () => {
  const { people } = await search('zoe');
  expect(people).toEqual({
    items: [
      { id: zoe.id, name: 'Zoë Duvál', email: 'zoe@kiln.example', phone: null },
      expect.objectContaining({ name: 'Ada Zoellick' }),
      expect.objectContaining({ name: 'Benzoe Hart' }),
    ],
    more: false,
  });
});

test('a code comes first however it was typed, and tells whose the piece is and where it is', async () => {
  const [code = ''] = codes;
  const { pieces, people, mistypedCode } = await search(` ${code.toLowerCase().slice(0, 2)}-${code.slice(2)}`);
  expect(pieces?.items[0]).toMatchObject({
    ...{ code, makerName: 'Zoë Duvál', form: 'mug', description: 'Mug with a zoetrope', stage: 'greenware' },
    ...{ boardName: null, courseTitle: null },
  });
  expect(people?.items).toMatchObject([{ name: 'Zoë Duvál' }]); // whose it is
  expect(mistypedCode).toBeNull();
});

test('a few of each are shown, and that there are more', async () => {
  const { pieces, courses, papers } = await search('zoe');
  expect([pieces?.items.length, pieces?.more]).toEqual([6, true]);
  expect(courses?.items).toEqual([
    {
      id: expect.any(String),
      title: 'Zoetic bowls',
      planName: expect.any(String),
      state: 'coming',
      firstDay: expect.stringMatching(/^2026-/),
    },
  ]);
  expect(papers).toMatchObject({
    items: [{ kind: 'receipt', number: receiptNumber, name: 'Zoë Duvál', amountMinor: 1_000 }],
    more: false,
  });
});

test('a receipt is found by its number, however it is written', async () => {
  for (const q of [receiptNumber, receiptNumber.toLowerCase().replace('-', ''), String(Number(receiptNumber.slice(2)))])
    expect(
      (await search(q)).papers?.items.map(({ number }) => number),
      q,
    ).toEqual([receiptNumber]);
  expect((await search('C-000001')).papers?.items).toEqual([]);
});

test('of a mistyped code it says which sign is wrong, where a piece bears the right one', async () => {
  const [code = ''] = codes;
  const wrong = suggestCodes(
    code.slice(0, -1) + [...'23457ACFHJKMNRTXY'].find((sign) => !isCode(code.slice(0, -1) + sign)),
  );
  expect(wrong.map(({ code: meant }) => meant)).toContain(code);
  const typed = code.slice(0, -1) + [...'23457ACFHJKMNRTXY'].find((sign) => sign !== code.at(-1));
  const { mistypedCode } = await search(typed);
  expect(mistypedCode?.pieces.find((piece) => piece.code === code)).toMatchObject({
    wrongSign: 4,
    makerName: 'Zoë Duvál',
  });
  expect(mistypedCode?.said).toContain(`${code} (sign 4 differs)`);
  expect(suggestCodes(newCode(1))).toEqual([]);
});

test('a tutor sees no money, and nobody who is not signed in sees anything', async () => {
  const found = await search('zoe', tutor);
  expect(found.papers).toBeNull();
  expect(found.people?.items.length).toBe(3);
  expect((await stranger.get('/api/search?q=zoe')).statusCode).toBe(401);
});

test('what is no word finds nothing', async () => {
  const { people, pieces, courses, papers } = await search('--');
  for (const part of [people, pieces, courses, papers]) expect(part).toEqual({ items: [], more: false });
});

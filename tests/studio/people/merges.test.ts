import { beforeAll, describe, expect, test } from 'vitest';
import type { Merge, MergeOutcome } from '../../../src/studio/merges/contract.js';
import { WHAT } from '../../../src/studio/merges/service.js';
import type { Person } from '../../../src/studio/people/contract.js';
import { testApp } from '../../support/app.js';
import { payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const studio = await testApp();
const { db, owner, tutor } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

let count = 0;
const add = (body: object = {}) => made<Person>(owner, '/api/people', { name: `Ines Duval ${++count}`, ...body });
const merge = (stays: Person, gone: Person, body: object = {}) =>
  owner.post(`/api/people/${stays.id}/merges`, { otherId: gone.id, ...body });
const merged = async (stays: Person, gone: Person, body: object = {}): Promise<MergeOutcome> => {
  const answer = await merge(stays, gone, body);
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json();
};
const book = (courseId: string, payer: Person, attendees: Person[] = [payer]) =>
  made<{ id: string; payerId: string; chargeId: string }>(owner, `/api/courses/${courseId}/bookings`, {
    payerId: payer.id,
    attendeeIds: attendees.map(({ id }) => id),
  });
const refusal = async (stays: Person, gone: Person) => {
  const { type, detail } = (await merge(stays, gone)).json();
  return [type, detail];
};
const balanceOf = async (personId: string) =>
  (await db.posting.aggregate({ where: { personId }, _sum: { amountMinor: true } }))._sum.amountMinor ?? 0;

describe('two entries of one person', () => {
  test('become one: places, money, letters and papers go over, and the books say the same', async () => {
    const [ann, anna] = [
      await add({ name: 'Ann Sorrel', email: 'ann@example.org' }),
      await add({ name: 'Anna Sorrel' }),
    ];
    const [one, two] = [await home.addCourse(), await home.addCourse()];
    await book(one.id, ann);
    const booking = await book(two.id, anna);
    expect((await payFor(owner, booking as never, 3000)).statusCode).toBe(201);
    const accounts = (await owner.get('/api/account-balances')).json();
    const [annOwed, annaOwed] = [await balanceOf(ann.id), await balanceOf(anna.id)];
    const receipts = await db.receipt.count({ where: { payment: { personId: anna.id } } });
    expect(receipts).toBe(1);

    const { person, merge: noted, balanceMinor } = await merged(ann, anna);
    expect(person).toEqual(ann);
    expect([noted.balanceMinor, noted.intoBalanceMinor, balanceMinor]).toEqual([annaOwed, annOwed, annaOwed + annOwed]);
    expect(await balanceOf(ann.id)).toBe(annaOwed + annOwed);
    expect((await owner.get('/api/account-balances')).json()).toEqual(accounts);
    expect(noted).toMatchObject({ id: anna.id, was: anna, intoWas: ann, mergedBy: 'Test owner' });
    expect(noted.moved).toEqual([
      ...[
        { what: 'bookings', rows: 1 },
        { what: 'places', rows: 1 },
        { what: 'charges', rows: 1 },
        { what: 'payments', rows: 1 },
      ],
      ...[
        { what: 'postings', rows: 2 },
        { what: 'letters', rows: 3 },
      ],
    ]);
    const list = async (address: string) => (await owner.get(`/api/${address}?personId=${ann.id}`)).json().items.length;
    expect([await list('bookings'), await list('charges'), await list('payments'), await list('notices')]).toEqual([
      2, 2, 1, 4,
    ]);
    expect(await db.receipt.count({ where: { payment: { personId: ann.id } } })).toBe(1);
    expect((await owner.get(`/api/courses/${two.id}/register`)).json().people).toMatchObject([{ personId: ann.id }]);
  });

  test('are seen before: nothing is kept of a preview', async () => {
    const [ann, anna] = [await add(), await add({ phone: '07700 900123' })];
    const seen = (await owner.post(`/api/people/${ann.id}/merges/preview`, { otherId: anna.id })).json();
    expect(seen).toMatchObject({ letters: [], outcome: { person: { phone: '07700 900123' }, taken: ['phone'] } });
    expect((await owner.get(`/api/people/${anna.id}`)).json()).toEqual(anna);
    expect(await db.personMerge.count({ where: { id: anna.id } })).toBe(0);
  });

  test('the address of the one who went leads on, also twice, and who names it is told whom to choose', async () => {
    const [first, second, third] = [await add(), await add(), await add()];
    await merged(second, first);
    await merged(third, second);
    expect((await owner.get(`/api/people/${first.id}`)).json()).toEqual(third);
    const { items }: { items: Merge[] } = (await owner.get(`/api/people/${first.id}/merges`)).json();
    expect(items.map(({ id }) => id)).toEqual([second.id, first.id]);
    const course = await home.addCourse();
    const body = { payerId: first.id, attendeeIds: [first.id] };
    const answer = await owner.post(`/api/courses/${course.id}/bookings`, body);
    expect(answer.json()).toMatchObject({
      ...{ status: 409, type: '/problems/merged', personId: third.id },
      detail: `This entry was merged into that of ${third.name}. Choose ${third.name} instead.`,
    });
    expect(await refusal(third, first)).toEqual(['/problems/merged', answer.json().detail]);
  });

  test('the owner chooses which of two values is kept; the other is kept with the merge', async () => {
    const ann = await add({ email: 'old@example.org', phone: '1', memberSince: '2024-05-01' });
    const anna = await add({
      email: 'new@example.org',
      phone: '2',
      memberSince: '2022-05-01',
      addressLines: ['3 Mill Row'],
    });
    const { person, taken, merge: noted } = await merged(ann, anna, { take: ['name', 'email'] });
    expect(taken).toEqual(['name', 'email']);
    expect(person).toEqual({ ...ann, name: anna.name, email: 'new@example.org' });
    expect([noted.was, noted.intoWas]).toEqual([anna, ann]);
    const [bo, bob] = [
      await add({ memberSince: '2024-05-01' }),
      await add({ memberSince: '2022-05-01', email: 'bo@example.org' }),
    ];
    expect((await merged(bo, bob)).person).toMatchObject({
      name: bo.name,
      memberSince: '2022-05-01',
      email: 'bo@example.org',
    });
  });

  test('notes on health become one, and who noted them is kept', async () => {
    const [ann, anna, bo] = [await add(), await add(), await add()];
    await owner.put(`/api/people/${ann.id}/care-note`, { careNote: 'Hard of hearing' });
    await owner.put(`/api/people/${anna.id}/care-note`, { careNote: 'Allergic to latex' });
    await merged(ann, anna);
    const note = async (id: string) => (await owner.get(`/api/people/${id}/care-note`)).json();
    expect(await note(ann.id)).toMatchObject({ careNote: 'Hard of hearing\nAllergic to latex', changes: [{}, {}, {}] });
    await merged(bo, ann);
    expect(await note(bo.id)).toMatchObject({ careNote: 'Hard of hearing\nAllergic to latex' });
    const long = await add();
    await owner.put(`/api/people/${long.id}/care-note`, { careNote: 'x'.repeat(480) });
    expect((await refusal(bo, long))[1]).toMatch(/^Both have a note on health and access, and together/);
  });
});

describe('what is refused', () => {
  test('oneself, nobody, and a tutor who asks', async () => {
    const [ann, anna] = [await add(), await add()];
    expect((await merge(ann, ann)).json().detail).toMatch(/correct|same/i);
    expect((await merge(ann, { ...anna, id: '01990000-0000-7000-8000-000000000000' })).statusCode).toBe(404);
    expect((await tutor.post(`/api/people/${ann.id}/merges`, { otherId: anna.id })).statusCode).toBe(403);
    expect((await tutor.get(`/api/people/${ann.id}/merges`)).statusCode).toBe(403);
  });

  test('both have a place on a course, until one of them is cancelled', async () => {
    const [ann, anna] = [await add(), await add()];
    const course = await home.addCourse();
    const booking = await book(course.id, ann);
    await book(course.id, anna);
    const [type, detail] = await refusal(ann, anna);
    expect(type).toBe('/problems/both-there');
    expect(detail).toMatch(
      /^Both have a place on “.+” of .+\. If they are one person, cancel one of the two places first\.$/,
    );
    expect((await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Booked twice' })).statusCode).toBe(
      201,
    );
    await merged(ann, anna);
  });

  test('both wait, or one waits where the other has a place', async () => {
    const [ann, anna, bo] = [await add(), await add(), await add()];
    const course = await home.addCourse({ places: 1, minimum: 1 });
    await book(course.id, bo);
    const waits = (person: Person) =>
      made(owner, `/api/courses/${course.id}/waiting-list`, { personId: person.id, places: 1 });
    const entry = await waits(ann);
    await waits(anna);
    expect((await refusal(ann, anna))[1]).toMatch(/^Both wait for a place on/);
    expect((await refusal(anna, bo))[1]).toMatch(/^One waits for .* and the other has a place on it/);
    expect((await refusal(bo, anna))[1]).toMatch(/^One waits for/);
    await owner.post(`/api/waiting-list/${entry.id}/removal`);
    await merged(ann, anna);
  });

  test('the database refuses what gets past the service', async () => {
    const [ann, anna] = [await add(), await add()];
    const course = await home.addCourse();
    await book(course.id, ann);
    const booking = await book(course.id, anna);
    const place = await db.place.findFirstOrThrow({ where: { bookingId: booking.id } });
    await expect(db.place.update({ where: { id: place.id }, data: { personId: ann.id } })).rejects.toThrow(/already/);
    await expect(db.charge.updateMany({ where: { personId: anna.id }, data: { personId: ann.id } })).rejects.toThrow(
      /never changed/,
    );
    await expect(db.person.delete({ where: { id: (await add()).id } })).rejects.toThrow(/leads nowhere/);
    await expect(db.personMerge.updateMany({ data: { balanceMinor: 1 } })).rejects.toThrow(/stays as it is/);
    const half = { id: (await add()).id, intoId: ann.id, mergedAt: new Date(), mergedById: studio.ownerMember.id };
    const data = { ...half, was: {}, intoWas: {}, balanceMinor: 0, intoBalanceMinor: 0, moved: {} };
    await expect(db.personMerge.create({ data })).rejects.toThrow(/not whole/);
  });
});

describe('at once with others', () => {
  test('a booking of either comes first or finds one person; nobody has two places', async () => {
    for (let round = 0; round < 8; round++) {
      const [ann, anna, course] = [await add(), await add(), await home.addCourse()];
      const booking = ({ id }: Person) =>
        owner.post(`/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] });
      const answers = await Promise.all([booking(anna), merge(ann, anna), booking(ann), merge(anna, ann)]);
      expect(answers.map(({ statusCode }) => statusCode).filter((status) => ![201, 409].includes(status))).toEqual([]);
      const register = (await owner.get(`/api/courses/${course.id}/register`)).json();
      const isMerged = answers[1].statusCode === 201 || answers[3].statusCode === 201;
      if (isMerged) expect(register.people.length).toBeLessThanOrEqual(1);
    }
  });

  test('while a merge is under way nothing but who it was may change', async () => {
    const [ann, anna] = [await add(), await add()];
    await book((await home.addCourse()).id, anna);
    const under = { id: anna.id, intoId: ann.id, mergedAt: new Date(), mergedById: studio.ownerMember.id };
    const data = { ...under, was: {}, intoWas: {}, balanceMinor: 0, intoBalanceMinor: 0 };
    const change = (more: object) =>
      db.$transaction(async (tx) => {
        await tx.personMerge.create({ data });
        await tx.charge.updateMany({ where: { personId: anna.id }, data: { personId: ann.id, ...more } });
        throw new Error('it went through');
      });
    await expect(change({ grossMinor: 1 })).rejects.toThrow(/never changed/);
    await expect(change({})).rejects.toThrow('it went through');
  });
});

describe('entries that may be of one person', () => {
  const doubles = async () => {
    const { items }: { items: { one: Person; other: Person; same: string[] }[] } = (
      await owner.get('/api/doubles')
    ).json();
    return items.map(({ one, other, same }) => [one.name, other.name, ...same]);
  };

  test('have a name, an address or a number in common, and are told until they are merged or told apart', async () => {
    const zoe = await add({ name: 'Zoë Marsh', email: 'ZOE@example.org', phone: '+44 7700 900456' });
    const same = await add({ name: 'ZOE MARSH', phone: '07700 900456' });
    const son = await add({ name: 'Ivo Marsh', email: 'zoe@example.org' });
    expect(await doubles()).toEqual([
      ['Zoë Marsh', 'ZOE MARSH', 'name', 'phone'],
      ['Zoë Marsh', 'Ivo Marsh', 'email'],
    ]);
    const of = async ({ id }: Person) => (await owner.get(`/api/doubles?personId=${id}`)).json().items.length;
    expect([await of(zoe), await of(same), await of(son)]).toEqual([2, 1, 1]);
    expect((await owner.post(`/api/people/${son.id}/distinctions`, { otherId: zoe.id })).statusCode).toBe(201);
    expect(await doubles()).toEqual([['Zoë Marsh', 'ZOE MARSH', 'name', 'phone']]);
    await merged(same, zoe);
    expect(await doubles()).toEqual([]); // told apart from the one who went, he is told apart from the one who stays
  });

  test('are not told where they were on a course together', async () => {
    const [ivo, ivy] = [await add({ phone: '01632 960 111' }), await add({ phone: '01632 960111' })];
    expect(await doubles()).toHaveLength(1);
    await book((await home.addCourse()).id, ivo, [ivo, ivy]);
    expect(await doubles()).toEqual([]);
  });
});

test('of a session that both were invited to, the one who stays keeps one invitation', async () => {
  const [stays, gone] = [await add(), await add()];
  const [first, second] = (await home.addCourse()).sessions;
  const at = new Date();
  const entry = (personId: string, sessionId = '', sequence = 0) => ({
    ...{ personId, sessionId, sequence, ended: true, sentAt: at },
    ...{ startsAt: at, endsAt: new Date(at.getTime() + 1), summary: 'Bowls', location: 'Alder Lane' },
  });
  await db.calendarEntry.createMany({
    data: [entry(stays.id, first?.id, 4), entry(gone.id, first?.id, 2), entry(gone.id, second?.id, 1)],
  });
  await merged(stays, gone);
  const rows = await db.calendarEntry.findMany({ where: { personId: stays.id }, orderBy: { sequence: 'asc' } });
  expect(rows.map(({ sessionId, sequence }) => [sessionId, sequence])).toEqual([
    [second?.id, 1],
    [first?.id, 4],
  ]);
});

test('each column that names a person is moved and has a word', async () => {
  const rows = await db.$queryRaw<{ column: string }[]>`
    SELECT f.conrelid::regclass || '.' || a.attname AS column FROM pg_constraint f
      JOIN pg_attribute a ON a.attrelid = f.conrelid AND a.attnum = f.conkey[1]
     WHERE f.contype = 'f' AND f.confrelid = 'person'::regclass`;
  const left = ['two_people.one_id', 'two_people.other_id', 'guardian.child_id', 'guardian.guardian_id']; // written again, before anything moves
  expect(
    rows
      .map(({ column }) => column)
      .filter((column) => !left.includes(column))
      .sort(),
  ).toEqual(Object.keys(WHAT).sort());
});

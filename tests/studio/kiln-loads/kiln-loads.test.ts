import { expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { KilnLoads } from '../../../src/studio/kiln-loads/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { scheduleFixture, tariffFixture } from '../../support/fixtures/kilns.js';
import { made } from '../../support/fixtures.js';

const { owner, tutor } = await testApp();
const home = await coursesFixture(owner);
const during = (purpose: string) => ({ purpose, minutes: 120, prepareMinutes: 0, clearMinutes: 0 });
const hour = (startsAt: string) => ({
  startsAt,
  endsAt: new Date(Date.parse(startsAt) + 3_600_000).toISOString(),
  roomId: home.room.id,
});

test('a course causes each firing of its plan, between the session that makes its ware and the one that needs it', async () => {
  const sessions = [during('making'), during('making'), during('glazing')];
  const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), sessions, dryingDays: 7 });
  const starts = ['2027-01-04T10:00:00Z', '2027-01-11T10:00:00Z', '2027-01-25T10:00:00Z'];
  const body = { ...home.body, planId: plan.id, places: 6, minimum: 1, sessions: starts.map(hour) };
  const course = await made(owner, '/api/courses', body);
  const found: KilnLoads = (await owner.get(`/api/courses/${course.id}/kiln-loads`)).json();
  const [bisque, glaze] = found.loads;
  // made until 11 January, 11:00, dried for a week; 9 h 58 min of firing and 24 h of cooling leave six days until the 25th
  expect(bisque).toMatchObject({
    from: '2027-01-18T11:00:00.000Z',
    outBy: '2027-01-25T10:00:00.000Z',
    spareHours: 133,
  });
  expect(glaze).toMatchObject({ from: '2027-01-25T11:00:00.000Z', outBy: null, spareHours: null });
  expect(Number(bisque?.perStudent)).toBeGreaterThan(0);
  expect(Number(bisque?.ifFull)).toBeCloseTo(6 * Number(bisque?.perStudent), 9);
  expect(found.places).toBe(6);
  expect((await owner.get('/api/courses/0190b7d4-0000-7000-8000-000000000000/kiln-loads')).statusCode).toBe(404);
  expect((await tutor.get(`/api/courses/${course.id}/kiln-loads`)).statusCode).toBe(403);
});

test('ware that comes made fires for what it takes, by the share and by whole loads; and so does what students bring', async () => {
  await tariffFixture(owner);
  const lustre = await scheduleFixture(owner, { kind: 'lustre', cone: null, segments: LUSTRE });
  const [mug] = planBody(home).pieces;
  const fired = { ...mug, comesAs: 'fired', clayId: null, wetMassGrams: null, glaze: null };
  const evening = async (changes: object) => {
    const firings = [{ kilnId: home.kiln.id, scheduleId: lustre.id }];
    const recipe = { ...planBody(home), sessions: [during('lustre')], firings, pieces: [], ...changes };
    const plan = await made<Plan>(owner, '/api/course-plans', recipe);
    const sessions = [await inRoom('2027-03-01T18:00:00Z')];
    const body = { ...home.body, planId: plan.id, places: 6, minimum: 1, sessions };
    const course = await made(owner, '/api/courses', body);
    const { loads }: KilnLoads = (await owner.get(`/api/courses/${course.id}/kiln-loads`)).json();
    const { inputs } = (await owner.get(`/api/courses/${course.id}/price`)).json();
    return { load: loads[0], line: inputs.lines.find(({ key }: { key: string }) => key === 'firing-1') };
  };
  // two fired mugs of 126 * 94 * 101 mm with their gaps, of a kiln of 150 litres that is 60 % full
  const pieces = await evening({ pieces: [fired] });
  expect(pieces.load).toMatchObject({ perStudent: '0.026583', ifFull: '0.159498' });
  expect(pieces.line).toMatchObject({ basis: 'per-student', quantity: '0.026583' });
  expect(Number(pieces.line.rateMinor)).toBeGreaterThan(200); // the wear, and electricity
  const brought = await evening({ broughtLitres: '4.5' });
  expect(brought.load).toMatchObject({ perStudent: '0.05', ifFull: '0.3' });
  const whole = await evening({ broughtLitres: '18', wholeLoads: true });
  expect(whole.line).toMatchObject({ basis: 'per-course', quantity: '2' }); // 6 * 18 of 90 litres
});

test('a firing that nothing goes through is refused, and says what to do', async () => {
  const [mug] = planBody(home).pieces;
  const fired = { ...mug, comesAs: 'fired', clayId: null, wetMassGrams: null };
  for (const pieces of [[], [fired]]) {
    const answer = await owner.post('/api/course-plans', { ...planBody(home), pieces });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().detail).toContain('Nothing goes through Bisque');
    expect(answer.json().errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
      '#/firings/0/scheduleId',
      '#/firings/1/scheduleId',
    ]);
  }
  const both = await owner.post('/api/course-plans', { ...planBody(home), pieces: [{ ...mug, comesAs: 'bisque' }] });
  expect(both.json().errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
    '#/pieces/0/clayId',
    '#/pieces/0/wetMassGrams',
  ]);
});

const LUSTRE = [{ ratePerHourC: 120, targetC: 740, holdMinutes: 10 }];
let rooms = 0;
async function inRoom(startsAt: string) {
  const room = await made(owner, '/api/rooms', { name: `Lustre room ${++rooms}`, benches: 20 });
  return { ...hour(startsAt), roomId: room.id };
}

test('a firing is dated when the kiln of the one before it is cold, not when that one ends or its ware is made', async () => {
  // nobody glazes in a session: both firings take what was made on the only day
  const plan = await made<Plan>(owner, '/api/course-plans', {
    ...planBody(home),
    ...{ sessions: [during('making')], dryingDays: 7 },
  });
  const body = { ...home.body, planId: plan.id, minimum: 1, sessions: [hour('2027-02-01T10:00:00Z')] };
  const course = await made(owner, '/api/courses', body);
  const [bisque, glaze]: KilnLoads['loads'] = (await owner.get(`/api/courses/${course.id}/kiln-loads`)).json().loads;
  // made until 1 February, 11:00, dried for a week; then 9 h 58 min of firing and 24 h of cooling
  expect(bisque).toMatchObject({ from: '2027-02-08T11:00:00.000Z', outBy: null });
  expect(glaze).toMatchObject({ from: '2027-02-09T20:58:00.000Z', outBy: null });
});

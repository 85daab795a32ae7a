import ical, { type VEvent } from 'node-ical';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { app, db, owner, tutor, tutorMember, clock } = await testApp();
const HOSTILE = `<script>alert("1")</script> & 'mugs'`;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

/** As somebody else's page asks, which nobody is signed in to. */
const ask = (ending: string) =>
  app.inject({ url: `/api/public/courses.${ending}`, headers: { origin: 'https://alderlane.example' } });
const turn = async (wish: { isOn: boolean; namesTutors?: boolean }) => {
  const answer = await owner.put('/api/web-page', { namesTutors: false, takesRequests: false, ...wish });
  expect(answer.statusCode).toBe(200);
};
const ENDINGS = ['json', 'html', 'ics'];
const all = async () => (await Promise.all(ENDINGS.map(ask))).map(({ body }) => body).join('\n');
const eventsOf = (text: string): VEvent[] =>
  Object.values(ical.sync.parseICS(text)).filter((part): part is VEvent => part?.type === 'VEVENT');
const listed = async (title: string) =>
  (await ask('html')).body.split('<li').find((item) => item.includes(`>${title}<`)) ?? '';

describe('while it is off', () => {
  test('each address answers that there is nothing, and says so to a page of another site', async () => {
    await home.addCourse({ title: 'Nobody sees it' });
    for (const ending of ENDINGS) {
      const answer = await ask(ending);
      expect(answer.statusCode).toBe(404);
      expect(answer.headers).toMatchObject({
        'content-type': expect.stringContaining('application/problem+json'),
        'access-control-allow-origin': '*',
      });
      expect(answer.headers['cache-control']).toBeUndefined(); // or it would be off for a minute after it was switched on
      expect(answer.json().type).toBe('/problems/not-found');
      expect(answer.body).not.toContain('Nobody sees it');
    }
    await turn({ isOn: true });
    expect((await ask('html')).statusCode).toBe(200);
    await turn({ isOn: false });
    expect((await ask('html')).statusCode).toBe(404);
  });

  test('the owner sees what people would see', async () => {
    expect((await owner.get('/api/web-page/fragment')).json().html).toContain('Nobody sees it');
  });
});

describe('who switches it on', () => {
  test('is the owner, who has read what it is', async () => {
    expect((await tutor.get('/api/web-page')).statusCode).toBe(403);
    const wish = { isOn: true, namesTutors: false, takesRequests: false };
    expect((await tutor.put('/api/web-page', wish, undefined, { 'if-match': '"x"' })).statusCode).toBe(403);
    const { headers } = await owner.get('/api/web-page');
    await turn(wish);
    const late = await owner.put('/api/web-page', wish, undefined, { 'if-match': String(headers.etag) });
    expect(late.json().type).toBe('/problems/changed-meanwhile');
    expect((await owner.put('/api/web-page', wish, undefined, {})).statusCode).toBe(428);
    expect((await owner.put('/api/web-page', { isOn: true })).statusCode).toBe(422);
    expect((await owner.get('/api/web-page')).json()).toMatchObject({
      isOn: true,
      addresses: { html: expect.stringMatching(/^http:\/\/.+\/api\/public\/courses\.html$/) },
    });
  });
});

describe('while it is on', () => {
  beforeAll(() => turn({ isOn: true }));

  test('each address is read by pages of other sites, and kept for a minute', async () => {
    const types = ['application/ld+json', 'text/html', 'text/calendar'];
    for (const [i, ending] of ENDINGS.entries()) {
      const answer = await ask(ending);
      expect([ending, answer.statusCode]).toEqual([ending, 200]);
      expect(answer.headers).toMatchObject({
        'content-type': `${types[i]}; charset=utf-8`,
        'access-control-allow-origin': '*',
        'cache-control': 'public, max-age=60',
        'x-content-type-options': 'nosniff',
      });
    }
  });

  test('what the owner typed is text, whatever it looks like', async () => {
    await home.addCourse({ title: HOSTILE });
    const { body } = await ask('html');
    expect(body).toContain(
      '<h3 class="wareboard-title">&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; &#39;mugs&#39;</h3>',
    );
    expect(body).not.toMatch(/<script|\son\w+=|style=/i);
    expect(JSON.stringify(JSON.parse((await ask('json')).body))).toContain(JSON.stringify(HOSTILE).slice(1, -1));
    const titles = eventsOf((await ask('ics')).body).map(({ summary }) => summary);
    expect(titles).toContain(`${HOSTILE} (1 of 2)`);
  });

  test('a course says when, for how much, and how many places are left, until it is full', async () => {
    const course = await home.addCourse({ title: 'Bowls', places: 4 });
    expect(await listed('Bowls')).toContain('<p class="wareboard-places">4 places left</p>');
    expect(await listed('Bowls')).toContain('<p class="wareboard-price">£120 for a place</p>');
    expect(await listed('Bowls')).toContain(
      '<time datetime="2026-04-14T19:00:00+01:00">Tuesday 14 April 2026, 19:00 to 21:30</time>',
    );
    await bookingFixture(owner, course.id, 3);
    expect(await listed('Bowls')).toContain('<p class="wareboard-places">1 place left</p>');
    await bookingFixture(owner, course.id);
    expect(await listed('Bowls')).toContain('<p class="wareboard-places">Full</p>');
  });

  test('nobody who comes is named, nor how many; who teaches, only where the owner wants it', async () => {
    const course = await home.addCourse({ title: 'Jars', places: 7 });
    const booking = await bookingFixture(owner, course.id, 2);
    const [first] = course.sessions;
    const times = { startsAt: first?.startsAt ?? '', endsAt: first?.endsAt ?? '' };
    await db.sessionTutor.create({
      data: { sessionId: first?.id ?? '', staffMemberId: tutorMember.id, ...times },
    });
    const before = await all();
    for (const secret of [booking.payerName, tutorMember.name, '@example.org', 'taken'])
      expect(before).not.toContain(secret);
    await turn({ isOn: true, namesTutors: true });
    for (const ending of ENDINGS) expect((await ask(ending)).body).toContain(tutorMember.name);
    expect(await all()).not.toContain(booking.payerName);
    await turn({ isOn: true });
  });
});

describe('a course that nobody can come to any more, or not everybody', () => {
  beforeAll(() => turn({ isOn: true }));

  test('is absent: a private session, one that was cancelled; an open studio is there', async () => {
    const group = { ...planBody(home), kind: 'private', groupOf: 4, minimum: 1 };
    const privately = await made<Plan>(owner, '/api/course-plans', group);
    await home.addCourse({ title: 'A birthday', planId: privately.id, minimum: 1, perHeadAboveMinor: 1000 });
    const visits = await made<Plan>(owner, '/api/course-plans', {
      ...{ ...planBody(home), kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
      sessions: [{ purpose: 'making', minutes: 120, prepareMinutes: 10, clearMinutes: 10 }],
    });
    const sessions = [{ ...home.body.sessions[0], benches: 1 }];
    await home.addCourse({ title: 'A bench', planId: visits.id, places: 1, minimum: 0, depositMinor: 0, sessions });
    const { id } = await home.addCourse({ title: 'Called away' });
    expect(await all()).toContain('Called away');
    const wish = { cause: 'other', reason: 'The kiln is broken' };
    expect((await owner.post(`/api/courses/${id}/cancellation`, wish)).statusCode).toBeLessThan(300);
    const now = await all();
    for (const absent of ['A birthday', 'Called away', 'The kiln is broken']) expect(now).not.toContain(absent);
    expect(await listed('A bench')).toContain('1 place left');
  });

  test('is absent from the minute in which it begins', async () => {
    await home.addCourse({ title: 'On the minute' });
    await clock.set('2026-04-14T17:59:59Z');
    expect(await listed('On the minute')).not.toBe('');
    await clock.set('2026-04-14T18:00:00Z');
    expect(await all()).not.toContain('On the minute');
    expect((await ask('html')).body).toContain('No courses are planned at the moment.');
    expect(JSON.parse((await ask('json')).body)['@graph']).toEqual([]);
    await clock.set('2026-03-10T09:00:00Z');
  });
});

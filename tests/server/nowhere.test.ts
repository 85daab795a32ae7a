import { expect, test } from 'vitest';
import { testApp } from '../support/app.js';

const { app } = await testApp();
const AS_PERSON = 'text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8';
const open = (url: string, accept?: string) => app.inject({ url, headers: accept === undefined ? {} : { accept } });

test('a person who opens an address at which nothing is gets the desk, which shows the way back', async () => {
  for (const url of ['/nothing', '/price/no/such/place', '/owed?x=1', '/apiary']) {
    const answer = await open(url, AS_PERSON);
    expect([answer.statusCode, answer.headers.vary], url).toEqual([404, 'Accept']);
    expect(answer.headers['content-type']).toMatch(/^text\/html/);
    expect(answer.body).toContain('<script');
    expect(answer.headers['cache-control']).not.toContain('immutable');
  }
});

test('a program, and whoever asks the API, is told by problem details', async () => {
  for (const [url, accept] of [
    ['/nothing', undefined],
    ['/nothing', 'application/json'],
    ['/nothing', '*/*'],
    ['/api/nothing', AS_PERSON],
    ['/api', AS_PERSON],
    ['/problems/unheard-of', AS_PERSON],
  ] as const) {
    const answer = await open(url, accept);
    expect([answer.statusCode, answer.json().type], url).toEqual([404, '/problems/not-found']);
    expect(answer.headers['content-type']).toMatch(/^application\/problem\+json/);
  }
  const wrong = await open('/api/sign-in', AS_PERSON);
  expect([wrong.statusCode, wrong.headers.allow]).toEqual([405, 'POST']);
});

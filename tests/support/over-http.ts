import { randomUUID } from 'node:crypto';
import type { LightMyRequestResponse as Answer } from 'fastify';
import type { Caller } from './app.js';
import { asRead } from './as-read.js';

/** A script that calls a running program over HTTP, and keeps the cookie that it is given. */
export function overHttp(address: string): Caller {
  let cookie = '';
  const send = async (
    method: string,
    url: string,
    payload?: unknown,
    key: string = randomUUID(),
    more: object = {},
  ): Promise<Answer> => {
    const headers: Record<string, string> = { 'sec-fetch-site': 'none', cookie, ...more };
    if (method !== 'GET') headers['idempotency-key'] = `"${key}"`;
    if (payload !== undefined) headers['content-type'] = 'application/json';
    const body = payload === undefined ? {} : { body: JSON.stringify(payload) };
    const answer = await fetch(new URL(url, address), { method, headers, ...body });
    cookie = answer.headers.get('set-cookie')?.split(';')[0] ?? cookie;
    const rawPayload = Buffer.from(await answer.arrayBuffer());
    const text = rawPayload.toString();
    const seen = { statusCode: answer.status, headers: Object.fromEntries(answer.headers), rawPayload, body: text };
    return { ...seen, json: () => JSON.parse(text) } as unknown as Answer;
  };
  return {
    through: () => {
      throw new Error('There is one program only.');
    },
    get: (url) => send('GET', url),
    post: (url, payload = {}, key) => send('POST', url, payload, key),
    put: async (url, payload, key, conditions) =>
      send('PUT', url, payload, key, conditions ?? asRead(await send('GET', url))),
  };
}

import createClient, { type Middleware } from 'openapi-fetch';
import type { components, paths } from './schema';

export type Schemas = components['schemas'];

/** A refusal as the API words it (RFC 9457): `detail` tells the person what to do. */
export class Refused extends Error {
  constructor(
    readonly type: string,
    detail: string,
    readonly faults: { pointer: string; detail: string }[] = [],
  ) {
    super(detail);
  }
}

const refusals: Middleware = {
  onRequest({ request }) {
    if (request.method !== 'GET' && !request.headers.has('idempotency-key'))
      request.headers.set('idempotency-key', `"${crypto.randomUUID()}"`);
    return request;
  },
  async onResponse({ response }) {
    if (response.ok) return;
    const body = await response.json().catch(() => null);
    throw new Refused(
      body?.type ?? 'unknown',
      body?.detail ?? `The server answered ${response.status}. Nothing was changed; try again.`,
      body?.errors ?? [],
    );
  },
  onError() {
    return new Refused(
      'unreachable',
      'The server can’t be reached. Nothing was changed; look whether it runs, then try again.',
    );
  },
};

/** Every request that needs a key gets one above, so whoever calls need not name it. */
type Keyed<Operation> = Operation extends { parameters: { header: object } }
  ? Omit<Operation, 'parameters'> & { parameters: Omit<Operation['parameters'], 'header'> }
  : Operation;
type Paths = { [Path in keyof paths]: { [Method in keyof paths[Path]]: Keyed<paths[Path][Method]> } };

/** The API, typed by its own OpenAPI document. Every refusal is thrown as Refused. */
export const api = createClient<Paths>({ baseUrl: '/' });
api.use(refusals);

/** Whether the API refused for a reason of the subject itself: not for want of a sign-in, or because no answer came. */
export const isAnswer = (error: unknown): error is Refused =>
  error instanceof Refused && !/signed-out|unreachable/.test(error.type);

/** Goes to sign-in and comes back here afterwards, where somebody must sign in first. @returns whether it does */
export function signInFirst(error: unknown): boolean {
  if (!(error instanceof Refused) || error.type !== '/problems/signed-out') return false;
  location.assign(`/sign-in?then=${encodeURIComponent(location.pathname)}`);
  return true;
}

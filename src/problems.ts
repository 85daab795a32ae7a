import { z } from 'zod';

/** Every way in which a request can be refused (RFC 9457). `type` identifies it; `detail` tells the person what to do next. */
interface Refusal {
  status: number;
  title: string;
}

/** What any noun can answer. */
const COMMON = {
  // the request itself
  malformed: { status: 400, title: 'The request cannot be read' },
  'key-required': { status: 400, title: 'An Idempotency-Key is missing' },
  'signed-out': { status: 401, title: 'You are not signed in' },
  'wrong-token': { status: 401, title: 'The API token is not valid' },
  'cross-site': { status: 403, title: 'The request came from another site' },
  'readable-on-the-way': { status: 403, title: 'The password would be sent unencrypted' },
  'not-allowed': { status: 403, title: 'You don’t have permission' },
  'not-found': { status: 404, title: 'There is no such thing' },
  'method-not-allowed': { status: 405, title: 'This cannot be done here' },
  'changed-meanwhile': { status: 412, title: 'It has changed since you read it' },
  'too-large': { status: 413, title: 'The request is too large' },
  'address-too-long': { status: 414, title: 'The address is too long' },
  'wrong-media-type': { status: 415, title: 'This content type is not accepted here' },
  'invalid-request': { status: 422, title: 'The request is not valid' },
  'key-reused': { status: 422, title: 'The Idempotency-Key was used before' },
  'tag-required': { status: 428, title: 'An If-Match header is needed' },
  'too-many-requests': { status: 429, title: 'Too many requests' },
  'header-too-large': { status: 431, title: 'The header of the request is too large' },
  // what the studio's rules forbid
  'already-there': { status: 409, title: 'This exists already' },
  'still-needed': { status: 409, title: 'Something else refers to this' },
  'never-changes': { status: 409, title: 'This record can’t be changed' },
  unprintable: { status: 422, title: 'A name cannot be printed' },
  // ours to fix
  unexpected: { status: 500, title: 'Something went wrong here' },
  'database-busy': { status: 503, title: 'The database is too busy' },
  'papers-busy': { status: 503, title: 'Too many papers are being written' },
  'disk-full': { status: 507, title: 'The disk is full' },
  'database-away': { status: 503, title: 'The database cannot be reached' },
} as const satisfies Record<string, Refusal>;

/** What nouns add, each by `refusals.ts` in its own folder. */
// biome-ignore lint/suspicious/noEmptyInterface: it is there to be added to
export interface Refusals {}

export type ProblemType = keyof typeof COMMON | keyof Refusals;

const catalogue = new Map<string, Refusal>(Object.entries(COMMON));

/** Takes up how a noun refuses, beside what all can answer. */
export function declareRefusals(refusals: Readonly<Record<string, Refusal>>): void {
  for (const [type, refusal] of Object.entries(refusals)) {
    if (catalogue.has(type)) throw new Error(`The refusal "${type}" is declared twice.`);
    catalogue.set(type, refusal);
  }
}

export class Problem extends Error {
  constructor(
    readonly type: ProblemType,
    readonly detail: string,
    readonly more: Record<string, unknown> = {},
  ) {
    super(detail);
  }

  get status(): number {
    return refusalOf(this.type).status;
  }

  toJSON() {
    return { type: `/problems/${this.type}`, ...refusalOf(this.type), detail: this.detail, ...this.more };
  }
}

/** A request whose fields are wrong, each named by an RFC 6901 pointer, as `#/sessions/0/minutes`, with what to do. */
export const invalidRequest = (errors: readonly { pointer: string; detail: string }[]) =>
  new Problem('invalid-request', 'Please correct the fields listed in errors and send it again.', { errors });

const PAGES = ['today', 'courses', 'people', 'ware', 'kilns', 'shelf', 'money', 'letters', 'studio'] as const;
type Page = (typeof PAGES)[number];

/** Leads a person to a page of the desk and a script to an address of the API, beside the sentence, which names no address. */
export const see = (page: Page, lookUp: string) => ({ page, lookUp });

/** Where to put right what a sentence tells of. */
export const Seen = {
  page: z.enum(PAGES).meta({ description: 'The page of the desk that leads on.' }),
  lookUp: z.string().meta({ description: 'The address of this API that leads on.' }),
};

const ProblemBody = z
  .looseObject({
    ...{ type: z.string(), title: z.string(), status: z.int(), detail: z.string() },
    ...{ page: Seen.page.optional(), lookUp: Seen.lookUp.optional() },
  })
  .meta({ id: 'Problem', description: 'RFC 9457 problem details' });

/** What follows from a route's right, address, body and method, so that no route names it: see server/openapi-route.ts. */
type Derived =
  | ('malformed' | 'invalid-request' | 'key-required' | 'key-reused' | 'signed-out' | 'not-allowed' | 'cross-site')
  | ('tag-required' | 'changed-meanwhile' | 'too-many-requests' | 'too-large' | 'wrong-media-type');

/** The response schemas of the problems that a route declares: `...refuses('not-found', 'course-full')`. */
export function refuses(...types: Exclude<ProblemType, Derived>[]) {
  return Object.fromEntries(types.map((type) => [refusalOf(type).status, ProblemBody]));
}

function refusalOf(type: string): Refusal {
  const found = catalogue.get(type);
  if (!found) throw new Error(`No noun declares the refusal "${type}".`);
  return found;
}

/** The catalogue for people: what stands at /problems/{type}. */
export function describeProblem(type: string): { status: number; title: string } | undefined {
  return catalogue.get(type);
}

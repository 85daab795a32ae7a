import { z } from 'zod';

/** Every way in which a request can be refused (RFC 9457). `type` identifies it; `detail` tells the person what to do next. */
const CATALOGUE = {
  // the request itself
  malformed: { status: 400, title: 'The request cannot be read' },
  'key-required': { status: 400, title: 'An Idempotency-Key is missing' },
  'signed-out': { status: 401, title: 'You are not signed in' },
  'wrong-password': { status: 401, title: 'The email address or the password is wrong' },
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
  'last-owner': { status: 409, title: 'The studio needs an owner' },
  'set-up-done': { status: 409, title: 'The studio is set up already' },
  'set-up-missing': { status: 409, title: 'The studio is not set up yet' },
  'course-full': { status: 409, title: 'Not enough places are left' },
  'concession-full': { status: 409, title: 'Not enough places are left at this price' },
  'course-over': { status: 409, title: 'The course is over' },
  'course-running': { status: 409, title: 'The course is not over yet' },
  'tutor-busy': { status: 409, title: 'The tutor is needed elsewhere then' },
  'too-soon': { status: 409, title: 'The ware is not ready by then' },
  'room-full': { status: 409, title: 'The room has too few benches then' },
  'kiln-busy': { status: 409, title: 'The kiln is already in use then' },
  'already-cancelled': { status: 409, title: 'This was cancelled before' },
  'nothing-owed': { status: 409, title: 'Nothing is owed any more' },
  'already-reminded': { status: 409, title: 'A reminder was sent recently' },
  'address-missing': { status: 409, title: 'An address is needed for this paper' },
  'more-than-owed': { status: 409, title: 'That is more than is owed' },
  'not-reversible': { status: 409, title: 'This payment cannot be taken back' },
  'not-balanced': { status: 409, title: 'The books would not balance' },
  'voucher-spent': { status: 409, title: 'Not enough is left on the voucher' },
  'voucher-expired': { status: 409, title: 'The voucher is no longer valid' },
  'voucher-other-tax': { status: 409, title: 'The voucher is for another VAT rate' },
  'voucher-still-valid': { status: 409, title: 'The voucher can still be used' },
  'never-changes': { status: 409, title: 'This record can’t be changed' },
  'stock-impossible': { status: 409, title: 'The lot does not have that much' },
  'more-than-sold': { status: 409, title: 'That is more than was sold' },
  'wrong-stage': { status: 409, title: 'The piece is not at a stage for this' },
  'outside-range': { status: 409, title: 'The firing is outside the range of the ware' },
  'in-another-kiln': { status: 409, title: 'The piece is in a kiln already' },
  'wrong-state': { status: 409, title: 'The firing is not at that point' },
  'order-state': { status: 409, title: 'The order is not at that point' },
  'reading-missing': { status: 409, title: 'A meter reading is missing' },
  'reading-impossible': { status: 409, title: 'A meter cannot have shown that' },
  'tariff-missing': { status: 409, title: 'No electricity tariff covers that day' },
  'price-incomplete': { status: 409, title: 'Something has no price yet' },
  unprintable: { status: 422, title: 'A name cannot be printed' },
  // ours to fix
  unexpected: { status: 500, title: 'Something went wrong here' },
  'database-busy': { status: 503, title: 'The database is too busy' },
  'disk-full': { status: 507, title: 'The disk is full' },
  'database-away': { status: 503, title: 'The database cannot be reached' },
} as const;

export type ProblemType = keyof typeof CATALOGUE;

export class Problem extends Error {
  readonly status: number;
  constructor(
    readonly type: ProblemType,
    readonly detail: string,
    readonly more: Record<string, unknown> = {},
  ) {
    super(detail);
    this.status = CATALOGUE[type].status;
  }

  toJSON() {
    return { type: `/problems/${this.type}`, ...CATALOGUE[this.type], detail: this.detail, ...this.more };
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

/** The response schemas of the problems that a route declares: `...refuses('not-found', 'course-full')`. */
export function refuses(...types: ProblemType[]) {
  return Object.fromEntries(types.map((type) => [CATALOGUE[type].status, ProblemBody]));
}

/** The catalogue for people: what stands at /problems/{type}. */
export function describeProblem(type: string): { status: number; title: string } | undefined {
  return Object.hasOwn(CATALOGUE, type) ? CATALOGUE[type as ProblemType] : undefined;
}

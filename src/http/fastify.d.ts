import type { Database } from '../database/transaction.js';
import type { Renderer } from '../documents/renderer.js';
import type { Right, Role } from './rights.js';
import type { SampleOf, SampleStudio } from './sample-studio.js';

/** Who sends a request: somebody who is signed in, or a script with a token that they made. */
interface Caller {
  /** Undefined for somebody who is signed in. */
  tokenId: string | undefined;
  rights: ReadonlySet<Right>;
  staffMemberId: string;
  name: string;
  email: string;
  role: Role;
}

declare module 'fastify' {
  interface FastifyInstance {
    db: Database;
    /** The studio's clock: real time, or the pinned day of a test or a demo. */
    now: () => Date;
    /** Draws papers. */
    renderer: Renderer;
    /** Whether people may sign in over plain HTTP from another machine. */
    plainHttp: boolean;
    /** How people reach the program from outside, without a slash at the end, where that is set. */
    baseUrl: string | undefined;
    /** The invented studio beside this one, where this process can serve it. */
    sampleStudio: SampleStudio | undefined;
    /** Set where this is the invented studio. */
    sampleOf: SampleOf | null;
  }
  interface FastifyRequest {
    caller: Caller | null;
  }
  interface FastifyContextConfig {
    /** What the caller must be allowed to do. A route without it does not start. */
    right?: Right;
    /** It changes something and takes no Idempotency-Key: sent twice, it does no harm. */
    keyless?: boolean;
    /** Its answers carry a strong ETag of what they show. */
    tagged?: boolean;
  }
}

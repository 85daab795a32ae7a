import type { FastifyPluginAsync } from 'fastify';
import type { Invariant } from '../database/invariant.js';
import type { Enclose, Post } from '../mail/post.js';

/** What a folder of the studio brings with it; `studio/nouns.ts` lists them. Its own refusals it declares by itself. */
export interface Noun {
  routes: readonly FastifyPluginAsync[];
  /** What must always hold of its tables; looked for after every test and on `npm run check`. */
  invariants?: readonly Invariant[];
  /** Its jobs by name. */
  tasks?: (post: Post) => Record<string, (payload: unknown) => Promise<void>>;
  /** What it puts into messages that go out, besides their papers. */
  encloses?: readonly Enclose[];
  cron?: readonly { task: string; match: string }[];
}

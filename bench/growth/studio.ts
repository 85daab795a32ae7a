import { openDatabase } from '../../src/database/client.js';
import { buildApp } from '../../src/server/app.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { statementsOf } from '../../tests/support/statements.js';

/** The invented studio's owner, as its demo says. */
const OWNER = { email: 'mara@alderlane.example', password: 'alder lane demo' };

export type Studio = {
  url: string;
  /** What the API's document tells of its addresses. */
  paths(): Promise<Record<string, object>>;
  get(address: string): Promise<{ status: number; statements: number; bytes: number }>;
  close(): Promise<void>;
};

let callers = 0;

/** The program over this database, called without a network between, with its owner signed in. */
export async function openStudio(url: string): Promise<Studio> {
  const { db, close } = await openDatabase(url);
  const app = await buildApp({ db });
  await app.ready();
  const cookie = `wareboard=${await signIn(db, new Date(), OWNER)}`;
  return {
    url,
    paths: async () => app.swagger().paths as Record<string, object>,
    async get(address) {
      const remoteAddress = `10.1.${(++callers >> 8) % 256}.${callers % 256}`; // so many from one would be refused
      const headers = { cookie, 'sec-fetch-site': 'same-origin' };
      const answers: { statusCode: number; rawPayload: Buffer }[] = [];
      const asked = await statementsOf(async () =>
        answers.push(await app.inject({ url: address, remoteAddress, headers })),
      );
      const { statusCode = 0, rawPayload } = answers[0] ?? {};
      return { status: statusCode, statements: asked.length, bytes: rawPayload?.length ?? 0 };
    },
    async close() {
      await app.close();
      await close();
    },
  };
}

import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const APP = fileURLToPath(new URL('../../src/desk/app.tsx', import.meta.url));

/** Reads an address of the API as whoever is signed in. */
export type Read = (path: string) => Promise<{ items: Item[]; next: string | null }>;
type Item = { id: string; kind?: string; completedOn?: string | null };

/** Where nobody is signed in, or one is sent elsewhere: they read nothing. */
const BEFORE_SIGN_IN = ['/sign-in', '/set-up', '/password', '/ask/:courseId'];

/** Which list holds an example of a parameter of an address. */
const LISTS: Record<string, string> = {
  courseId: '/api/courses?limit=200',
  letterId: '/api/notices?limit=1',
  materialId: '/api/materials?limit=1',
  membershipId: '/api/memberships?limit=1',
  personId: '/api/people?limit=1',
  pieceId: '/api/pieces?limit=1',
  planId: '/api/course-plans?limit=1',
  voucherId: '/api/vouchers?limit=1',
};

/** The addresses that the desk knows, as it writes them itself (src/desk/app.tsx). */
function listRoutes(): string[] {
  const routes = [...readFileSync(APP, 'utf8').matchAll(/<Route path="([^"]+)"/g)].map(([, path = '']) => path);
  return routes.filter((path) => !BEFORE_SIGN_IN.includes(path));
}

/** Each page of the desk that reads something, with something that is there in the place of each parameter; without it where it may be left out. */
export async function listDeskPages(read: Read): Promise<string[]> {
  const pages: string[] = [];
  for (const route of listRoutes()) {
    const [, before = '', name, optional, below = ''] = route.match(/^(.*)\/:(\w+)(\?)?(\/[^:]*)?$/) ?? [];
    if (!name) pages.push(route);
    if (name && optional) pages.push(before);
    if (name) for (const id of await listExamples(name, read)) pages.push(`${before}/${id}${below}`);
  }
  return pages;
}

/** One of each; of the courses one that is coming, a private one that is, and one that is over: their pages differ. */
async function listExamples(name: string, read: Read): Promise<string[]> {
  const list = LISTS[name];
  if (!list) throw new Error(`Nobody says where to find an example of ${name}. Add its list.`);
  const items: Item[] = [];
  for (let after: string | null = ''; after !== null; ) {
    const page = await read(after ? `${list}&after=${after}` : list);
    items.push(...page.items);
    after = name === 'courseId' ? page.next : null;
  }
  const kinds = [
    items.find(({ kind, completedOn }) => !completedOn && kind !== 'private'),
    ...(name === 'courseId'
      ? [
          items.find(({ kind, completedOn }) => !completedOn && kind === 'private'),
          items.find((one) => one.completedOn),
        ]
      : []),
  ].filter((one) => one !== undefined);
  if (kinds.length === 0) throw new Error(`${list} is empty: there is no example of ${name}.`);
  return kinds.map(({ id }) => id);
}

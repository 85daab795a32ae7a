import { Refused } from './client';

const AT_ONCE = 200;

type Page<T> = { data?: { items: T[]; next: string | null } | undefined };

/** All items of a list, page after page. `what` says in the middle of a sentence what the list tells: "which plans there are". */
export async function fetchAllPages<T>(
  what: string,
  page: (query: { limit: number; after?: string }) => Promise<Page<T>>,
): Promise<T[]> {
  const found: T[] = [];
  let after: string | undefined;
  do {
    const { data } = await page({ limit: AT_ONCE, ...(after && { after }) });
    if (!data) throw new Refused('unknown', `The server does not say ${what}. Load the page again.`);
    found.push(...data.items);
    after = data.next ?? undefined;
  } while (after);
  return found;
}

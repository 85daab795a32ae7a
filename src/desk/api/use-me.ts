import { api, type Schemas } from './client';
import { readOnce, useQuery } from './query';

export type Me = Schemas['Me'];

async function readMe(signal: AbortSignal): Promise<Me> {
  const { data } = await api.GET('/api/me', { signal });
  if (!data) throw new Error('Your account could not be loaded. Please reload the page.');
  return data;
}

const ME = { key: ['me'], read: readMe };

/** Who is signed in, with their rights and the studio. */
export const useMe = () => useQuery(ME);

/** The same for what is read beside it: not asked for again. */
export const getMe = () => readOnce(ME);

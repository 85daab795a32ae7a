import { api, type Schemas } from './client';
import { useQuery } from './query';

export type Me = Schemas['Me'];

async function readMe(signal: AbortSignal): Promise<Me> {
  const { data } = await api.GET('/api/me', { signal });
  if (!data) throw new Error('Your account could not be loaded. Please reload the page.');
  return data;
}

/** Who is signed in, with their rights and the studio. */
export const useMe = () => useQuery({ key: ['me'], read: readMe });

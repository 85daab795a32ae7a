import type { LightMyRequestResponse as Answer } from 'fastify';

export type Conditions = { 'if-match'?: string; 'if-none-match'?: string };

/** What must hold of what an answer showed, for it to be replaced. */
export const asRead = ({ headers: { etag } }: Pick<Answer, 'headers'>): Conditions =>
  typeof etag === 'string' ? { 'if-match': etag } : { 'if-none-match': '*' };

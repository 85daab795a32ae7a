import { createHash, randomBytes } from 'node:crypto';
import { hash, verify } from '@node-rs/argon2';

// OWASP's least for argon2id, one step up: 19 MiB, three passes.
const ARGON = { memoryCost: 19_456, timeCost: 3, parallelism: 1 };

export const hashPassword = (password: string): Promise<string> => hash(password, ARGON);

/** Hashed once, so that an unknown address takes as long to refuse as a wrong password. */
const nobody = hashPassword(randomBytes(24).toString('base64url'));

/** @param stored null where nobody signs in so, or they have no password yet */
export async function isPassword(stored: string | null, password: string): Promise<boolean> {
  const right = await verify(stored ?? (await nobody), password);
  return stored !== null && right;
}

/** A secret for a cookie or a link: 256 bits. */
export const newToken = (): string => randomBytes(32).toString('base64url');

/** A secret that a script sends; it begins so that people, and programs that look for leaked secrets, know what it is. */
export const newApiToken = (): string => `wareboard_${newToken()}`;

/** What is kept of a token. It is random and long, so a fast hash does. */
export const tokenHash = (token: string): string => createHash('sha256').update(token).digest('hex');

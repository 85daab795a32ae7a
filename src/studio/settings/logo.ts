import { oneAtATime } from '../../database/one-at-a-time.js';
import { changed, type Transaction } from '../../database/transaction.js';
import { type Logo, readLogo } from '../../documents/pictures/logo.js';
import { NotAPicture } from '../../documents/pictures/not-a-picture.js';
import { Upload } from '../../http/upload.js';
import { Problem } from '../../problems.js';
import type { StudioLogo } from './logo-contract.js';
import { dropUnusedLogos } from './queries.js';
import { getStudio } from './service.js';

/** What was sent, as a logo. @throws Problem invalid-request, with what to do */
export function logoIn(body: unknown): Logo {
  try {
    return readLogo(body instanceof Upload ? body.bytes : Buffer.alloc(0));
  } catch (error) {
    if (!(error instanceof NotAPicture)) throw error;
    throw new Problem('invalid-request', error.message, { errors: [{ pointer: '#', detail: error.message }] });
  }
}

export async function getLogo(tx: Transaction): Promise<StudioLogo> {
  const row = await tx.studio.findUnique({
    where: { id: 1 },
    select: { logo: { omit: { image: true } } },
  });
  const logo = row?.logo ?? null;
  return {
    logo: logo && { ...logo, mediaType: logo.mediaType as Logo['mediaType'], addedAt: logo.addedAt.toISOString() },
  };
}

/** Has papers show this logo from now on, or none. Those that were issued keep the one that they name. */
export async function replaceLogo(tx: Transaction, now: Date, logo: Logo | null): Promise<StudioLogo> {
  await getStudio(tx); // it says what to do where there is none
  await oneAtATime(tx, 'replacing the logo');
  if (logo !== null) await tx.logo.createMany({ data: [{ ...logo, addedAt: now }], skipDuplicates: true });
  await tx.studio.update({ where: { id: 1 }, data: { logoSha256: logo?.sha256 ?? null } });
  changed(tx, 'logo');
  await dropUnusedLogos(tx);
  return getLogo(tx);
}

/** The picture of a logo that the studio or a paper of it shows. */
export async function getLogoPicture(
  tx: Transaction,
  sha256: string,
): Promise<{ mediaType: string; image: Uint8Array }> {
  const row = await tx.logo.findUnique({ where: { sha256 } });
  if (!row) throw new Problem('not-found', 'There is no such logo any more. Load the page Studio again.');
  return row;
}

/** The bytes with which a paper is drawn, whose content names its logo or none. */
export async function getLogoOf(tx: Transaction, content: unknown): Promise<Uint8Array | null> {
  const { logo } = content as { logo?: string };
  return logo === undefined ? null : (await tx.logo.findUniqueOrThrow({ where: { sha256: logo } })).image;
}

import { withExclusiveLock } from '../../database/one-at-a-time.js';
import { once, type Transaction } from '../../database/transaction.js';
import type { PaperHead } from '../../documents/parts.js';
import { tradingDisclosure } from '../../trade/text/trading-disclosure.js';
import { getStudio } from './service.js';

/** What every paper says of the studio, and what it looks like, as of now. */
export async function getPaperHead(tx: Transaction): Promise<PaperHead> {
  const studio = await getStudio(tx);
  const logo = await once(tx, 'logo', () => readLogoName(tx));
  const { name, addressLines, email, phone, vatNumber, currency, locale, paperSize } = studio;
  const legal = tradingDisclosure(studio);
  return {
    studio: {
      name,
      addressLines,
      ...(email === null ? {} : { email }),
      ...(phone === null ? {} : { phone }),
      ...(vatNumber === null ? {} : { vatNumber }),
      ...(legal === null ? {} : { legal }),
    },
    currency,
    locale,
    language: 'en',
    paperSize,
    ...(logo === null ? {} : { logo }),
  };
}

/** Nobody takes the logo away between a paper that names it and its commit. */
async function readLogoName(tx: Transaction): Promise<string | null> {
  await withExclusiveLock(tx, 'replacing the logo');
  return (await tx.studio.findUniqueOrThrow({ where: { id: 1 }, select: { logoSha256: true } })).logoSha256;
}

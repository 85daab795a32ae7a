import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import type { WebPageSettings } from './contract.js';
import { lockWebPageTable } from './queries.js';

/** What the studio's own web page may show; nothing, until the owner says so. */
export async function getWebPage(tx: Transaction): Promise<WebPageSettings> {
  const row = await tx.webPage.findUnique({ where: { id: 1 } });
  return {
    isOn: row?.isOn ?? false,
    namesTutors: row?.namesTutors ?? false,
    takesRequests: row?.takesRequests ?? false,
  };
}

/** The same, and nobody else can change it until the transaction ends. */
export async function lockWebPage(tx: Transaction): Promise<WebPageSettings> {
  await lockWebPageTable(tx);
  return getWebPage(tx);
}

export async function saveWebPage(tx: Transaction, wanted: WebPageSettings): Promise<WebPageSettings> {
  await tx.webPage.upsert({ where: { id: 1 }, create: { id: 1, ...wanted }, update: wanted });
  return wanted;
}

/** @throws Problem not-found while it is off, as if there were nothing */
export async function getOpenWebPage(tx: Transaction): Promise<WebPageSettings> {
  const settings = await getWebPage(tx);
  if (!settings.isOn) throw new Problem('not-found', 'The studio does not show its courses here. Ask the studio.');
  return settings;
}

import { z } from 'zod';
import { type CollectionContent, owedSums } from '../../documents/collection-content.js';
import { countOf, moneyInText } from '../../documents/words.js';
import { formatDay } from '../../trade/text/format.js';
import { type Correspondents, indented, type Letter, letterText } from './letter.js';

/** What is frozen of a collection notice for its letter, in words; the paper goes with it. */
export const CollectionData = z.object({
  count: z.string(),
  pieces: z.array(z.string()).min(1),
  decorativeCodes: z.array(z.string()),
  collectBy: z.string(),
  where: z.array(z.string()),
  when: z.array(z.string()),
  afterThat: z.string(),
  /** null where nothing is owed */
  owed: z.object({ total: z.string(), firingFees: z.string().nullable(), howToPay: z.string() }).nullable(),
});
export type CollectionData = z.output<typeof CollectionData>;

/** The letter says what its paper says. */
export function collectionData(content: CollectionContent): CollectionData {
  const money = moneyInText(content);
  const { firingMinor, totalMinor } = owedSums(content);
  return {
    count: countOf(content.pieces.length, 'piece'),
    pieces: content.pieces.map(({ code, description }) => `${code}  ${description}`),
    decorativeCodes: content.pieces.filter(({ use }) => use.kind === 'decorative').map(({ code }) => code),
    collectBy: formatDay(content.collectBy, content.locale, { weekday: true }),
    where: [...content.where],
    when: [...content.when],
    afterThat: content.afterThat,
    owed:
      totalMinor === 0
        ? null
        : {
            total: money(totalMinor),
            firingFees: firingMinor === 0 ? null : money(firingMinor),
            howToPay: content.howToPay ?? '',
          },
  };
}

/** Says that ware is ready: what, until when, where, what is owed, and what it is not for. */
export function collectionLetter(data: CollectionData, correspondents: Correspondents): Letter {
  const decorative = data.decorativeCodes.join(', ');
  return letterText(correspondents, `Your work is ready: collect it by ${data.collectBy}`, [
    `Your work is fired and ready: ${data.count}. Please collect ${data.pieces.length === 1 ? 'it' : 'them'} by ${data.collectBy}. ${data.afterThat}`,
    indented(data.pieces),
    `Where:\n${indented(data.where)}`,
    `When:\n${indented(data.when)}`,
    data.owed === null ? 'There is nothing to pay.' : owedInWords(data.owed),
    decorative === '' ? null : `Decorative, not for food or drink: ${decorative}.`,
    'The attached notice shows each piece to scale and says what it may be used for. Feel feet and rims before you use a piece: fired edges can be as sharp as glass.',
  ]);
}

function owedInWords({ total, firingFees, howToPay }: NonNullable<CollectionData['owed']>): string {
  if (firingFees === total) return `There is ${total} to pay for firing. ${howToPay}`;
  return `There is ${total} to pay${firingFees === null ? '' : `, ${firingFees} of it for firing`}. ${howToPay}`;
}

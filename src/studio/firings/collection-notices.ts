import type { Transaction } from '../../database/transaction.js';
import type { CollectionContent } from '../../documents/collection-content.js';
import { owedSums } from '../../documents/collection-content.js';
import { collectionData } from '../../mail/templates/collection.js';
import { addDays, localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { type ChargeState, listOpenCharges } from '../accounts/queries.js';
import { issueDocument, notify } from '../notices/service.js';
import type { Person } from '../people/contract.js';
import { getPeople, getPerson, printedName } from '../people/service.js';
import { getPaperHead } from '../settings/paper-head.js';
import { getStudio } from '../settings/service.js';
import type { Piece } from '../ware/contract.js';
import { getPiecesById } from '../ware/service.js';
import type { Announced, NewCollectionNotices } from './contract.js';
import { countAnnounced, insertAnnounced, lockUnannounced } from './queries.js';
import { listReadyPieces } from './ready-pieces.js';

/** As many as one paper holds; the rest is told of by the next request. */
const PIECES_PER_NOTICE_MAX = 500;

/** Tells each maker, or one, which of their pieces are ready and were not told of yet. @returns one entry for each notice, none where there is nothing to tell */
export async function announceReady(tx: Transaction, now: Date, wanted: NewCollectionNotices): Promise<Announced[]> {
  if (wanted.personId) await getPerson(tx, wanted.personId);
  const ready = await getPiecesById(tx, await lockUnannounced(tx, wanted.personId));
  if (ready.length === 0) return [];
  const told = [...groupBy(ready, ({ makerId }) => makerId).values()].map(
    (ware) => ware.slice(0, PIECES_PER_NOTICE_MAX) as [Piece, ...Piece[]],
  );
  const known = await readAll(tx, now, wanted.personId, ready, told);
  const announced: Announced[] = [];
  for (const ware of told) announced.push(await announce(tx, now, known, ware));
  await insertAnnounced(
    tx,
    announced.flatMap(({ noticeId, pieceIds }) => pieceIds.map((pieceId) => ({ pieceId, noticeId }))),
  );
  return announced;
}

/** What the letters say besides the ware itself, read once for all of them: a studio may write hundreds after a firing. */
async function readAll(
  tx: Transaction,
  now: Date,
  personId: string | undefined,
  ready: readonly Piece[],
  told: readonly [Piece, ...Piece[]][],
) {
  const studio = await getStudio(tx);
  const today = localDay(now, studio.timeZone);
  const open = await listOpenCharges(tx, today, personId);
  const makers = told.map(([{ makerId }]) => makerId) as [string, ...string[]];
  return {
    ...{ studio, today, head: await getPaperHead(tx) },
    shown: await listReadyPieces(tx, studio, ready),
    owedBy: groupBy(open, (charge) => charge.personId),
    people: new Map((await getPeople(tx, makers)).map((person) => [person.id, person])),
    timesTold: await countAnnounced(
      tx,
      told.map(([{ id }]) => id),
    ),
  };
}
type Known = Awaited<ReturnType<typeof readAll>>;

async function announce(
  tx: Transaction,
  now: Date,
  known: Known,
  ware: readonly [Piece, ...Piece[]],
): Promise<Announced> {
  const [{ id, makerId, makerName, code }] = ware;
  const content = collectionContent(known, known.people.get(makerId) as Person, ware);
  // no two papers bear one name, also where a piece is told of again on the same day
  const before = known.timesTold.get(id) ?? 0;
  const again = before > 0 ? `-${before + 1}` : '';
  const fileName = `collection-${content.writtenOn}-${code.toLowerCase()}${again}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'collectionNotice', fileName, content });
  const data = collectionData(content);
  const noticeId = await notify(tx, now, { personId: makerId, occasion: 'collection', documentId, data });
  const owedMinor = owedSums(content).totalMinor;
  return {
    ...{ personId: makerId, personName: makerName, noticeId, documentId, owedMinor },
    pieceIds: ware.map((piece) => piece.id),
  };
}

function collectionContent(
  { studio, today, head, shown, owedBy }: Known,
  maker: Person,
  ware: readonly Piece[],
): CollectionContent {
  const open: readonly ChargeState[] = owedBy.get(maker.id) ?? [];
  const owed = (isFiring: boolean) =>
    open
      .filter(({ kind }) => (kind === 'firing') === isFiring)
      .map(({ description, owedMinor }) => ({ description, amountMinor: owedMinor }));
  return {
    ...head,
    writtenOn: today,
    maker: { name: printedName(maker) },
    pieces: ware.flatMap(({ id }) => shown.get(id) ?? []),
    collectBy: addDays(today, studio.storageDays),
    where: studio.collectWhere,
    when: studio.collectWhen,
    afterThat: studio.afterStorage,
    firingFees: owed(true),
    otherOwed: owed(false),
    howToPay: studio.howToPay,
  };
}

import type { Transaction } from '../../database/transaction.js';
import type { CollectionContent } from '../../documents/collection-content.js';
import { owedSums } from '../../documents/collection-content.js';
import { collectionData } from '../../mail/templates/collection.js';
import { addDays, localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { listOpenCharges } from '../accounts/queries.js';
import { issueDocument, notify } from '../notices/service.js';
import { getPerson, printedName } from '../people/service.js';
import type { Studio } from '../settings/contract.js';
import { getPaperHead } from '../settings/paper-head.js';
import { getStudio } from '../settings/service.js';
import type { Piece } from '../ware/contract.js';
import { getPiecesById } from '../ware/service.js';
import type { Announced, NewCollectionNotices } from './contract.js';
import { lockUnannounced } from './queries.js';
import { listReadyPieces } from './ready-pieces.js';

type ShownPiece = CollectionContent['pieces'][number];

/** As many as one paper holds; the rest is told of by the next request. */
const PIECES_PER_NOTICE_MAX = 500;

/** Tells each maker, or one, which of their pieces are ready and were not told of yet. @returns one entry for each notice, none where there is nothing to tell */
export async function announceReady(tx: Transaction, now: Date, wanted: NewCollectionNotices): Promise<Announced[]> {
  if (wanted.personId) await getPerson(tx, wanted.personId);
  const ready = await getPiecesById(tx, await lockUnannounced(tx, wanted.personId));
  const studio = await getStudio(tx);
  const shown = await listReadyPieces(tx, studio, ready);
  const announced: Announced[] = [];
  for (const ware of groupBy(ready, ({ makerId }) => makerId).values())
    announced.push(await announce(tx, now, studio, ware.slice(0, PIECES_PER_NOTICE_MAX), shown));
  return announced;
}

async function announce(
  tx: Transaction,
  now: Date,
  studio: Studio,
  ware: readonly Piece[],
  shown: ReadonlyMap<string, ShownPiece>,
): Promise<Announced> {
  const [{ id, makerId, makerName, code }] = ware as [Piece];
  const content = await collectionContent(tx, now, studio, ware, shown);
  // no two papers bear one name, also where a piece is told of again on the same day
  const before = await tx.announcedPiece.count({ where: { pieceId: id } });
  const again = before > 0 ? `-${before + 1}` : '';
  const fileName = `collection-${content.writtenOn}-${code.toLowerCase()}${again}.pdf`;
  const documentId = await issueDocument(tx, now, { kind: 'collectionNotice', fileName, content });
  const data = collectionData(content);
  const noticeId = await notify(tx, now, { personId: makerId, occasion: 'collection', documentId, data });
  const pieceIds = ware.map(({ id }) => id);
  await tx.announcedPiece.createMany({ data: pieceIds.map((pieceId) => ({ pieceId, noticeId })) });
  const owedMinor = owedSums(content).totalMinor;
  return { personId: makerId, personName: makerName, noticeId, documentId, pieceIds, owedMinor };
}

async function collectionContent(
  tx: Transaction,
  now: Date,
  studio: Studio,
  ware: readonly Piece[],
  shown: ReadonlyMap<string, ShownPiece>,
): Promise<CollectionContent> {
  const [{ makerId }] = ware as [Piece];
  const today = localDay(now, studio.timeZone);
  const open = await listOpenCharges(tx, today, makerId);
  const owed = (isFiring: boolean) =>
    open
      .filter(({ kind }) => (kind === 'firing') === isFiring)
      .map(({ description, owedMinor }) => ({ description, amountMinor: owedMinor }));
  return {
    ...(await getPaperHead(tx)),
    writtenOn: today,
    maker: { name: printedName(await getPerson(tx, makerId)) },
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

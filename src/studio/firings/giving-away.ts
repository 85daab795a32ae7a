import type { Transaction } from '../../database/transaction.js';
import { useInWords } from '../../documents/use-words.js';
import { Problem } from '../../problems.js';
import { stageInWords } from '../../trade/firing/ware-stages.js';
import { getStudio } from '../settings/service.js';
import { lockPieces, noteEach } from '../ware/service.js';
import type { GivenAway, GivingAway } from './giving-away-contract.js';
import { listReadyPieces } from './ready-pieces.js';
import { listNames } from './request-checks.js';

/**
 * Gives ware away that its maker did not collect: each piece goes with what its maker would have been told of its use, which its
 * story keeps. Whoever hands it over passes those words on.
 */
export async function giveAway(tx: Transaction, now: Date, { pieceIds, to, note }: GivingAway): Promise<GivenAway[]> {
  const ware = await lockPieces(tx, pieceIds);
  const wrong = ware.filter(({ stage }) => stage !== 'ready');
  if (wrong.length > 0)
    throw new Problem(
      'wrong-stage',
      `Only what is ready to collect can be given away. Take out ${listNames(wrong.map(({ code, stage }) => `${code} (${stageInWords(stage)})`))}.`,
      { pieceIds: wrong.map(({ id }) => id) },
    );
  const studio = await getStudio(tx);
  const shown = await listReadyPieces(tx, studio, ware);
  const given = ware.map(({ id, code, description }) => {
    const use = shown.get(id)?.use ?? ({ kind: 'decorative' } as const);
    return { pieceId: id, code, description, use: use.kind, caution: useInWords(use, studio.locale) };
  });
  const more = note === '' ? '' : ` ${note}`;
  await noteEach(
    tx,
    now,
    given.map(({ pieceId, caution }) => ({
      ...{ pieceId, stage: 'givenAway' as const, boardId: null },
      note: `Given to ${to}. ${caution}${more}`,
    })),
  );
  return given;
}

import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { type FiringBetween, hoursInWords, minutesOf, type Wait, waitsBetween } from '../../trade/waiting.js';
import { kiln, schedule } from '../kilns/service.js';
import type { Studio } from '../settings/contract.js';
import type { Plan } from './plan-contract.js';
import { momentInWords } from './words.js';

type Times = { startsAt: string; endsAt: string };
type Purpose = Plan['sessions'][number]['purpose'];

/** What a session works on: ware of which sessions before it, whether it must dry first, and through which firing it must have gone. */
const NEEDS: Partial<Record<Purpose, { from: readonly Purpose[]; dries: boolean; firing: 'bisque' | 'glaze' }>> = {
  glazing: { from: ['making', 'finishing', 'slip'], dries: true, firing: 'bisque' },
  lustre: { from: ['glazing'], dries: false, firing: 'glaze' },
};

/** Refuses a session that the ware of the last one before it can't reach: not dry, not fired, or still in a hot kiln. */
export async function refuseTooSoon(
  tx: Transaction,
  home: Studio,
  recipe: Plan,
  sessions: readonly Times[],
): Promise<void> {
  for (const [i, { purpose }] of recipe.sessions.entries()) {
    const need = NEEDS[purpose];
    const last = recipe.sessions.findLastIndex((session, j) => j < i && need?.from.includes(session.purpose));
    const [before, session] = [sessions[last], sessions[i]];
    if (!need || !before || !session) continue;
    const firings = await firingsOf(tx, recipe, need.firing);
    if (firings.length === 0) continue; // the plan leaves that firing out, so nothing is known of it
    const waits = waitsBetween(need.dries ? recipe.dryingDays : 0, firings);
    const earliest = new Date(Date.parse(before.endsAt) + minutesOf(waits) * 60_000);
    if (new Date(session.startsAt) < earliest)
      throw new Problem(
        'too-soon',
        `Session ${i + 1} (${purpose}) can't begin before ${momentInWords(earliest, home)}: the ware of session ${last + 1} needs ${inWords(waits)} first. Choose a later time, or correct the plan's drying days or the kiln's cooling hours.`,
        { session: i + 1, earliest: earliest.toISOString() },
      );
  }
}

async function firingsOf(tx: Transaction, { firings }: Plan, kind: string): Promise<FiringBetween[]> {
  const found: FiringBetween[] = [];
  for (const { kilnId, scheduleId } of firings) {
    const { name, segments, ...of } = await schedule(tx, scheduleId);
    if (of.kind === kind) found.push({ name, segments, coolingHours: (await kiln(tx, kilnId)).coolingHours });
  }
  return found;
}

const inWords = (waits: readonly Wait[]): string =>
  waits.map(({ what, hours }) => `${hoursInWords(hours)} of ${what}`).join(', ');

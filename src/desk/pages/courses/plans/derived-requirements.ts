import { gapBefore, hoursInWords, type ProductionPlan } from '../../../../trade/calendar/production-lead-time.js';
import { type FiringKind, litresPerStudent } from '../../../../trade/firing/kiln-room.js';
import { clayDrawnGrams, lengthBeforeMm, totalShrinkagePercent } from '../../../../trade/materials/clay.js';
import { glazeFor } from '../../../../trade/materials/coating.js';
import { type SizeMm, sizeFrom } from '../../../../trade/materials/vessel-shapes.js';
import { Decimal } from '../../../../trade/money/money.js';
import { timesMade } from '../../../../trade/pricing/remakes.js';
import { formatPercent } from '../../../../trade/text/format.js';
import { type Formatter, listed } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { formCalled, inMm, litres, number, timeInWords } from './labels';
import type { PlanBody, Workshop } from './queries';
import type { Sent } from './request-body';
import { unusual } from './unusual-values';

type Pieces = PlanBody['pieces'];
type Draw = { materialId: string; quantity: Decimal };

/** What can't be reckoned yet, since a number is out of its range, is left out. */
function reckoned<T>(reckon: () => T): T[] {
  try {
    return [reckon()];
  } catch (error) {
    if (error instanceof RangeError) return [];
    throw error;
  }
}

/** The lines of a list in which nothing is wrong. */
function readable<T>({ faults }: Sent, list: string, lines: readonly T[]): T[] {
  return lines.filter((_, i) => !faults.some(({ pointer }) => pointer.startsWith(`#/${list}/${i}/`)));
}

const sizeOf = ({ form, size }: Pieces[number]): SizeMm => (typeof size === 'string' ? sizeFrom(form, size) : size);

/** What each student takes from the shelf, as the server reckons it (planning/materials.ts), clay first. */
function drawsOf(pieces: Pieces, { studio, materials, reach }: Workshop): Draw[] {
  const clay = pieces.flatMap(({ clayId, perStudent, wetMassGrams }) => {
    if (clayId === null || wetMassGrams === null) return [];
    return reckoned(() => ({
      materialId: clayId,
      quantity: new Decimal(clayDrawnGrams({ pieces: perStudent, wetMassGrams, ...studio })),
    }));
  });
  const glaze = pieces.flatMap((piece) => {
    if (!piece.glaze) return [];
    const { materialId, gramsPerDm2 } = piece.glaze;
    const used = materials.find(({ id }) => id === materialId) ?? { unit: 'g', dryGramsPerMl: null };
    const { form, perStudent: pieces } = piece;
    const again = timesMade(studio.remakesPercent, reach.glaze);
    return reckoned(() => {
      const coating = { form, size: sizeOf(piece), pieces, gramsPerDm2, wastePercent: studio.glazeWastePercent };
      return { materialId, quantity: again.times(glazeFor(coating, used)) };
    });
  });
  return [...clay, ...glaze];
}

function summed(draws: readonly Draw[]): Draw[] {
  const all = new Map<string, Decimal>();
  for (const { materialId, quantity } of draws)
    all.set(materialId, (all.get(materialId) ?? new Decimal(0)).plus(quantity));
  return [...all].map(([materialId, quantity]) => ({ materialId, quantity }));
}

/** The kiln room that one student's ware takes in a firing of a kind, in litres, as the server counts it. */
export function litresOf(
  kind: FiringKind,
  pieces: Pieces,
  broughtLitres: string | null,
  { materials }: Pick<Workshop, 'materials'>,
): Decimal {
  const ware = pieces.map((piece) => ({
    ...{ form: piece.form, ...sizeOf(piece), perStudent: piece.perStudent, comesAs: piece.comesAs ?? null },
    firingShrinkagePercent: materials.find(({ id }) => id === piece.clayId)?.firingShrinkagePercent ?? null,
  }));
  const readableWare = ware.filter((piece) => reckoned(() => litresPerStudent(kind, [piece], null)).length > 0);
  return new Decimal(litresPerStudent(kind, readableWare, broughtLitres));
}

/** What comes of what is typed so far, a sentence each: what a student takes, the kiln room, the owner's time, what must lie between. */
export function follows(sent: Sent, workshop: Workshop, formatter: Formatter): string[] {
  const pieces = readable(sent, 'pieces', sent.body.pieces);
  return [
    ...taken(pieces, workshop, formatter),
    ...wetSizes(pieces, workshop),
    ...unusual(sent, workshop, formatter),
    ...room(pieces, sent, workshop, formatter),
    ...time(sent),
    ...gaps(sent, workshop),
  ];
}

function taken(pieces: Pieces, workshop: Workshop, formatter: Formatter): string[] {
  const { offcutsPercent, remakesPercent, reclaimedPercent } = workshop.studio;
  const parts = summed(drawsOf(pieces, workshop)).flatMap(({ materialId, quantity }) => {
    const found = workshop.materials.find(({ id }) => id === materialId);
    return found ? [`${formatQuantity(quantity.toNumber(), found.unit, formatter)} of ${found.name}`] : [];
  });
  if (parts.length === 0) return [];
  const back = Number(reclaimedPercent) === 0 ? '' : `, of which ${reclaimedPercent}% comes back later as reclaim`;
  const rates = `${offcutsPercent}% of offcuts and ${remakesPercent}% of remakes${back}`;
  return [`Each student takes ${listed(parts)}; clay with ${rates}.`];
}

/** How large to make a piece in wet clay, where it is known how much its clay shrinks. */
function wetSizes(pieces: Pieces, { materials, studio }: Workshop): string[] {
  return pieces.flatMap((piece) => {
    const clay = materials.find(({ id }) => id === piece.clayId);
    if (!clay?.dryingShrinkagePercent || !clay.firingShrinkagePercent) return [];
    const shrinks = totalShrinkagePercent(clay.dryingShrinkagePercent, clay.firingShrinkagePercent);
    const { widthMm, depthMm, heightMm } = sizeOf(piece);
    return reckoned(() => {
      const [width = 0, depth = 0, height = 0] = [widthMm, depthMm, heightMm].map((mm) =>
        Math.round(lengthBeforeMm(mm, shrinks)),
      );
      const wet = inMm({ widthMm: width, depthMm: depth, heightMm: height });
      return `In wet clay the ${formCalled(piece.form)} is ${wet}: ${clay.name} shrinks ${formatPercent(number(shrinks, { locale: 'en' }, 1), studio.locale)}.`;
    });
  });
}

function room(pieces: Pieces, sent: Sent, workshop: Workshop, formatter: Formatter): string[] {
  const { places, broughtLitres = null } = sent.body;
  const isReadable = !sent.faults.some(({ pointer }) => /^#\/(pieces|broughtLitres)/.test(pointer));
  const loads = readable(sent, 'firings', sent.body.firings).flatMap(({ kilnId, scheduleId }) => {
    const kiln = workshop.kilns.find(({ id }) => id === kilnId);
    const schedule = workshop.schedules.find(({ id }) => id === scheduleId);
    const fill = workshop.fills.find((of) => of.kilnId === kilnId)?.[schedule?.kind ?? 'glaze'];
    if (!kiln || !schedule || !fill || places === 0) return [];
    const each = litresOf(schedule.kind, pieces, broughtLitres, workshop);
    if (each.isZero()) return isReadable ? [`nothing for ${schedule.name}`] : [];
    const usual = new Decimal(kiln.chamberMm3).times(fill.percent).div(100).div(1_000_000);
    const part = number(each.times(places).div(usual).toFixed(), formatter, 1);
    const how = `${litres(each.toFixed(), formatter)} each, ${formatPercent(number(fill.percent, { locale: 'en' }), formatter.locale)} full ${fill.isLearnt ? 'as learnt' : 'assumed'}`;
    return [`${part} of a load of ${kiln.name} for ${schedule.name} (${how})`];
  });
  if (loads.length > 0) return [`With all ${places} places taken it fires ${listed(loads)}.`];
  const fired = litresOf('lustre', pieces, broughtLitres, workshop);
  return fired.isZero()
    ? []
    : [`The fired ware of a student takes ${litres(fired.toFixed(), formatter)} of a kiln, gaps included.`];
}

function time({ body, faults }: Sent): string[] {
  const concerned = /^#\/(sessions|otherMinutes|minutesPerStudent)/;
  if (faults.some(({ pointer }) => concerned.test(pointer)) || body.sessions.length === 0) return [];
  const sum = (of: (session: PlanBody['sessions'][number]) => number) =>
    body.sessions.reduce((all, session) => all + of(session), 0);
  const [teaching, around] = [sum(({ minutes }) => minutes), sum((s) => s.prepareMinutes + s.clearMinutes)];
  const all = teaching + around + body.otherMinutes;
  const each = body.minutesPerStudent > 0 ? `, and ${timeInWords(body.minutesPerStudent)} more for each student` : '';
  return [
    `It takes you ${timeInWords(all)}: ${timeInWords(teaching)} in sessions, ${timeInWords(around)} before and after them, ${timeInWords(body.otherMinutes)} otherwise${each}.`,
  ];
}

type Fired = Pick<PlanBody, 'sessions' | 'dryingDays' | 'firings'>;

/** What the waits between the sessions of a plan go by. */
export function recipeOf({ sessions, dryingDays, firings }: Fired, { kilns, schedules }: Workshop): ProductionPlan {
  const known = firings.flatMap(({ kilnId, scheduleId }) => {
    const kiln = kilns.find(({ id }) => id === kilnId);
    const schedule = schedules.find(({ id }) => id === scheduleId);
    return kiln && schedule ? [{ ...schedule, coolingHours: kiln.coolingHours }] : [];
  });
  return { purposes: sessions.map(({ purpose }) => purpose), dryingDays, firings: known };
}

/** What must lie before a session that works on fired ware, by the rule that the server holds a course's dates against. */
function gaps({ body, faults }: Sent, workshop: Workshop): string[] {
  if (faults.some(({ pointer }) => /^#\/(dryingDays|firings)/.test(pointer))) return [];
  const recipe = recipeOf(body, workshop);
  return recipe.purposes.flatMap((purpose, i) => {
    const [gap] = reckoned(() => gapBefore(recipe, i));
    if (!gap) return [];
    const waits = gap.waits.map(({ what, hours }) => `${hoursInWords(hours)} of ${what}`);
    const days = number(Math.ceil(gap.minutes / 60 / 2.4) / 10, { locale: 'en' }, 1);
    return [
      `Session ${i + 1} (${purpose}) begins ${days} days after session ${gap.after + 1} or later: ${listed(waits)}.`,
    ];
  });
}

import type { Schemas } from '../../api/client';
import { capital, count, type Formatter } from '../../format/formatter';
import { centimetres, isGone, type Stage, stageCalled } from '../../format/piece';
import type { ListQuery } from '../../ui/search-list';

type Piece = Schemas['ListedPiece'];
const DAY_MILLISECONDS = 86_400_000;

/** What a list's address asks the API for: only what is here waits, and a stage may say by itself that a piece is gone. */
export function askedFor({ q, which = '', stage, form, makerId }: ListQuery) {
  const here = which === '' || which === 'newest';
  const beyond = which === 'all' || (which === '' && stage !== undefined && isGone(stage as Stage));
  return {
    ...{ q, makerId, stage: stage as Stage | undefined, form: form as Piece['form'] | undefined },
    ...(!beyond && { is: here ? ('here' as const) : ('gone' as const) }),
    order: which === '' && !beyond ? ('waiting' as const) : ('newest' as const),
  };
}

/** Whole days of the studio from an instant to its today. */
function daysFrom(instant: string, today: string, { dayOf }: Pick<Formatter, 'dayOf'>): number {
  return Math.round((Date.parse(today) - Date.parse(dayOf(instant))) / DAY_MILLISECONDS);
}

/** How long it has been as it is: "12 days, since 3 March"; of what is gone only the day. */
export function since(
  { notedAt, stage }: Pick<Piece, 'notedAt' | 'stage'>,
  today: string,
  formatter: Formatter,
): string {
  const day = formatter.date(formatter.dayOf(notedAt));
  const days = daysFrom(notedAt, today, formatter);
  if (isGone(stage)) return day;
  return days === 0 ? 'today' : `${days} ${days === 1 ? 'day' : 'days'}, since ${day}`;
}

type Story = Schemas['PieceStory'];

/** What it is, where and since when, as one sentence. */
export function answerOf({ stage, events }: Story, today: string, formatter: Formatter): string {
  const last = events.at(-1);
  const where = last?.boardName && !isGone(stage) ? `, on ${last.boardName}` : '';
  if (!last) return `${capital(stageCalled(stage))}${where}.`;
  const days = daysFrom(last.at, today, formatter);
  const day = formatter.day(formatter.dayOf(last.at), today);
  if (isGone(stage)) return `${capital(stageCalled(stage))} ${days > 6 ? `on ${day}` : day}.`;
  return `${capital(stageCalled(stage))}${where}, ${days === 0 ? 'since today' : `for ${count(days, 'day')}`}.`;
}

/** "12 by 9 cm, 9 cm high", and whether somebody measured it. */
export function sizeOf({ widthMm, depthMm, heightMm, measured }: Story): string {
  const size = `${centimetres(widthMm)} by ${centimetres(depthMm)} cm, ${centimetres(heightMm)} cm high`;
  return measured ? size : `about ${size}; nobody measured it`;
}

const WAYS = { brushed: 'brushed', dipped: 'dipped', poured: 'poured', sprayed: 'sprayed' } as const;

/** "2 coats, dipped, washed off on 3 March". */
export function coatsOf({ coats, way, washedOffAt }: Story['glazes'][number], { date, dayOf }: Formatter): string {
  const parts = [
    `${coats} ${coats === 1 ? 'coat' : 'coats'}`,
    way && WAYS[way],
    washedOffAt && `washed off on ${date(dayOf(washedOffAt))}`,
  ];
  return parts.filter(Boolean).join(', ');
}

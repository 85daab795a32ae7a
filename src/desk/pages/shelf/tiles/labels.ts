import { count, type Formatter } from '../../../format/formatter';
import type { Tile } from './queries';

const WAYS = { brushed: 'brushed', dipped: 'dipped', poured: 'poured', sprayed: 'sprayed' } as const;
const RUNS = { stayed: 'it stayed', moved: 'it moved', ranOff: 'it ran off' } as const;

/** "Moss, two coats, dipped; over it Chalk, brushed". */
export function layersOf({ layers }: Tile): string {
  return layers
    .map(({ name, coats, way }) => `${name}, ${coats === 1 ? '' : `${count(coats, 'coat')}, `}${WAYS[way]}`)
    .join('; over it ');
}

/** How it was fired and how it came out, in a sentence. */
export function resultOf({ firing, colour, surface, run, defects }: Tile, formatter: Formatter): string {
  if (!firing) return 'Not fired yet.';
  const where = [
    firing.cone ? `to cone ${firing.cone}` : '',
    firing.kiln ? `in ${firing.kiln.name}` : '',
    firing.schedule ? `by ${firing.schedule.name}` : '',
  ].filter(Boolean);
  const seen = [colour, surface, run ? RUNS[run] : '', defects].filter((word) => word !== '');
  const fired = `Fired ${where.join(' ')}${where.length > 0 ? ' ' : ''}on ${formatter.fullDate(firing.firedOn)}.`;
  return seen.length > 0
    ? `${fired} ${sentence(seen.map((word) => word.charAt(0).toLowerCase() + word.slice(1)).join('; '))}.`
    : fired;
}

/** On food: the manufacturer's words as theirs, or that it is decorative; nothing of what is not fired yet. */
export function foodOf({ manufacturerStatement, layers, firing }: Tile, formatter: Formatter): string {
  if (!firing) return '';
  if (manufacturerStatement) {
    const { name, quote, statedOn } = manufacturerStatement;
    return `The manufacturer of ${name} stated on ${formatter.fullDate(statedOn)}: “${quote}”`;
  }
  const why = layers.length > 1 ? 'Layered' : 'Without a manufacturer’s statement for this use and firing';
  return `${why}: decorative, until a laboratory has tested it.`;
}

export function answerOf(tiles: readonly Tile[], search: string): string {
  if (tiles.length === 0 && search === '')
    return 'None yet. Enter the first one, scratch its number into its back, and hang it up.';
  if (tiles.length === 0) return `No tile says “${search}”. Try fewer words, or part of one.`;
  const unfired = tiles.filter(({ firing }) => !firing).length;
  const how = sentence(count(tiles.length, 'tile'));
  const rest = unfired === 0 ? '' : `; ${count(unfired, 'of them is', 'of them are')} not fired yet`;
  return search === '' ? `${how}${rest}.` : `${how} with “${search}”${rest}.`;
}

const sentence = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

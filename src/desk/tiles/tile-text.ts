import type { Schemas } from '../client';
import type { Tile } from './read';

type Layer = Tile['layers'][number];
/** A layer as it is typed. */
export type LayerLine = { key: string; materialId: string; coats: string; way: Layer['way'] };

export const WAYS = [
  ['dipped', 'dipped'],
  ['brushed', 'brushed'],
  ['poured', 'poured'],
  ['sprayed', 'sprayed'],
] as const;

export function starting(tile: Tile | null): LayerLine[] {
  const layers = tile?.layers ?? [{ materialId: '', coats: 1, way: 'dipped' as const }];
  return layers.map(({ materialId, coats, way }) => ({
    key: crypto.randomUUID(),
    materialId,
    coats: String(coats),
    way,
  }));
}

/** What is sent; a tile without a day of firing was not fired, whatever else is filled in. */
export function bodyOf(form: FormData, layers: readonly LayerLine[]): Schemas['NewTestTile'] {
  const text = (name: string) => String(form.get(name) ?? '').trim();
  const some = (name: string) => text(name) || null;
  const firedOn = some('firedOn');
  return {
    ...{ name: text('name'), bodyId: text('bodyId'), colour: text('colour'), surface: text('surface') },
    ...{ defects: text('defects'), notes: text('notes') },
    layers: layers.map(({ materialId, coats, way }) => ({ materialId, coats: Number(coats), way })),
    firing:
      firedOn === null ? null : { firedOn, cone: some('cone'), kilnId: some('kilnId'), scheduleId: some('scheduleId') },
    run: some('run') as Tile['run'],
  };
}

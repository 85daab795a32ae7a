import type { Schemas } from '../../../api/client';
import type { Material, Mix } from './queries';

export type RecipeBody = Schemas['NewRecipe'];
/** A part as it is typed. */
export type Line = { key: string; materialId: string; share: string };

/** What a form begins with: the recipe there is, or room for two parts. */
export function starting(mix: Mix | null): Line[] {
  const parts = mix?.parts ?? [
    { materialId: '', share: '50' },
    { materialId: '', share: '50' },
  ];
  return parts.map(({ materialId, share }) => ({ key: crypto.randomUUID(), materialId, share }));
}

/** A comma before the decimals is as good as a point. */
const decimal = (typed: string) => typed.trim().replace(',', '.');

/** The lines that say a material and a share already. */
export function partsOf(lines: readonly Line[], materials: readonly Material[]) {
  return lines.flatMap(({ materialId, share }) => {
    const found = materials.find(({ id }) => id === materialId);
    const typed = decimal(share);
    return found && /^\d{1,7}(\.\d{1,4})?$/.test(typed) && Number(typed) > 0 ? [{ ...found, share: typed }] : [];
  });
}

export function bodyOf(
  form: FormData,
  parts: readonly (Material & { share: string })[],
  inPercent: boolean,
): RecipeBody {
  const text = (name: string) => String(form.get(name) ?? '').trim();
  const litre = text('litreGrams');
  return {
    weights: text('weights') === 'wet' ? 'wet' : 'dry',
    inPercent,
    litreGrams: litre === '' ? null : Number(litre),
    solidsDensity: text('solidsDensity') === '' ? null : decimal(text('solidsDensity')),
    parts: parts.map(({ id, share }) => ({ materialId: id, share })),
    note: text('note') === '' ? null : text('note'),
  };
}

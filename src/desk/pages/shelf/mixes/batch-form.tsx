import { useState } from 'preact/hooks';
import { HEAVIEST_LITRE_GRAMS, LIGHTEST_LITRE_GRAMS } from '../../../../trade/materials/litre-weight.js';
import { batchCost, type WeighedBatch, weighOut } from '../../../../trade/materials/mix.js';
import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { type Column, DataTable } from '../../../ui/data-table';
import { exact, percent, percents } from './labels';
import { LITRE_FAULT, litreInWords } from './litre-weight';
import type { Costs, Mix } from './queries';
import { letter } from './stacked-bar';

type Props = { mix: Mix; costs: Costs | null; formatter: Formatter; onDone(said: string): void };

const AT_FIRST_GRAMS = 1000;

/** The parts of a mix; with a batch's grams typed in, what each weighs, at once. */
export function MakeBatch({ mix, costs, formatter, onDone }: Props) {
  const [typed, setTyped] = useState(String(AT_FIRST_GRAMS));
  const [measured, setMeasured] = useState('');
  const [litre, setLitre] = useState('');
  const deed = useMutation({ thenRead: true });
  const grams = whole(typed);
  const { unit } = mix.product;
  const weighed = weigh(mix, grams);
  const batch = 'error' in weighed ? null : weighed;
  const sheet = `/api/mixes/${mix.id}/batch-sheet.pdf?makeGrams=${grams}`;
  const make = async () => {
    if (!batch) return;
    const came = measured.trim() === '' ? null : whole(measured);
    if (came === 0) return deed.refuse('Write the actual yield as a whole number, or leave it empty.');
    const weighedLitre = litre.trim() === '' ? null : whole(litre);
    if (weighedLitre !== null && (weighedLitre < LIGHTEST_LITRE_GRAMS || weighedLitre > HEAVIEST_LITRE_GRAMS))
      return deed.refuse(LITRE_FAULT);
    const body = {
      ...{ makeGrams: grams, note: null, measuredLitreGrams: weighedLitre },
      ...(came !== null && { measuredQuantity: came }),
    };
    const params = { path: { mixId: mix.id } };
    const made = await deed.run([mix.id, mix.version, body], (headers) =>
      api.POST('/api/mixes/{mixId}/batches', { params, headers, body }),
    );
    if (made)
      onDone(
        `${formatQuantity(came ?? batch.yieldQuantity, unit, formatter)} of ${mix.product.name} are on the shelf.`,
      );
  };
  return (
    <>
      <div class="pairs grams no-paper">
        <Field
          label={mix.weights === 'dry' ? 'Dry weight to make (g)' : 'Weight to make (g)'}
          figures="whole"
          value={typed}
          fault={'error' in weighed ? weighed.error : undefined}
          onChange={setTyped}
        />
        <Field label={`Actual yield (${unit}, optional)`} figures="whole" value={measured} onChange={setMeasured} />
        {batch && batch.litreGrams !== null && (
          <Field label="Weight of a litre (g, optional)" figures="whole" value={litre} onChange={setLitre} />
        )}
      </div>
      <p class="caution">
        Breathing the dust can cause lasting lung damage: wear a fit-tested FFP3 mask, clean up wet, and follow each
        supplier’s safety data sheet. Put the water in first and add the powder gently. What you mix yourself is not
        tested for food use.
      </p>
      <Weights {...{ mix, costs, batch, formatter }} />
      <p role="status">{batch ? water(batch, mix, formatter) : ''}</p>
      {batch && litre.trim() !== '' && (
        <p role="status">{litreInWords(litre, batch, whole(measured), mix, formatter)}</p>
      )}
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts no-paper">
        <button type="button" onClick={make} aria-disabled={deed.busy || !batch}>
          Mix this batch
        </button>
        {batch && (
          <a href={sheet} target="_blank" rel="noopener">
            Print batch sheet
          </a>
        )}
      </p>
    </>
  );
}

const whole = (typed: string): number => (/^\d{1,7}$/.test(typed.trim()) ? Number(typed) : 0);

function weigh(mix: Mix, grams: number): WeighedBatch | { error: string } {
  if (grams === 0) return { error: 'Write a whole number of grams, for example 1000.' };
  try {
    return weighOut(mix, grams);
  } catch (error) {
    return { error: (error as Error).message };
  }
}

function Weights({ mix, costs, batch, formatter }: Omit<Props, 'onDone'> & { batch: WeighedBatch | null }) {
  const shares = percents(mix.parts);
  const rates = mix.parts.map(
    ({ materialId }) => costs?.parts.find((part) => part.materialId === materialId)?.rateMinor ?? null,
  );
  const cost = batch && costs ? batchCost(batch.parts, rates) : null;
  const money = (minor: number | null | undefined) =>
    typeof minor === 'number' ? formatter.money(minor) : 'no price yet';
  const weighGrams = batch?.parts.reduce((sum, part) => sum + part.weighGrams, 0);
  const lines = mix.parts.map((part, i) => ({
    ...{ part, letter: letter(i), share: percent(shares[i] ?? 0, formatter) },
    ...{ weighed: batch?.parts[i], cost: batch ? money(cost?.partsMinor[i]) : '–' },
  }));
  const columns: Column<(typeof lines)[number]>[] = [
    {
      head: 'Material',
      cell: ({ part, letter }) => (
        <>
          <b>{letter}</b> {part.name}
        </>
      ),
    },
    { head: 'Share', figures: true, cell: ({ share }) => share },
    {
      ...{ head: 'Weigh out', figures: true, total: weighGrams === undefined ? '–' : exact(weighGrams, formatter) },
      cell: ({ weighed, part }) => weight(weighed, part.unit, formatter),
    },
  ];
  if (costs)
    columns.push({
      ...{ head: 'Will cost', figures: true, total: batch ? money(cost?.totalMinor) : '–' },
      cell: ({ cost }) => cost,
    });
  return (
    <DataTable
      class="weights"
      caption={`What goes into ${mix.product.name}`}
      columns={columns}
      rows={lines}
      keyOf={({ part }) => part.materialId}
      total="Total"
      fitsPhone
    />
  );
}

function weight(part: WeighedBatch['parts'][number] | undefined, unit: Mix['product']['unit'], formatter: Formatter) {
  if (!part) return '–';
  return (
    <>
      {exact(part.weighGrams, formatter)}
      {unit === 'ml' && <small> {formatQuantity(part.quantity, 'ml', formatter)}</small>}
    </>
  );
}

function water(
  { addWaterMl, tooWetMl, litreGrams, yieldQuantity }: WeighedBatch,
  { product }: Mix,
  formatter: Formatter,
): string {
  const makes = `It makes about ${formatQuantity(yieldQuantity, product.unit, formatter)}.`;
  const litre = litreGrams === null ? '' : ` A litre then weighs ${exact(litreGrams, formatter)}.`;
  if (tooWetMl > 0)
    return `Its parts bring too much water: take ${formatQuantity(tooWetMl, 'ml', formatter)} off once it has settled.${litre} ${makes}`;
  return `${addWaterMl > 0 ? `Add ${formatQuantity(addWaterMl, 'ml', formatter)} of water.` : 'No water is added.'}${litre} ${makes}`;
}

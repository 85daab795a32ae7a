import { useCallback, useEffect, useState } from 'preact/hooks';
import { majorUnits } from '../../../../trade/money/money.js';
import { api, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { useMutation } from '../../../api/use-mutation';
import type { Formatter } from '../../../format/formatter';
import { amountTyped } from '../../../forms/amount';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { each } from './labels';
import { PeopleChoice } from './person-select';
import { type Material, readUsual, type Selling } from './queries';
import { type Faults, priced, QUICK, saleOf, type Typed } from './sale-price';
import { Going } from './stock-bar';

type Props = { selling: Selling; formatter: Formatter; onSold(sold: Schemas['Sold']): void };

const NOTHING: Typed = { personId: '', materialId: '', quantity: '', price: '', taxRateId: '' };

/** Who takes what home, how much of it, and at which price: three choices, and the price stands there. */
export function SellForm({ selling, formatter, onSold }: Props) {
  const [typed, setTyped] = useState(NOTHING);
  const [faults, setFaults] = useState<Faults>({});
  const deed = useMutation({ thenRead: true });
  const change = (next: Partial<Typed>) => setTyped((before) => ({ ...before, ...next }));
  const material = selling.materials.find(({ id }) => id === typed.materialId);
  const rate = selling.taxRates.find(({ id }) => id === typed.taxRateId);
  const sum = priced(typed, material, rate, { ...formatter, isRegistered: selling.isRegistered });
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const outcome = saleOf(typed, material, formatter.currency);
    setFaults('faults' in outcome ? outcome.faults : {});
    if ('faults' in outcome) return;
    const body = { ...outcome.body, note: '' };
    let sold: Schemas['Sold'] | undefined;
    await deed.run(body, async (headers) => {
      ({ data: sold } = await api.POST('/api/sales', { body, headers }));
    });
    if (!sold) return;
    setTyped(NOTHING);
    onSold(sold);
  };
  return (
    <form class="raised selling no-paper" onSubmit={submit} noValidate>
      <PeopleChoice
        people={selling.people}
        personId={typed.personId}
        fault={faults.personId}
        onChoose={(personId) => change({ personId })}
      />
      <Field
        label="What?"
        value={typed.materialId}
        choices={[['', 'Choose'], ...selling.materials.map(({ id, name }) => [id, name] as const)]}
        fault={faults.materialId}
        onChange={(materialId) => change({ materialId, quantity: '', price: '', taxRateId: '' })}
        required
      />
      {material && (
        <>
          <HowMuch {...{ typed, material, change }} fault={faults.quantity} />
          {sum && <Going quantity={sum.quantity} material={material} formatter={formatter} />}
          <ItsPrice key={material.id} {...{ typed, material, faults, selling, formatter, change }} />
        </>
      )}
      <p class="price-now" role="status">
        {sum && (
          <>
            <b>{formatter.money(sum.grossMinor)}</b>
            {sum.vatMinor > 0 ? `, ${formatter.money(sum.vatMinor)} of it VAT` : rate ? ', no VAT' : ''}
          </>
        )}
      </p>
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          {sum ? `Sell it for ${formatter.money(sum.grossMinor)}` : 'Sell it'}
        </button>
      </p>
    </form>
  );
}

type Part = { typed: Typed; material: Material; change(next: Partial<Typed>): void };

function HowMuch({ typed, material, change, fault }: Part & { fault: string | undefined }) {
  return (
    <>
      <Field
        label="How much?"
        hint={material.unit === 'piece' ? undefined : `For example, ${QUICK[material.unit][1]}.`}
        value={typed.quantity}
        fault={fault}
        onChange={(quantity) => change({ quantity })}
      />
      <p class="quick">
        {QUICK[material.unit].map((quantity) => (
          <button
            key={quantity}
            type="button"
            class="quiet"
            aria-pressed={typed.quantity === quantity}
            onClick={() => change({ quantity })}
          >
            {quantity}
          </button>
        ))}
      </p>
    </>
  );
}

type PriceProps = Part & { faults: Faults; selling: Selling; formatter: Formatter };

/** The price and its tax as the material is usually sold; what is typed over them can be kept as usual. */
function ItsPrice({ typed, material, faults, selling, formatter, change }: PriceProps) {
  const [isFilled, setFilled] = useState(false);
  const [said, setSaid] = useState('');
  const deed = useMutation({ thenRead: true });
  const { id: materialId, unit, name } = material;
  const read = useCallback(() => readUsual(materialId), [materialId]);
  const { data: usual, error } = useQuery({ key: ['selling price', materialId], read, fresh: true });
  useEffect(() => {
    if (!usual) return; // read again later, it does not come over what is typed
    const { priceMinor, taxRateId } = usual.price;
    change({
      price: priceMinor === null ? '' : majorUnits(priceMinor, formatter.currency),
      taxRateId: taxRateId ?? '',
    });
    setFilled(true);
  }, [usual !== undefined]);
  const price = { priceMinor: amountTyped(typed.price, formatter.currency), taxRateId: typed.taxRateId || null };
  const keep = async (etag: string) => {
    const params = { path: { materialId } };
    const isKept = await deed.run(price, (headers) =>
      api.PUT('/api/materials/{materialId}/selling-price', {
        ...{ params, body: price, headers: { ...headers, 'if-match': etag } },
      }),
    );
    if (isKept) setSaid(`${name} is sold at that from now on.`);
  };
  // typed before it was read, a price would be written over
  if (!usual || !isFilled)
    return error ? <ErrorMessage>{error.message}</ErrorMessage> : <p class="quiet">Reading what it is sold for.</p>;
  const isOther = price.priceMinor !== usual.price.priceMinor || price.taxRateId !== usual.price.taxRateId;
  return (
    <>
      <div class="pairs">
        <Field
          label={`Price for ${each(unit)}, in ${formatter.currency}`}
          hint={selling.isRegistered ? 'VAT included.' : undefined}
          figures
          value={typed.price}
          fault={faults.price}
          onChange={(text) => change({ price: text })}
        />
        <Field
          label="How is it taxed?"
          value={typed.taxRateId}
          choices={[['', 'Choose'], ...selling.taxRates.map((rate) => [rate.id, rate.name] as const)]}
          fault={faults.taxRateId}
          onChange={(taxRateId) => change({ taxRateId })}
          required
        />
      </div>
      <KeepPrice
        name={name}
        busy={deed.busy}
        done={!isOther && said}
        onKeep={isOther && price.priceMinor !== null ? () => keep(usual.etag) : undefined}
      />
      {deed.error && <ErrorMessage>{deed.error}</ErrorMessage>}
    </>
  );
}

type KeepProps = { name: string; busy: boolean; done: string | false; onKeep: (() => void) | undefined };

/** What is typed over the usual price may become the usual one. */
function KeepPrice({ name, busy, done, onKeep }: KeepProps) {
  if (onKeep)
    return (
      <button type="button" class="quiet" aria-disabled={busy} onClick={onKeep}>
        Save this as the price of {name}
      </button>
    );
  if (!done) return null;
  return (
    <p class="done" role="status">
      {done}
    </p>
  );
}

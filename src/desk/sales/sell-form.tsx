import { useEffect, useState } from 'preact/hooks';
import { majorUnits } from '../../trade/money/money.js';
import { amountTyped } from '../amount';
import { api, type Schemas } from '../client';
import { useDeed } from '../deed';
import { Fault } from '../entry/field';
import { Choice } from '../mixes/parts';
import type { Tell } from '../tell';
import { Going } from './going';
import { PeopleChoice } from './people-choice';
import { type Material, readUsual, type Selling, type Usual } from './read';
import { type Faults, priced, QUICK, saleOf, type Typed } from './reckoning';
import { TypedField } from './typed-field';
import { each } from './words';

type Props = { selling: Selling; tell: Tell; onSold(sold: Schemas['Sold']): Promise<void> };

const NOTHING: Typed = { personId: '', materialId: '', quantity: '', price: '', taxRateId: '' };

/** Who takes what home, how much of it, and at which price: three choices, and the price stands there. */
export function SellForm({ selling, tell, onSold }: Props) {
  const [typed, setTyped] = useState(NOTHING);
  const [faults, setFaults] = useState<Faults>({});
  const deed = useDeed();
  const change = (next: Partial<Typed>) => setTyped((before) => ({ ...before, ...next }));
  const material = selling.materials.find(({ id }) => id === typed.materialId);
  const rate = selling.taxRates.find(({ id }) => id === typed.taxRateId);
  const sum = priced(typed, material, rate, { ...tell, isRegistered: selling.isRegistered });
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const outcome = saleOf(typed, material, tell.currency);
    setFaults('faults' in outcome ? outcome.faults : {});
    if ('faults' in outcome) return;
    const body = { ...outcome.body, note: '' };
    let sold: Schemas['Sold'] | undefined;
    await deed.run(body, async (headers) => {
      ({ data: sold } = await api.POST('/api/sales', { body, headers }));
    });
    if (!sold) return;
    setTyped(NOTHING);
    await onSold(sold);
  };
  return (
    <form class="raised selling no-paper" onSubmit={submit} noValidate>
      <PeopleChoice
        people={selling.people}
        personId={typed.personId}
        fault={faults.personId}
        onChoose={(personId) => change({ personId })}
      />
      <Choice
        label="What?"
        value={typed.materialId}
        choices={[['', 'Choose'], ...selling.materials.map(({ id, name }) => [id, name] as const)]}
        fault={faults.materialId}
        onChoose={(materialId) => change({ materialId, quantity: '', price: '', taxRateId: '' })}
      />
      {material && (
        <>
          <HowMuch {...{ typed, material, change }} fault={faults.quantity} />
          {sum && <Going quantity={sum.quantity} material={material} tell={tell} />}
          <ItsPrice key={material.id} {...{ typed, material, faults, selling, tell, change }} />
        </>
      )}
      <p class="price-now" role="status">
        {sum && (
          <>
            <b>{tell.money(sum.grossMinor)}</b>
            {sum.vatMinor > 0 ? `, ${tell.money(sum.vatMinor)} of it VAT` : rate ? ', no VAT' : ''}
          </>
        )}
      </p>
      {deed.because && <Fault>{deed.because}</Fault>}
      <p class="acts">
        <button type="submit" aria-disabled={deed.busy}>
          {sum ? `Sell it for ${tell.money(sum.grossMinor)}` : 'Sell it'}
        </button>
      </p>
    </form>
  );
}

type Part = { typed: Typed; material: Material; change(next: Partial<Typed>): void };

function HowMuch({ typed, material, change, fault }: Part & { fault: string | undefined }) {
  return (
    <>
      <TypedField
        called="How much?"
        hint={material.unit === 'piece' ? undefined : `For example, ${QUICK[material.unit][1]}.`}
        value={typed.quantity}
        fault={fault}
        onTyped={(quantity) => change({ quantity })}
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

type PriceProps = Part & { faults: Faults; selling: Selling; tell: Tell };

/** The price and its tax as the material is usually sold; what is typed over them can be kept as usual. */
function ItsPrice({ typed, material, faults, selling, tell, change }: PriceProps) {
  const [usual, setUsual] = useState<Usual | null>(null);
  const [said, setSaid] = useState('');
  const deed = useDeed();
  const { id: materialId, unit, name } = material;
  useEffect(() => {
    let isLeft = false; // what another material is sold for would come over this one's
    void deed.run('read', async () => {
      const read = await readUsual(materialId);
      if (isLeft) return;
      const { priceMinor, taxRateId } = read.price;
      setUsual(read);
      change({ price: priceMinor === null ? '' : majorUnits(priceMinor, tell.currency), taxRateId: taxRateId ?? '' });
    });
    return () => {
      isLeft = true;
    };
  }, [materialId]);
  const price = { priceMinor: amountTyped(typed.price, tell.currency), taxRateId: typed.taxRateId || null };
  const keep = (etag: string) =>
    deed.run(price, async (headers) => {
      const params = { path: { materialId } };
      const conditions = { ...headers, 'if-match': etag };
      const { data, response } = await api.PUT('/api/materials/{materialId}/selling-price', {
        ...{ params, body: price, headers: conditions },
      });
      if (!data) return;
      setUsual({ price: data, etag: response.headers.get('etag') ?? '' });
      setSaid(`${name} is sold at that from now on.`);
    });
  // typed before it was read, a price would be written over
  if (!usual) return deed.because ? <Fault>{deed.because}</Fault> : <p class="quiet">Reading what it is sold for.</p>;
  const isOther = price.priceMinor !== usual.price.priceMinor || price.taxRateId !== usual.price.taxRateId;
  return (
    <>
      <div class="pairs">
        <TypedField
          called={`Price for ${each(unit)}, in ${tell.currency}`}
          hint={selling.isRegistered ? 'VAT included.' : undefined}
          figures
          value={typed.price}
          fault={faults.price}
          onTyped={(text) => change({ price: text })}
        />
        <Choice
          label="How is it taxed?"
          value={typed.taxRateId}
          choices={[['', 'Choose'], ...selling.taxRates.map((rate) => [rate.id, rate.name] as const)]}
          fault={faults.taxRateId}
          onChoose={(taxRateId) => change({ taxRateId })}
        />
      </div>
      {isOther && price.priceMinor !== null && (
        <button type="button" class="quiet" aria-disabled={deed.busy} onClick={() => keep(usual.etag)}>
          Save this as the price of {name}
        </button>
      )}
      {!isOther && said && (
        <p class="done" role="status">
          {said}
        </p>
      )}
      {deed.because && <Fault>{deed.because}</Fault>}
    </>
  );
}

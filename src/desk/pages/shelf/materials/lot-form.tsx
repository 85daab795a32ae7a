import { useRef } from 'preact/hooks';
import { addDays } from '../../../../trade/calendar/calendar.js';
import { api } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { formatQuantity, plainQuantity } from '../../../format/quantity';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { reader } from '../../../forms/parse';
import { Unreadable, useForm } from '../../../forms/use-form';
import type { Costs, Material } from './material-queries';

type Props = {
  material: Material;
  costs: Costs | null;
  usualSupplier: string | null;
  today: string;
  formatter: Formatter;
  onSaved(sentence: string): void;
  onCancel(): void;
};

/** What came without an order: how much, from whom, when and for how much. */
export function LotForm({ material, costs, usualSupplier, today, formatter, onSaved, onCancel }: Props) {
  const { id, name, unit, packQuantity } = material;
  const came = useRef(0);
  const form = useForm({
    initial: {
      ...{ quantity: plainQuantity(packQuantity, unit), cost: '', receivedOn: today },
      supplier: usualSupplier ?? '',
    },
    schema: 'NewLotInput',
    send: async ({ quantity, cost, receivedOn, supplier }, headers) => {
      const read = reader(formatter.currency);
      const body = {
        ...{ supplier: read.text('/supplier', supplier), receivedOn: read.text('/receivedOn', receivedOn) },
        quantity: read.quantity('/quantity', quantity, unit),
        costMinor: read.money('/costMinor', cost),
      };
      if (read.faults.length > 0) throw new Unreadable(read.faults);
      const params = { path: { materialId: id } };
      await api.POST('/api/materials/{materialId}/lots', { params, body, headers });
      came.current = body.quantity;
    },
    onSaved: () => onSaved(`${formatQuantity(came.current, unit, formatter)} of ${name} came on the shelf.`),
  });
  const last = costs?.packPrice ? ` A pack last cost ${formatter.money(costs.packPrice.amountMinor)}.` : '';
  return (
    <Form form={form} save="Put it on the shelf" onCancel={onCancel}>
      <div class="pairs">
        <Field
          label="How much came"
          hint={HINTS[unit]}
          figures={unit === 'piece'}
          {...form.field('quantity', '#/quantity')}
        />
        <Field
          label={`All of it cost, ${formatter.currency}`}
          hint={`With carriage, and with VAT unless you get it back.${last}`}
          figures
          {...form.field('cost', '#/costMinor')}
        />
        <Field label="Received on" type="date" {...form.field('receivedOn', '#/receivedOn')} />
        <Field label="Bought from" {...form.field('supplier', '#/supplier')} />
      </div>
      <p class="quiet">{useBy(material, form.values.receivedOn, formatter)}</p>
      <p class="quiet">What a lot cost can’t be changed afterwards, since what is drawn from it goes by that.</p>
    </Form>
  );
}

const HINTS = { g: 'For example, 12.5 kg.', ml: 'For example, 500 ml.', piece: 'How many.' };

/** "Use it by 3 March 2027: it keeps 400 days." A lot keeps as long as its material does. */
function useBy({ shelfLifeDays }: Material, receivedOn: string, { fullDate }: Formatter): string {
  if (shelfLifeDays === null) return 'It keeps: no limit is set.';
  if (!/^\d{4}-\d{2}-\d{2}$/.test(receivedOn)) return `It keeps ${shelfLifeDays} days.`;
  return `Use it by ${fullDate(addDays(receivedOn, shelfLifeDays))}: it keeps ${shelfLifeDays} days.`;
}

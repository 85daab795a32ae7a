import { useState } from 'preact/hooks';
import { api, type Schemas } from '../api/client';
import { count, type Formatter } from '../format/formatter';
import { Field } from '../forms/field';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { MeterReadings } from './meter-readings';
import { PreviewedAction } from './previewed-action';

type Cost = Schemas['FiringCost'];
type Bill = Cost['charges'][number];
type Wish = { bill: true; labourMinutes?: number };
type Props = { firingId: string; number: number; formatter: Formatter };

/** Works a firing out by its meter and charges each maker their share, both seen first. */
export function BillFiring({ firingId, number, formatter }: Props) {
  const [minutes, setMinutes] = useState('');
  const [readings, setReadings] = useState(0);
  const typed = /^\d{1,4}$/.test(minutes.trim()) ? Number(minutes) : undefined;
  const isReadable = minutes.trim() === '' || typed !== undefined;
  const wish: Wish | null = isReadable ? { bill: true, ...(typed !== undefined && { labourMinutes: typed }) } : null;
  const params = { path: { firingId } };
  return (
    <DialogButton label="Work out and bill" about={`firing ${number}`} title={`Fees of firing ${number}`}>
      {(close) => (
        <>
          <Field
            label="Minutes of your work"
            hint="Empty: as planned for this firing"
            figures
            value={minutes}
            onChange={setMinutes}
            fault={isReadable ? undefined : 'Write whole minutes, for example 90.'}
          />
          <MeterReadings {...{ firingId, formatter }} onSaved={() => setReadings(readings + 1)} />
          <PreviewedAction<Wish, Cost>
            key={readings}
            name={`bill ${firingId} ${readings}`}
            wish={wish}
            ask={(body, signal) => api.POST('/api/firings/{firingId}/settlement/preview', { params, body, signal })}
            send={(body, headers) => api.POST('/api/firings/{firingId}/settlement', { params, body, headers })}
            save={({ outcome: { charges } }) =>
              charges.length === 0 ? 'Save the cost' : `Bill ${count(charges.length, 'person', 'people')}`
            }
            onDone={({ charges }) => {
              close();
              toast(
                <>
                  <span>
                    Firing {number} is worked out
                    {charges.length > 0 && `, and ${count(charges.length, 'person', 'people')} billed`}.
                  </span>
                  {charges.length > 0 && <a href="/money">Who owes</a>}
                </>,
              );
            }}
            onCancel={close}
          >
            {(cost) => <Shares {...{ cost, formatter }} />}
          </PreviewedAction>
        </>
      )}
    </DialogButton>
  );
}

function Shares({ cost, formatter: { money, moneyInText } }: { cost: Cost; formatter: Formatter }) {
  const { energyKwh, tariffName, energyMinor, wearMinor, labourMinor, costMinor, charges, shares } = cost;
  const charged = charges.reduce((sum, { grossMinor }) => sum + grossMinor, 0);
  const included = charges.reduce((sum, { includedMinor }) => sum + includedMinor, 0);
  const pieces = (personId: string) =>
    shares.filter((share) => share.personId === personId && share.borneBy === 'maker').length;
  const columns: Column<Bill>[] = [
    { head: 'Maker', cell: ({ personName }) => personName },
    { head: 'Pieces', figures: true, cell: ({ personId }) => pieces(personId) },
    { head: 'Share with VAT', figures: true, cell: ({ grossMinor }) => money(grossMinor), total: money(charged) },
    ...(included === 0
      ? []
      : [
          {
            ...{ head: 'In membership', figures: true, total: money(included) },
            cell: ({ includedMinor }: Bill) => (includedMinor === 0 ? '' : money(includedMinor)),
          },
        ]),
  ];
  return (
    <>
      <p>
        It cost <b>{moneyInText(costMinor)}</b>: {moneyInText(energyMinor)} for {energyKwh} kWh ({tariffName}),{' '}
        {moneyInText(wearMinor)} wear, {moneyInText(labourMinor)} your time. {cost.whyNotAsPriced}
      </p>
      {charges.length === 0 ? (
        <p>No maker is charged: courses and the studio pay for it.</p>
      ) : (
        <DataTable
          caption="Who pays what"
          {...{ columns }}
          rows={charges}
          keyOf={({ chargeId }) => chargeId}
          total="Total"
        />
      )}
    </>
  );
}

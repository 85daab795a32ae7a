import { api, type Schemas } from '../api/client';
import { further, type Headers } from '../api/idempotency-key';
import { answered, type Basic, type Context, readTyped, type Values } from './basic';
import { TAX_RATES } from './tax-rates';

type TaxRate = Schemas['TaxRate'];
const NONE = 'No VAT';

/** Whether a new studio is registered for VAT, and at which rate it then sells; the rate it sells at is what is added. */
export const TAX_CHOICE: Basic<TaxRate> = {
  ...TAX_RATES,
  fields: ({ registered }) => [
    {
      ...{ name: 'registered', label: 'VAT', assumed: 'tax' as const },
      choices: [
        ['no', 'not registered'],
        ['yes', 'registered, at the standard rate'],
      ],
    },
    ...(registered === 'yes'
      ? [
          { name: 'vatNumber', label: 'VAT number', required: true },
          { name: 'percent', label: 'Standard rate, percent', figures: true, required: true },
        ]
      : []),
  ],
  usual: () => ({ registered: 'no', vatNumber: '', percent: '20' }),
  add: saveTax,
};

async function saveTax(values: Values, headers: Headers, context: Context) {
  const isRegistered = values.registered === 'yes';
  const { vatNumber, percent } = readTyped(context, 'NewTaxRateInput', (read) => ({
    vatNumber: isRegistered ? read.text('/vatNumber', values.vatNumber ?? '') : null,
    percent: isRegistered ? read.decimal('/percent', values.percent ?? '') : null,
  }));
  const rates = answered(await api.GET('/api/tax-rates')).items;
  const known = rates.find((rate) =>
    isRegistered ? rate.kind === 'standard' && Number(rate.percent) === Number(percent) : rate.name === NONE,
  );
  const rate =
    known ??
    answered(
      await api.POST('/api/tax-rates', {
        body: isRegistered
          ? { name: `Standard ${percent}%`, kind: 'standard', percent }
          : { name: NONE, kind: 'outside', percent: null },
        headers: further(headers, 1),
      }),
    );
  const { data, response } = await api.GET('/api/studio');
  const studio = answered({ data });
  await api.PUT('/api/studio', {
    body: { ...studio, vatNumber, firingTaxRateId: rate.id },
    headers: { ...further(headers, 2), 'if-match': response.headers.get('etag') ?? '' },
  });
  return { item: rate, ids: { tax: [rate.id] } };
}

import { api, type Schemas } from '../../../api/client';
import {
  answered,
  type Basic,
  type Context,
  type FieldSpec,
  openedFrom,
  readTyped,
  type Values,
} from '../../../basics/basic';
import { plainQuantity } from '../../../format/quantity';
import type { Reader } from '../../../forms/parse';
import { includedLines, type MembershipKind, noticeOf, pauseOf } from '../membership-labels';
import { ChangeFee } from './change-fee';

type Choices = {
  rates: Schemas['TaxRate'][];
  clays: Schemas['StockedMaterial'][];
  mayChange: boolean;
  today: string;
};
type Terms = Schemas['ChangedMembershipKindInput'];

const YES_NO = [
  ['no', 'no'],
  ['yes', 'yes'],
] as const;
const UNITS = [
  ['months', 'months'],
  ['days', 'days'],
] as const;

/** Kinds of membership, with the VAT rates and clays that they can name. */
export function membershipKinds({ rates, clays, mayChange, today }: Choices): Basic<MembershipKind> {
  const path = (membershipKindId: string) => ({ params: { path: { membershipKindId } } });
  const shownAgain = async (kind: Schemas['MembershipKind']): Promise<MembershipKind> =>
    (await list()).find(({ id }) => id === kind.id) ?? { ...kind, feeMinor: 0, members: 0 };
  const list = async () => answered(await api.GET('/api/membership-kinds')).items;
  return {
    ...{ one: 'kind of membership', many: 'kinds of membership', schema: 'NewMembershipKindInput' },
    reach: 'Members keep what they agreed: a change holds for those who join from now on.',
    fields: (values, context, editing) => fieldsOf(values, context, editing, rates, clays),
    usual: () => ({
      ...{ name: '', taxRateId: rates[0]?.id ?? '', fee: '', notice: '1', unit: 'months', feeNoticeDays: '30' },
      ...{
        pausePercent: '0',
        hours: '0',
        firingLitres: '0',
        clayId: '',
        clay: '',
        hasShelf: 'no',
        writesLetters: 'yes',
      },
    }),
    valuesOf,
    add: async (values, headers, context) => {
      const body = readTyped(context, 'NewMembershipKindInput', (read) => ({
        ...termsOf(values, read),
        feeMinor: read.money('/feeMinor', values.fee ?? ''),
      }));
      return { item: answered(await api.POST('/api/membership-kinds', { body, headers })), ids: {} };
    },
    open: async (id) => {
      const { item, etag } = openedFrom(await api.GET('/api/membership-kinds/{membershipKindId}', path(id)));
      return { item: { ...item, feeMinor: 0, members: 0 }, etag };
    },
    change: async ({ id }, values, headers, context) => {
      const body = readTyped(context, 'NewMembershipKindInput', (read) => termsOf(values, read));
      const changed = await api.PUT('/api/membership-kinds/{membershipKindId}', { ...path(id), body, headers });
      return shownAgain(answered(changed));
    },
    remove: (id, headers) => api.POST('/api/membership-kinds/{membershipKindId}/removal', { ...path(id), headers }),
    list,
    columns: ({ formatter }) => [
      { head: 'Membership', cell: ({ id, name }) => <a href={`/people/members?kindId=${id}`}>{name}</a> },
      { head: 'Each month', cell: (kind) => includedLines(includedOf(kind), formatter).join(', ') },
      { head: 'Notice', cell: (kind) => noticeOf(kind) },
      { head: 'While paused', cell: ({ pausePercent }) => pauseOf(pausePercent), spare: true },
      { head: 'Members', figures: true, cell: ({ members }) => members },
      { head: 'Fee', figures: true, cell: ({ feeMinor }) => formatter.money(feeMinor) },
      ...(mayChange
        ? [
            {
              ...{ head: 'Fee, to change', headHeard: true },
              cell: (kind: MembershipKind) => <ChangeFee {...{ kind, formatter, today }} />,
            },
          ]
        : []),
    ],
  };
}

const includedOf = ({ benchMinutes, firingLitres, clayId, clayName, clayGrams, hasShelf }: MembershipKind) => ({
  ...{ benchMinutes, firingLitres, shelf: hasShelf },
  clay: clayId === null ? null : { materialId: clayId, name: clayName ?? '', grams: clayGrams },
});

function fieldsOf(
  { clayId }: Values,
  { formatter }: Context,
  editing: boolean,
  rates: Choices['rates'],
  clays: Choices['clays'],
): FieldSpec[] {
  const fee = { name: 'fee', at: '#/feeMinor', label: `Fee for a month, ${formatter.currency}`, figures: true };
  return [
    { name: 'name', label: 'Name', hint: 'For example, Bench membership.' },
    ...(editing ? [] : [{ ...fee, hint: 'With VAT. Charged on the first day of each month.' }]),
    { name: 'taxRateId', label: 'VAT', choices: rates.map(({ id, name }) => [id, name] as const) },
    { name: 'hours', at: '#/benchMinutes', label: 'Hours at a bench, each month', figures: true },
    { name: 'firingLitres', label: 'Litres in the kiln, each month', figures: true },
    {
      name: 'clayId',
      label: 'Clay',
      required: false,
      choices: [['', 'none'], ...clays.map(({ id, name }) => [id, name] as const)],
    },
    ...(clayId
      ? [
          {
            name: 'clay',
            at: '#/clayGrams',
            label: 'How much clay, each month',
            hint: 'For example, 5 kg.',
            required: true,
          },
        ]
      : []),
    { name: 'hasShelf', label: 'A shelf', choices: YES_NO },
    { name: 'notice', at: '#/noticeDays', label: 'Notice to end it', figures: true, required: true },
    { name: 'unit', at: '#/noticeMonths', label: 'Notice is in', choices: UNITS },
    {
      ...{ name: 'pausePercent', label: 'Paid while paused, percent of the fee', figures: true },
      hint: '0: nothing is paid.',
    },
    {
      ...{ name: 'feeNoticeDays', label: 'Days before a new fee', figures: true, more: true },
      hint: 'So long before they pay it members hear of one.',
    },
    { name: 'writesLetters', label: 'A letter each time it is charged', choices: YES_NO, more: true },
  ];
}

function termsOf(values: Values, read: Reader): Terms {
  const typed = (name: string) => values[name]?.trim() ?? '';
  const isMonths = values.unit === 'months';
  const notice = read.whole(isMonths ? '/noticeMonths' : '/noticeDays', typed('notice'));
  const clayId = values.clayId || null;
  return {
    ...{ name: read.text('/name', typed('name')), taxRateId: read.chosen('/taxRateId', typed('taxRateId')) },
    ...{ noticeMonths: isMonths ? notice : null, noticeDays: isMonths ? null : notice },
    feeNoticeDays: read.whole('/feeNoticeDays', typed('feeNoticeDays')),
    pausePercent: read.decimal('/pausePercent', typed('pausePercent') || '0'),
    benchMinutes: Math.round(Number(read.decimal('/benchMinutes', typed('hours') || '0')) * 60),
    firingLitres: read.decimal('/firingLitres', typed('firingLitres') || '0'),
    ...{ clayId, clayGrams: clayId === null ? 0 : read.quantity('/clayGrams', typed('clay'), 'g') },
    ...{ hasShelf: values.hasShelf === 'yes', writesLetters: values.writesLetters === 'yes' },
  };
}

function valuesOf(kind: MembershipKind): Values {
  const { noticeMonths, noticeDays, clayGrams } = kind;
  return {
    ...{ name: kind.name, taxRateId: kind.taxRateId },
    ...{ notice: `${noticeMonths ?? noticeDays}`, unit: noticeMonths === null ? 'days' : 'months' },
    ...{ feeNoticeDays: `${kind.feeNoticeDays}`, pausePercent: kind.pausePercent, hours: `${kind.benchMinutes / 60}` },
    ...{ firingLitres: kind.firingLitres, clayId: kind.clayId ?? '' },
    clay: clayGrams === 0 ? '' : plainQuantity(clayGrams, 'g'),
    ...{ hasShelf: kind.hasShelf ? 'yes' : 'no', writesLetters: kind.writesLetters ? 'yes' : 'no' },
  };
}

import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { further } from '../api/idempotency-key';
import { capital } from '../format/formatter';
import { answered, type Basic, type Context, type FieldSpec, openedFrom, readTyped, type Values } from './basic';
import { lasting, stepOf } from './kiln-labels';

type Schedule = Schemas['Schedule'];
const SEGMENTS_MAX = 50;
const KINDS = [
  ['bisque', 'bisque'],
  ['glaze', 'glaze'],
  ['lustre', 'lustre'],
] as const;
const PARTS = [
  ['rate', 'ratePerHourC', '°C an hour'],
  ['to', 'targetC', 'to °C'],
  ['hold', 'holdMinutes', 'hold, min'],
] as const;

/** The segments that are filled in, by their numbers in the form. */
const segmentsIn = (values: Values) =>
  Array.from({ length: SEGMENTS_MAX }, (_, i) => i).filter(
    (i) => values[`rate${i}`]?.trim() || values[`to${i}`]?.trim(),
  );

function segmentFields(values: Values): FieldSpec[] {
  const filled = segmentsIn(values);
  const next = filled.length < SEGMENTS_MAX ? [(filled.at(-1) ?? -1) + 1] : [];
  return [...filled, ...next].flatMap((i, at) =>
    PARTS.map(([name, field, label]) => ({
      ...{ name: `${name}${i}`, at: `#/segments/${at}/${field}`, label: `Segment ${at + 1}, ${label}`, figures: true },
    })),
  );
}

const bodyOf = (values: Values, context: Context): Schemas['NewScheduleInput'] =>
  readTyped(context, 'NewScheduleInput', (read) => ({
    name: read.text('/name', values.name ?? ''),
    kind: values.kind as Schedule['kind'],
    cone: values.cone?.trim() || null,
    segments: segmentsIn(values).map((i, at) => ({
      ratePerHourC: read.whole(`/segments/${at}/ratePerHourC`, values[`rate${i}`] ?? ''),
      targetC: read.whole(`/segments/${at}/targetC`, values[`to${i}`] ?? ''),
      holdMinutes: read.whole(`/segments/${at}/holdMinutes`, values[`hold${i}`] || '0'),
    })),
  }));
const path = (scheduleId: string) => ({ params: { path: { scheduleId } } });

const CAUTION = 'Follow the kiln’s manual and what the manufacturers of clay and glaze ask for.';
const listSchedules = () =>
  fetchAllPages('which schedules there are', (query) => api.GET('/api/schedules', { params: { query } }));
const columns = (): ReturnType<Basic<Schedule>['columns']> => [
  { head: 'Schedule', cell: ({ name }) => name },
  { head: 'For', cell: ({ kind }) => capital(kind) },
  { head: 'Cone', cell: ({ cone }) => cone ?? '' },
  { head: 'Top', cell: ({ topC }) => `${topC} °C`, figures: true },
  { head: 'Programmed', cell: ({ programmedMinutes }) => lasting(programmedMinutes), figures: true },
  { head: 'Segments', cell: Segments },
];

function Segments({ segments }: Schedule) {
  return (
    <ol class="segments">
      {segments.map((segment, i) => (
        <li key={i}>{stepOf(segment)}</li>
      ))}
    </ol>
  );
}

export const SCHEDULES: Basic<Schedule> = {
  ...{ one: 'firing schedule', many: 'firing schedules', schema: 'NewScheduleInput', caution: CAUTION },
  reach: 'Firings record what they were fired by: once one has begun only its name can change.',
  fields: (values) => [
    { name: 'name', label: 'Name' },
    { name: 'kind', label: 'Kind', choices: KINDS },
    { name: 'cone', label: 'Witness cone', hint: 'The one that should go down. Empty: none.' },
    ...segmentFields(values),
  ],
  usual: () => ({
    ...{ name: '', kind: 'bisque', cone: '', rate0: '60', to0: '120', hold0: '60' },
    ...{ rate1: '100', to1: '600', hold1: '0', rate2: '150', to2: '1000', hold2: '10' },
  }),
  valuesOf: ({ name, kind, cone, segments }) => ({
    ...{ name, kind, cone: cone ?? '' },
    ...Object.fromEntries(
      segments.flatMap(({ ratePerHourC, targetC, holdMinutes }, i) => [
        [`rate${i}`, `${ratePerHourC}`],
        [`to${i}`, `${targetC}`],
        [`hold${i}`, `${holdMinutes}`],
      ]),
    ),
  }),
  add: async (values, headers, context) => ({
    item: answered(await api.POST('/api/schedules', { body: bodyOf(values, context), headers })),
    ids: {},
  }),
  open: async (id) => openedFrom(await api.GET('/api/schedules/{scheduleId}', path(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/schedules/{scheduleId}', { ...path(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/schedules/{scheduleId}/removal', { ...path(id), headers }),
  list: listSchedules,
  columns,
};

/** Usual firings by their tops alone: slow until the water is out and past the change of quartz, faster after it. Common practice. */
const USUAL = {
  bisque: (topC: number) => [
    { ratePerHourC: 60, targetC: 120, holdMinutes: 60 },
    { ratePerHourC: 100, targetC: 600, holdMinutes: 0 },
    { ratePerHourC: 150, targetC: topC, holdMinutes: 10 },
  ],
  glaze: (topC: number) => [
    { ratePerHourC: 100, targetC: 600, holdMinutes: 0 },
    { ratePerHourC: 150, targetC: topC - 100, holdMinutes: 0 },
    { ratePerHourC: 60, targetC: topC, holdMinutes: 10 },
  ],
} as const;
/** Below it the usual segments would not rise. */
const LEAST_TOP_C = 750;

/** The two firings that a new studio needs first, in one form. */
export const FIRST_SCHEDULES: Basic<Schedule> = {
  ...{ one: 'firing schedule', many: 'firing schedules', schema: 'NewScheduleInput', caution: CAUTION },
  fields: () => [
    { name: 'bisque', label: 'Bisque to, °C', figures: true, assumed: 'schedule', of: 0, required: true },
    { name: 'glaze', label: 'Glaze to, °C', figures: true, assumed: 'schedule', of: 1, required: true },
  ],
  usual: () => ({ bisque: '1000', glaze: '1230' }),
  valuesOf: () => ({}),
  add: async (values, headers, context) => {
    const bodies = readTyped(context, 'NewScheduleInput', (read) =>
      (['bisque', 'glaze'] as const).map((kind) => {
        const topC = read.whole(`/${kind}`, values[kind] ?? '');
        if (topC < LEAST_TOP_C) read.wrong(`/${kind}`, `Write ${LEAST_TOP_C} °C or more.`);
        return {
          name: kind === 'bisque' ? `Bisque ${topC}` : `Glaze ${topC}`,
          kind,
          cone: null,
          segments: [...USUAL[kind](topC)],
        };
      }),
    );
    const made: Schedule[] = [];
    for (const [i, body] of bodies.entries())
      made.push(answered(await api.POST('/api/schedules', { body, headers: further(headers, i) })));
    return { item: made[0] as Schedule, ids: { schedule: made.map(({ id }) => id) } };
  },
  list: listSchedules,
  columns,
};

import './ware.css';
import { api, type Schemas } from '../../../api/client';
import { Outline } from '../../../charts/pot';
import { pxOf } from '../../../charts/px-scale';
import { capital, type Formatter } from '../../../format/formatter';
import { formCalled, isGlazed, isGone, type Stage, stageCalled } from '../../../format/piece';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { askedFor, since } from '../labels';

type Piece = Schemas['ListedPiece'];

/** Which ware is here, and where? */
export function WarePage() {
  return (
    <Page question="Ware" searches>
      {(_, at) => <Ware {...at} />}
    </Page>
  );
}

const STAGES: readonly Stage[] = [
  ...(['greenware', 'dry', 'bisque', 'glazed', 'fired', 'ready'] as const),
  ...(['collected', 'givenAway', 'reclaimed', 'broken'] as const),
];
const FORMS: readonly Piece['form'][] = [
  ...(['cylinder', 'mug', 'bowl', 'plate', 'box', 'jar', 'bottle', 'pinchPot', 'tile'] as const),
];

const FILTERS: readonly Filter[] = [
  {
    name: 'which',
    label: 'Which',
    choices: [
      ['', 'Here, longest waiting first'],
      ['newest', 'Here, newest first'],
      ['gone', 'Gone'],
      ['all', 'All'],
    ],
  },
  {
    name: 'stage',
    label: 'Stage',
    choices: [['', 'Any stage'], ...STAGES.map((stage) => [stage, capital(stageCalled(stage))] as const)],
  },
  {
    name: 'form',
    label: 'Form',
    choices: [['', 'Any form'], ...FORMS.map((form) => [form, capital(formCalled(form))] as const)],
  },
];

async function readPieces(asked: ListQuery, after: string | undefined, signal: AbortSignal) {
  const { data } = await api.GET('/api/pieces', { params: { query: { ...askedFor(asked), after } }, signal });
  if (!data) throw new Error('The ware could not be loaded. Load the page again.');
  return data;
}

function Ware({ me, formatter }: At) {
  return (
    <SearchList
      rows={['piece', 'pieces']}
      searchLabel="Code, maker or description"
      filters={FILTERS}
      narrowedBy={{ makerId: 'of one maker' }}
      read={readPieces}
      columns={columnsFor(me.today, formatter)}
      keyOf={({ id }) => id}
      none="No ware is here."
    />
  );
}

const columnsFor = (today: string, formatter: Formatter): Column<Piece>[] => [
  {
    head: 'Piece',
    cell: (piece) => (
      <span class="ware-piece">
        <span class="drawn">
          <Drawn piece={piece} />
        </span>
        <a href={`/ware/${piece.id}`}>{piece.code}</a>
        <span class="description">{piece.description}</span>
      </span>
    ),
  },
  { head: 'Maker', cell: ({ makerId, makerName }) => <a href={`/people/${makerId}`}>{makerName}</a> },
  { head: 'Form', cell: ({ form }) => capital(formCalled(form)), spare: true },
  { head: 'Stage', cell: ({ stage }) => capital(stageCalled(stage)) },
  { head: 'Where', cell: ({ boardName, stage }) => boardName ?? (isGone(stage) ? '' : 'on no board') },
  { head: 'Since', cell: (piece) => since(piece, today, formatter) },
];

/** Small enough for a row, and one scale for all. */
const SCALE = 16;

function Drawn({ piece }: { piece: Piece }) {
  const { widthMm, heightMm, stage } = piece;
  return (
    <svg
      aria-hidden="true"
      width={pxOf(widthMm, SCALE)}
      height={pxOf(heightMm, SCALE)}
      viewBox={`${-widthMm / 2} ${-heightMm} ${widthMm} ${heightMm}`}
    >
      <Outline {...piece} glazed={isGlazed(stage)} late={false} />
    </svg>
  );
}

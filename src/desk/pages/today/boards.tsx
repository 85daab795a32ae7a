import { SendCollectionNotices } from '../../actions/collection-notices';
import { HandOver } from '../../actions/hand-over';
import type { Stage } from '../../actions/list-pieces';
import { NoteWare } from '../../actions/note-ware';
import type { Schemas } from '../../api/client';
import { scaleFor } from '../../charts/px-scale';
import { Board } from '../../charts/ware-board';
import { count, type Formatter, grouped, listed } from '../../format/formatter';
import { pieces as counted } from '../../format/piece';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import { type Today, type Waiting, when } from './labels';

const CALLED: Record<Waiting, string> = {
  drying: 'Drying',
  bisque: 'Waiting for bisque',
  glazing: 'Bisqued, waiting to be glazed',
  glaze: 'Glazed, waiting to fire',
  sorting: 'Fired, to check and sort',
  collection: 'Ready to collect',
};

/** The stage of the ware that waits there. */
const STAGES: Record<Waiting, Stage> = {
  drying: 'greenware',
  bisque: 'dry',
  glazing: 'bisque',
  glaze: 'glazed',
  sorting: 'fired',
  collection: 'ready',
};

type Shown = Today['boards'][number];
type Props = { today: Today; formatter: Formatter; may(right: Schemas['Me']['rights'][number]): boolean };

/** The boards of ware in the order of a pot's life, all to one scale; empty ones are named in a line. */
export function Boards({ today, formatter, may }: Props) {
  const narrow = useNarrow();
  const filled = today.boards.filter(({ inAll }) => inAll > 0);
  const empty = today.boards.filter(({ inAll }) => inAll === 0).map(({ waiting }) => CALLED[waiting].toLowerCase());
  const scale = scaleFor(filled.flatMap(({ pieces }) => pieces));
  return (
    <section aria-labelledby="ware">
      <h2 id="ware">The ware {filled.length > 0 && <span>to scale 1 : {scale}, longest wait first</span>}</h2>
      {filled.map((board) => (
        <Disclosure
          key={board.waiting}
          id={`board-${board.waiting}`}
          open={!narrow || board.lateInAll > 0}
          title={CALLED[board.waiting]}
          note={
            <>
              {note(board, today, formatter)}
              <Late board={board} />
            </>
          }
        >
          <Board pieces={board.pieces} scale={scale} label={CALLED[board.waiting]} />
          {board.inAll > board.pieces.length && (
            <p class="quiet">
              The {board.pieces.length} that wait longest are drawn.{' '}
              <a href={`/ware?stage=${STAGES[board.waiting]}`}>All {counted(board.inAll)}</a>
            </p>
          )}
          <p class="acts">
            {board.waiting === 'collection' && may('ware:write') && (
              <HandOver formatter={formatter} seesMoney={may('money:write')} />
            )}
            {board.waiting === 'collection' &&
              may('money:write') &&
              today.collection.told < today.collection.makers && <SendCollectionNotices formatter={formatter} />}
            {may('ware:write') && <NoteWare stage={STAGES[board.waiting]} called={CALLED[board.waiting]} />}
          </p>
        </Disclosure>
      ))}
      {empty.length > 0 && (
        <p class="quiet">{filled.length === 0 ? 'All boards are empty.' : `Nothing on these: ${listed(empty)}.`}</p>
      )}
    </section>
  );
}

function note({ waiting, inAll, next }: Shown, { collection, day, now }: Today, formatter: Formatter): string {
  const all = counted(inAll);
  if (waiting === 'collection') {
    const { makers, told, longestDays } = collection;
    const whom = `${all} of ${count(makers, 'maker')}, ${toldOf(told, makers)}`;
    return longestDays ? `${whom}, longest wait ${count(longestDays, 'day')}` : whom;
  }
  if (!next) return all;
  const late = next < now ? ' was to be' : '';
  return `${all}, next ${waiting === 'glazing' ? 'chance' : 'firing'}${late} ${when(next, day, formatter)}`;
}

/** Of those whose ware is ready, who knows. */
function toldOf(told: number, makers: number): string {
  if (told === makers) return makers === 1 ? 'who was told' : 'all of them told';
  return told === 0 ? 'not told yet' : `${count(told, 'was', 'were')} told`;
}

function Late({ board }: { board: Shown }) {
  const late = board.lateInAll;
  if (late === 0) return null;
  const overdue = board.waiting === 'collection' ? 'overdue for collection' : 'waiting too long';
  return <span class="iron">{`, ${grouped(late)} ${overdue}`}</span>;
}

import { BillFiring } from '../../actions/bill-firing';
import { KilnSection } from '../../charts/kiln-section';
import { capital, count, type Formatter } from '../../format/formatter';
import { pieces as counted, pieceInWords } from '../../format/piece';
import { Disclosure } from '../../ui/disclosure';
import { useNarrow } from '../../ui/use-narrow';
import { type Firing, firingCalled, since, type Today, when } from './labels';

type Props = { today: Today; formatter: Formatter; mayBill: boolean };

/** The firings at hand, each with its kiln in section and its pieces by layer. */
export function Firings({ today, formatter, mayBill }: Props) {
  const narrow = useNarrow();
  if (today.firings.length === 0) return null;
  const all = today.firings.flatMap(({ cautions }) => cautions);
  const shared = new Set(all.filter((caution, i) => all.indexOf(caution) < i));
  return (
    <Disclosure id="firings" open={!narrow} title="The kilns" note={count(today.firings.length, 'firing')}>
      <Cautions all={[...shared]} />
      {today.firings.map((firing) => (
        <Card key={firing.firingId} {...{ firing, today, formatter, mayBill, shared }} />
      ))}
    </Disclosure>
  );
}

const LABELS: Record<Firing['do'], string> = {
  unload: 'to unload',
  load: 'to load',
  start: 'to start',
  wait: 'is firing or cooling',
  settle: 'to bill',
};

/** @param shared cautions that stand above all the cards, since more than one firing needs them */
function Card({ firing, today, formatter, mayBill, shared }: Props & { firing: Firing; shared: ReadonlySet<string> }) {
  const kiln = today.kilns.find(({ kilnId }) => kilnId === firing.kilnId);
  const called = capital(firingCalled(firing));
  const drawn = firing.do !== 'settle' && firing.pieces > 0;
  return (
    <article class="kiln-card" id={`firing-${firing.number}`}>
      <h3>
        {called}{' '}
        <span>
          {LABELS[firing.do]}
          {drawn && ', in section, to scale'}
        </span>
      </h3>
      {drawn && kiln && <KilnSection kiln={kiln} layers={firing.layers} called={called} />}
      <p>{told(firing, today, formatter)}</p>
      {firing.pieces > 0 && <Layers firing={firing} />}
      {firing.do === 'settle' && mayBill && (
        <p class="acts">
          <BillFiring firingId={firing.firingId} number={firing.number} formatter={formatter} />
        </p>
      )}
      <Cautions all={firing.cautions.filter((caution) => !shared.has(caution))} />
    </article>
  );
}

/** In which kiln, by which schedule, how full, and from when until when. */
function told(
  { kiln, schedule, pieces, fillPercent, from, to, coldSince, ...firing }: Firing,
  { day, now }: Today,
  formatter: Formatter,
): string {
  const fill = fillPercent === null ? '' : `, ${Math.round(Number(fillPercent))}% full`;
  const load = pieces === 0 ? 'nothing in it yet' : `${counted(pieces)}${fill}`;
  const starts = (at: string) => `${at < now ? 'Was to start' : 'Starts'} ${when(at, day, formatter)}`;
  const times = {
    load: starts(from),
    start: starts(from),
    wait: `Can be unloaded ${when(to, day, formatter)}`,
    unload: coldSince
      ? `Should be cold ${since(coldSince, day, formatter)}`
      : `Planned to be unloaded ${when(to, day, formatter)}`,
    settle: `Unloaded ${when(to, day, formatter)}; its fees are not billed yet`,
  }[firing.do];
  return `${kiln}, ${schedule}: ${load}. ${times}.`;
}

function Layers({ firing: { layers, pieces } }: { firing: Firing }) {
  return (
    <details>
      <summary>{capital(counted(pieces))} by layer</summary>
      {[...layers]
        .sort((a, b) => b.layer - a.layer)
        .map(({ layer, pieces: own }) => (
          <div key={layer} class="layer">
            <h4>
              Layer {layer} <span>{counted(own.length)}</span>
            </h4>
            <ul>
              {own.map((piece) => (
                <li key={piece.pieceId}>
                  <a href={`/ware/${piece.pieceId}`}>{pieceInWords(piece)}</a>
                </li>
              ))}
            </ul>
          </div>
        ))}
    </details>
  );
}

function Cautions({ all }: { all: Firing['cautions'] }) {
  if (all.length === 0) return null;
  return (
    <ul class="caution" aria-label="What to mind">
      {all.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}

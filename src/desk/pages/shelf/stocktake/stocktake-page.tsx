import './stocktake.css';
import { useState } from 'preact/hooks';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';
import { Row } from './count-row';
import { Differences } from './differences';
import { KINDS, type Material } from './labels';
import { readShelf, type Told } from './queries';
import { type Kept, keep, loadUnsavedCounts } from './unsaved-counts';

/** Count the shelf Counted on a phone, one material after the other. */
export function StocktakePage() {
  return (
    <Page question="Count the shelf" tabs={(me) => <ShelfTabs me={me} />} read={readShelf}>
      {(told, at) => (
        <>
          <Counting told={told} at={at} />
        </>
      )}
    </Page>
  );
}

function Counting({ told: { materials, values }, at: { me, formatter } }: { told: Told; at: At }) {
  const [kept, setKept] = useState(() => loadUnsavedCounts(me.today));
  const change = (next: (before: Kept) => Kept) =>
    setKept((before) => {
      const after = next(before);
      keep(me.today, after);
      return after;
    });
  // those that asked when the page was opened stay where they are while somebody counts from top to bottom
  const [asking] = useState(() => new Set(materials.filter((m) => m.asksForCount).map(({ id }) => id)));
  const done = materials.filter(({ id }) => kept.done[id]).length;
  return (
    <>
      <p class="answer no-paper" role="status">
        {materials.length === 0 ? (
          'No material is entered yet.'
        ) : (
          <>
            <b>
              {done} of {materials.length}
            </b>{' '}
            counted today on this device.
          </>
        )}
      </p>
      <p class="no-paper">
        What the books say is shown once you have counted. Each count is kept as soon as it is entered.
      </p>
      <Differences materials={materials} done={kept.done} values={values} formatter={formatter} />
      {shelves(materials, asking).map(({ called, items }) => (
        <section key={called} class="count">
          <h2>{called}</h2>
          <ul>
            {items.map((material) => (
              <Row
                key={material.id}
                material={material}
                done={kept.done[material.id]}
                typed={kept.typed[material.id] ?? ''}
                formatter={formatter}
                onTyped={(text) => change((k) => ({ ...k, typed: { ...k.typed, [material.id]: text } }))}
                onDone={(count) =>
                  change((k) => ({
                    ...{ typed: { ...k.typed, [material.id]: '' }, done: { ...k.done, [material.id]: count } },
                  }))
                }
              />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

/** Those that ask for a count first, then by kind, each by name. */
function shelves(materials: Material[], asking: ReadonlySet<string>): { called: string; items: Material[] }[] {
  const byName = [...materials].sort((a, b) => a.name.localeCompare(b.name));
  const groups = [
    { called: 'Count these first: more was used than was recorded', items: byName.filter(({ id }) => asking.has(id)) },
    ...(Object.keys(KINDS) as Material['kind'][]).map((kind) => ({
      ...{ called: KINDS[kind], items: byName.filter((m) => m.kind === kind && !asking.has(m.id)) },
    })),
  ];
  return groups.filter(({ items }) => items.length > 0);
}

import { useEffect, useRef } from 'preact/hooks';
import { Refused } from '../client';
import { Fault } from '../entry/field';
import type { Fault as FieldFault } from './body';
import { idOf } from './entries';
import { placeOf, plainly } from './labels';

/** What came in the way, with a link to each field that is concerned: they may be far above. */
export function Refusal({ because, faults }: { because: string; faults: FieldFault[] }) {
  const here = useRef<HTMLDivElement>(null);
  useEffect(() => here.current?.scrollIntoView({ block: 'nearest' }), [because, faults]);
  const said = faults.filter(({ detail }) => detail !== because);
  const go = (event: MouseEvent, pointer: string) => {
    event.preventDefault();
    for (let at = pointer; at.includes('/'); at = at.slice(0, at.lastIndexOf('/'))) {
      const control = document.getElementById(idOf(at));
      if (control) return control.focus(); // a fault of a line as a whole is shown at its list
    }
  };
  return (
    <div ref={here}>
      <Fault>
        {because} What you typed is still here.
        {said.map(({ pointer, detail }) => (
          <span class="row" key={pointer}>
            <a href={`#${idOf(pointer)}`} onClick={(event) => go(event, pointer)}>
              {placeOf(pointer)}
            </a>
            : {detail}
          </span>
        ))}
      </Fault>
    </div>
  );
}

/** What the API refused, field by field; nothing where it was no fault of a field. */
export const faultsIn = (error: unknown): FieldFault[] =>
  error instanceof Refused ? error.faults.map(({ pointer, detail }) => ({ pointer, detail: plainly(detail) })) : [];

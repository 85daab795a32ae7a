import { useContext, useEffect, useRef } from 'preact/hooks';
import { ErrorMessage } from './error-message';
import { idOf, Scope } from './field';
import type { FieldFault } from './parse';

type Props = { error: string; faults: FieldFault[]; labelOf(pointer: string): string };

/** What came in the way, with a link to each field that is concerned: they may be far above. */
export function FormErrors({ error, faults, labelOf }: Props) {
  const here = useRef<HTMLDivElement>(null);
  const scope = useContext(Scope);
  useEffect(() => here.current?.scrollIntoView({ block: 'nearest' }), [error, faults]);
  const said = faults.filter(({ detail }) => detail !== error);
  const go = (event: MouseEvent, pointer: string) => {
    event.preventDefault();
    for (let at = pointer; at.includes('/'); at = at.slice(0, at.lastIndexOf('/'))) {
      const control = document.getElementById(idOf(at, scope));
      if (control) return control.focus(); // a fault of a line as a whole is shown at its list
    }
  };
  return (
    <div ref={here}>
      <ErrorMessage>
        {error} What you typed is still here.
        {said.map(({ pointer, detail }) => (
          <span class="row" key={pointer}>
            <a href={`#${idOf(pointer, scope)}`} onClick={(event) => go(event, pointer)}>
              {labelOf(pointer)}
            </a>
            : {detail}
          </span>
        ))}
      </ErrorMessage>
    </div>
  );
}

import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';

type Props = {
  title: string;
  /** what can be said in few words without opening it */
  note?: ComponentChildren;
  /** where a link of the page's sentence leads */
  id?: string | undefined;
  /** open from the start */
  open?: boolean;
  /** what is inside is only made once it is opened: for what asks the API */
  late?: boolean;
  children: ComponentChildren;
};

/** A part of a page that is opened when somebody wants to see it. A browser opens it for a link to what is inside, so the id is there. */
export function Disclosure({ title, note, id, open = false, late = false, children }: Props) {
  const name = useId();
  const [opened, setOpened] = useState(open);
  return (
    <details class="disclosure" open={open} aria-labelledby={name} onToggle={() => setOpened(true)}>
      <summary>
        <h2 id={name}>
          {title} {note && <span>{note}</span>}
        </h2>
      </summary>
      <div id={id} class="disclosed">
        {(opened || !late) && children}
      </div>
    </details>
  );
}

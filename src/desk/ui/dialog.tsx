import './styles/dialog.css';
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';

type Props = { title: string; onClose(): void; children: ComponentChildren };

/** One thing to answer, over the page. The browser keeps the focus inside, closes it on Escape, and gives the focus back. */
function Dialog({ title, onClose, children }: Props) {
  const here = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => here.current?.showModal(), []);
  return (
    <dialog ref={here} aria-labelledby={id} onClose={onClose}>
      <header>
        <h2 id={id}>{title}</h2>
        <button type="button" class="quiet" onClick={() => here.current?.close()}>
          Close
        </button>
      </header>
      {children}
    </dialog>
  );
}

type ButtonProps = {
  label: string;
  /** what it is about, where several buttons on the page are called alike */
  about?: string;
  /** the dialog's heading; the label where that says it */
  title?: string;
  children(close: () => void): ComponentChildren;
};

/** A button that opens a dialog; what is inside is only made then. */
export function DialogButton({ label, about, title = label, children }: ButtonProps) {
  const [open, setOpen] = useState(false);
  const close = () => setOpen(false);
  return (
    <>
      <button
        type="button"
        class="quiet no-paper"
        aria-haspopup="dialog"
        aria-label={about && `${label} ${about}`}
        onClick={() => setOpen(true)}
      >
        {label}
      </button>
      {open && (
        <Dialog title={title} onClose={close}>
          {children(close)}
        </Dialog>
      )}
    </>
  );
}

import '../ui/styles/raised.css';
import type { ComponentChildren } from 'preact';
import { useCallback, useEffect, useId, useRef, useState } from 'preact/hooks';
import { useOpened, useQuery } from '../api/query';
import { capital } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { DataTable } from '../ui/data-table';
import type { At } from '../ui/page';
import type { Basic, Context, Opened } from './basic';
import { BasicForm } from './basic-form';
import { BasicRemoval } from './basic-removal';

type Props<T> = Pick<At, 'me' | 'formatter'> & {
  basic: Basic<T>;
  /** the heading, where several lists share a page */
  heading?: string;
  mayChange: boolean;
  /** what is said below the list */
  children?: ComponentChildren;
};
type Named = { id: string; name: string };

/** All of one kind; a page that asks as well asks once. */
export const useBasics = <T,>(basic: Basic<T>) => useQuery({ key: ['basic', basic.many], read: basic.list });

/** What there is of one kind, with the form that adds one or changes one. An address that ends in ?change= and an id opens its form. */
export function BasicList<T extends Named>({ basic, heading, mayChange, me, formatter, children }: Props<T>) {
  const { data: items, error } = useBasics(basic);
  const { shown, said, show, done, gone, cancel, saidHere, idOf } = useShownForm();
  const context = { formatter, today: me.today };
  useEffect(() => {
    const asked = new URLSearchParams(location.search).get('change');
    if (mayChange && basic.open && asked && items?.some(({ id }) => id === asked)) show({ id: asked });
  }, [items !== undefined]);
  // not while a form is open, which another would take the place of, and what is typed with it
  const change = mayChange &&
    !shown &&
    basic.open && {
      ...{ head: '', figures: true },
      cell: ({ id, name }: T) => (
        <button type="button" class="quiet" id={idOf(id)} onClick={() => show({ id })} aria-label={`Change ${name}`}>
          Change
        </button>
      ),
    };
  const columns = [...basic.columns(context), ...(change ? [change] : [])];
  return (
    <section aria-busy={!items && !error}>
      {heading && <h2>{heading}</h2>}
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={saidHere}>
          {said}
        </p>
      )}
      {error && <ErrorMessage>{error.message}</ErrorMessage>}
      {items?.length === 0 && <p>No {basic.many} yet.</p>}
      {items && items.length > 0 && (
        <>
          <DataTable caption={capital(basic.many)} columns={columns} rows={items} keyOf={({ id }) => id} />
          {children}
        </>
      )}
      {mayChange && items && shown && (
        <Shown
          key={shown.id ?? NEW}
          {...{ basic, context, onDone: done, onRemoved: gone, onCancel: cancel }}
          id={shown.id}
          level={heading ? 'h3' : 'h2'}
        />
      )}
      {mayChange && items && !shown && (
        // among several lists none is what the page is for
        <button type="button" class={heading && 'quiet'} id={idOf(NEW)} onClick={() => show({})}>
          Add {article(basic.one)} {basic.one}
        </button>
      )}
    </section>
  );
}

const NEW = 'new';

/** Which form is open, and where the keyboard goes once it is closed: to what is said of it, or to the button that opened it. */
function useShownForm() {
  const [shown, setShown] = useState<{ id?: string } | null>(null);
  const [said, setSaid] = useState('');
  const [left, setLeft] = useState<string>();
  const own = useId();
  const saidHere = useRef<HTMLParagraphElement>(null);
  const idOf = (id: string) => `${own}-${id}`;
  useEffect(() => {
    if (said) saidHere.current?.focus(); // the button that was pressed is gone
  }, [said]);
  useEffect(() => {
    if (left) document.getElementById(idOf(left))?.focus(); // the form that was left is gone
  }, [left]);
  const show = (what: { id?: string }) => {
    setSaid('');
    setLeft(undefined);
    setShown(what);
  };
  const done = (sentence: string) => {
    setShown(null);
    setSaid(sentence);
  };
  const cancel = () => {
    setShown(null);
    setLeft(shown?.id ?? NEW);
  };
  /** Its own button is gone with it. */
  const gone = () => {
    setShown(null);
    setLeft(NEW);
  };
  return { shown, said, show, done, gone, cancel, saidHere, idOf };
}

type FormProps<T> = {
  basic: Basic<T>;
  context: Context;
  level: 'h2' | 'h3';
  onDone(sentence: string): void;
  onRemoved(): void;
  onCancel(): void;
};

function Shown<T extends Named>({ id, ...props }: FormProps<T> & { id: string | undefined }) {
  return id === undefined ? <OneBasic {...props} opened={undefined} /> : <OpenedBasic {...props} id={id} />;
}

/** It is read as it is now: the list may have been read a while ago. */
function OpenedBasic<T extends Named>({ id, ...props }: FormProps<T> & { id: string }) {
  const { basic, onCancel } = props;
  const read = useCallback(async () => {
    if (!basic.open) throw new Error(`This ${basic.one} can’t be changed.`);
    return basic.open(id);
  }, [basic, id]);
  const { opened, error } = useOpened({ key: ['basic', basic.many, id], read });
  if (opened) return <OneBasic {...props} opened={opened} />;
  if (!error) return <p aria-busy="true">Opening the {basic.one}.</p>;
  return (
    <>
      <ErrorMessage>{error.message}</ErrorMessage>
      <button type="button" class="quiet" onClick={onCancel}>
        Cancel
      </button>
    </>
  );
}

/** The form of one, new or opened, and the way to remove what was opened. */
function OneBasic<T extends Named>({
  basic,
  context,
  level: Title,
  opened,
  onDone,
  onRemoved,
  onCancel,
}: FormProps<T> & { opened: Opened<T> | undefined }) {
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    title.current?.focus(); // below the list, which may be long
    title.current?.scrollIntoView({ block: 'nearest' });
  }, []);
  return (
    <div class="raised">
      <Title tabIndex={-1} ref={title}>
        {opened ? `Change ${opened.item.name}` : `Add ${article(basic.one)} ${basic.one}`}
      </Title>
      <BasicForm
        {...{ basic, context, onCancel }}
        {...(opened && { opened })}
        save={opened ? 'Save' : `Add ${basic.one}`}
        onSaved={({ name }) => onDone(`“${name}” is saved.`)}
      />
      {opened && basic.remove && <BasicRemoval {...{ basic, context, onRemoved }} item={opened.item} />}
    </div>
  );
}

const article = (noun: string) => (/^[aeio]/i.test(noun) ? 'an' : 'a');

import '../ui/styles/raised.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { useQuery } from '../api/query';
import { useMutation } from '../api/use-mutation';
import { capital } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { DataTable } from '../ui/data-table';
import type { At } from '../ui/page';
import type { Basic, Opened } from './basic';
import { BasicForm } from './basic-form';

type Props<T> = Pick<At, 'me' | 'formatter'> & {
  basic: Basic<T>;
  /** the heading, where several lists share a page */
  heading?: string;
  mayChange: boolean;
};
type Named = { id: string; name: string };

/** What there is of one kind, with the form that adds one or changes one. */
export function BasicList<T extends Named>({ basic, heading, mayChange, me, formatter }: Props<T>) {
  const { data: items, error, refetch } = useQuery({ key: ['basic', basic.many], read: basic.list });
  const [shown, setShown] = useState<{ opened?: Opened<T> } | null>(null);
  const [said, setSaid] = useState('');
  const here = useRef<HTMLParagraphElement>(null);
  const opening = useMutation();
  const context = { formatter, today: me.today };
  useEffect(() => {
    if (said) here.current?.focus(); // the button that was pressed is gone
  }, [said]);
  const open = (id: string) => opening.run(id, async () => setShown({ opened: (await basic.open?.(id)) as Opened<T> }));
  const saved = async ({ name }: T) => {
    await refetch();
    setShown(null);
    setSaid(`“${name}” is saved.`);
  };
  const change = mayChange &&
    basic.open && {
      head: '',
      cell: ({ id, name }: T) => (
        <button type="button" class="quiet" onClick={() => open(id)} aria-label={`Change ${name}`}>
          Change
        </button>
      ),
    };
  const columns = [...basic.columns(context), ...(change ? [change] : [])];
  const Title = heading ? 'h3' : 'h2';
  const failed = error?.message ?? opening.error;
  return (
    <section aria-busy={!items && !error}>
      {heading && <h2>{heading}</h2>}
      {said && (
        <p class="done" role="status" tabIndex={-1} ref={here}>
          {said}
        </p>
      )}
      {failed && <ErrorMessage>{failed}</ErrorMessage>}
      {items?.length === 0 && <p>No {basic.many} yet.</p>}
      {items && items.length > 0 && (
        <DataTable caption={capital(basic.many)} columns={columns} rows={items} keyOf={({ id }) => id} />
      )}
      {mayChange && items && shown && (
        <div class="raised">
          <Title>{shown.opened ? `Change ${shown.opened.item.name}` : `Add ${article(basic.one)} ${basic.one}`}</Title>
          <BasicForm
            key={shown.opened?.item.id ?? 'new'}
            {...{ basic, context }}
            {...(shown.opened && { opened: shown.opened })}
            save={shown.opened ? 'Save' : `Add ${basic.one}`}
            onSaved={saved}
            onCancel={() => setShown(null)}
          />
        </div>
      )}
      {mayChange && items && !shown && (
        <button type="button" onClick={() => setShown({})}>
          Add {article(basic.one)} {basic.one}
        </button>
      )}
    </section>
  );
}

const article = (noun: string) => (/^[aeio]/i.test(noun) ? 'an' : 'a');

import { useMemo, useState } from 'preact/hooks';
import { groupBy } from '../../trade/maths/group-by.js';
import { api } from '../api/client';
import { useQuery } from '../api/query';
import { useMutation } from '../api/use-mutation';
import { count, type Formatter } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { toast } from '../ui/toast';
import { type ListedPiece, listPiecesAt } from './list-pieces';
import type { Debtor } from './payment/charge-totals';
import { PickPieces } from './pick-pieces';
import { Payment, useDebtor } from './take-payment';

type Props = { formatter: Formatter; seesMoney: boolean };

/** Hands ware to its maker who came for it, and takes what they owe. */
export function HandOver(props: Props) {
  return <DialogButton label="Hand over ware">{(close) => <Ready {...props} onClose={close} />}</DialogButton>;
}

const listReady = () => listPiecesAt('ready');

function Ready({ formatter, seesMoney, onClose }: Props & { onClose(): void }) {
  const query = useQuery({ key: ['pieces ready'], read: listReady, fresh: true });
  const [paying, setPaying] = useState<Payer | null>(null);
  if (paying) return <Payment person={paying} {...{ formatter, onClose }} />;
  return (
    <LookedUp what="what is ready" query={query}>
      {(ready) => <Makers {...{ ready, formatter, seesMoney, onClose }} onPay={setPaying} />}
    </LookedUp>
  );
}

type Payer = { personId: string; name: string };
type MakersProps = Props & { ready: readonly ListedPiece[]; onClose(): void; onPay(maker: Payer): void };

function Makers({ ready, ...rest }: MakersProps) {
  const [makerId, setMakerId] = useState('');
  const byMaker = useMemo(
    () => [...groupBy(ready, (piece) => piece.makerId)].sort(([, [a]], [, [b]]) => nameOf(a).localeCompare(nameOf(b))),
    [ready],
  );
  if (ready.length === 0) return <p>Nothing is ready to collect.</p>;
  const own = byMaker.find(([id]) => id === makerId)?.[1] ?? [];
  const makers = byMaker.map(([id, pieces]) => [id, `${nameOf(pieces[0])}, ${count(pieces.length, 'piece')}`] as const);
  return (
    <>
      <Field label="Whose" choices={[['', 'Choose a maker'], ...makers]} value={makerId} onChange={setMakerId} />
      {own.length > 0 && <Ware key={makerId} {...{ own, ...rest }} />}
    </>
  );
}

function forFiring({ owedMinor, firingOwedMinor }: Debtor, { moneyInText }: Formatter): string {
  if (firingOwedMinor === 0) return '';
  return firingOwedMinor === owedMinor ? ' for firing' : `, ${moneyInText(firingOwedMinor)} of it for firing`;
}

const nameOf = (piece: ListedPiece | undefined) => piece?.makerName ?? '';

type WareProps = Omit<MakersProps, 'ready'> & { own: readonly ListedPiece[] };

function Ware({ own, formatter, seesMoney, onClose, onPay }: WareProps) {
  const { makerId, makerName } = own[0] as ListedPiece;
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set(own.map(({ id }) => id)));
  const { data: debtor } = useDebtor(seesMoney ? makerId : '');
  const mutation = useMutation();
  const owed = debtor?.owedMinor ?? 0;
  const pieceIds = [...picked];
  const pay = () => onPay({ personId: makerId, name: makerName });
  const handOver = async (next: () => void) => {
    const body = { pieceIds, stage: 'collected' as const, note: '' };
    const done = await mutation.run(body, (headers) => api.POST('/api/pieces/stage', { body, headers }));
    if (!done) return;
    toast(
      <span>
        {count(pieceIds.length, 'piece')} handed over to {makerName}.
      </span>,
    );
    next();
  };
  const what = `Hand over ${pieceIds.length === 1 ? '1 piece' : `${pieceIds.length} pieces`}`;
  return (
    <>
      <PickPieces legend="Which pieces" pieces={own} {...{ picked }} onPick={setPicked} />
      {owed > 0 && (
        <p class="iron">
          {makerName} owes {formatter.moneyInText(owed)}
          {debtor && forFiring(debtor, formatter)}.
        </p>
      )}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button
          type="button"
          aria-disabled={mutation.busy || pieceIds.length === 0}
          onClick={() => pieceIds.length > 0 && handOver(owed > 0 ? pay : onClose)}
        >
          {owed > 0 ? `${what}, then take payment` : what}
        </button>
        {owed > 0 && (
          <button type="button" class="quiet" onClick={() => pieceIds.length > 0 && handOver(onClose)}>
            {what} without payment
          </button>
        )}
      </p>
    </>
  );
}

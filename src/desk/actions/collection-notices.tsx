import { api, type Schemas } from '../api/client';
import { count, type Formatter, listed } from '../format/formatter';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';

type Announced = { items: Schemas['Announced'][] };

/** Tells makers that their ware is ready; one maker, or all who were not told of all of it. */
export function SendCollectionNotices({ formatter }: { formatter: Formatter }) {
  return (
    <DialogButton label="Send collection notices">
      {(close) => (
        <PreviewedAction<Record<string, never>, Announced>
          name="collection-notices"
          wish={{}}
          ask={(body, signal) => api.POST('/api/collection-notices/preview', { body, signal })}
          send={(body, headers) => api.POST('/api/collection-notices', { body, headers })}
          save={({ letters }) => (letters.length === 0 ? null : `Send ${count(letters.length, 'notice')}`)}
          onDone={(done) => {
            close();
            toast(<Sent {...done} />);
          }}
          onCancel={close}
        >
          {({ items }) => <p>{told(items, formatter)}</p>}
        </PreviewedAction>
      )}
    </DialogButton>
  );
}

function told(items: Announced['items'], { moneyInText }: Formatter): string {
  if (items.length === 0) return 'Everybody whose ware is ready has been told of all of it.';
  const pieces = items.reduce((sum, { pieceIds }) => sum + pieceIds.length, 0);
  const owed = items.reduce((sum, { owedMinor }) => sum + owedMinor, 0);
  const asks = owed > 0 ? `, and asked for the ${moneyInText(owed)} that they owe` : '';
  return `${listed(items.map(({ personName }) => personName))} will be told that ${count(pieces, 'piece')} ${pieces === 1 ? 'is' : 'are'} ready${asks}.`;
}

/** Each notice is a paper too, for whom no email reaches. */
function Sent({ items }: Announced) {
  return (
    <>
      <span>{count(items.length, 'collection notice')} sent. To print:</span>
      {items.map(({ documentId, personName }) => (
        <a key={documentId} href={`/api/documents/${documentId}/pdf`} target="_blank" rel="noopener">
          {personName}
        </a>
      ))}
    </>
  );
}

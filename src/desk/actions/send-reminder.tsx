import { api, type Schemas } from '../api/client';
import type { Formatter } from '../format/formatter';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';

type Props = { personId: string; name: string; formatter: Formatter };

/** Reminds one person of what is due, with the letter seen first. */
export function SendReminder({ personId, name, formatter: { money } }: Props) {
  const params = { path: { personId } };
  return (
    <DialogButton label="Remind" about={name} title={`Remind ${name}`}>
      {(close) => (
        <PreviewedAction<Record<string, never>, Schemas['Reminder']>
          name={`remind ${personId}`}
          wish={{}}
          ask={(_, signal) => api.POST('/api/people/{personId}/reminders/preview', { params, signal })}
          send={(_, headers) => api.POST('/api/people/{personId}/reminders', { params, headers })}
          save={() => 'Send reminder'}
          onDone={({ dueMinor, noticeId, hasEmail }) => {
            close();
            toast(
              <>
                <span>
                  {name} is reminded of {money(dueMinor)}.
                </span>
                {!hasEmail && <a href={`/letters/${noticeId}`}>Print the letter</a>}
              </>,
            );
          }}
          onCancel={close}
        >
          {({ dueMinor }) => <p>{money(dueMinor)} is due.</p>}
        </PreviewedAction>
      )}
    </DialogButton>
  );
}
